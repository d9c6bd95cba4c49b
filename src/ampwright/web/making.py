"""Documents of one revision, made from its full answer."""

from __future__ import annotations

from ampwright.documents.pack.publish import check_names, pack_of
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.words.words import load_words
from ampwright.sizing.result import Answer
from ampwright.web.models import Revision
from ampwright.web.reading import loaded_of

__all__ = ["document_files", "pack_files"]


def pack_files(answer: Answer, revision: Revision) -> tuple[PackFile, ...]:
    """Return every file of the pack."""
    return _files(answer, revision, ())


def document_files(answer: Answer, revision: Revision, name: str) -> tuple[PackFile, ...]:
    """Return the files of one document, without the list of contents."""
    check_names((name,))
    return _files(answer, revision, (name,))[:-1]


def _files(answer: Answer, revision: Revision, only: tuple[str, ...]) -> tuple[PackFile, ...]:
    loaded = loaded_of(revision.text, job_id=revision.job_id)
    words = load_words(answer.assessment.design.job.job.language)
    return pack_of(Material(answer=answer, catalogue=loaded.catalogue, words=words), only=only).files

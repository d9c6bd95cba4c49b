"""Documents of one revision, made from its full answer."""

from __future__ import annotations

from ampwright.documents.pack.publish import check_names, pack_of
from ampwright.documents.pack.records import Material, Pack, PackFile
from ampwright.documents.words.words import load_words
from ampwright.sizing.result import Answer
from ampwright.web.models import Revision
from ampwright.web.reading import loaded_of

__all__ = ["document_files", "document_pack", "pack_files"]


def pack_files(answer: Answer, revision: Revision) -> tuple[PackFile, ...]:
    """Return every file of the pack."""
    return _pack(answer, revision, ()).files


def document_files(answer: Answer, revision: Revision, name: str) -> tuple[PackFile, ...]:
    """Return the files of one document, without the list of contents."""
    return document_pack(answer, revision, name).files[:-1]


def document_pack(answer: Answer, revision: Revision, name: str) -> Pack:
    """Return the pack of one document: its files, the list of contents, or why it was left out."""
    check_names((name,))
    return _pack(answer, revision, (name,))


def _pack(answer: Answer, revision: Revision, only: tuple[str, ...]) -> Pack:
    loaded = loaded_of(revision.text, job_id=revision.job_id)
    words = load_words(answer.assessment.design.job.job.language)
    return pack_of(Material(answer=answer, catalogue=loaded.catalogue, words=words), only=only)

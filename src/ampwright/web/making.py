"""Documents of one revision, made from its full answer."""

from __future__ import annotations

from ampwright.documents.pack.publish import check_names
from ampwright.documents.pack.records import Pack, PackFile
from ampwright.sizing.result import Answer
from ampwright.web.answers import task_of
from ampwright.web.app import the_desk
from ampwright.web.models import Revision

__all__ = ["document_files", "document_pack", "pack_files"]


def pack_files(answer: Answer, revision: Revision) -> tuple[PackFile, ...]:
    """Return every file of the pack."""
    return the_desk().pack(task_of(revision), answer).files


def document_files(answer: Answer, revision: Revision, name: str) -> tuple[PackFile, ...]:
    """Return the files of one document, without the list of contents."""
    return document_pack(answer, revision, name).files[:-1]


def document_pack(answer: Answer, revision: Revision, name: str) -> Pack:
    """Return the pack of one document: its files, the list of contents, or why it was left out."""
    check_names((name,))
    return the_desk().pack(task_of(revision), answer, (name,))

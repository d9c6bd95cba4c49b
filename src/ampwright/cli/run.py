"""What several commands share: run a check with a progress bar, write the report, choose the exit code."""

from __future__ import annotations

import datetime as dt
import gc
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from ampwright import api
from ampwright.assessment.result import UseVerdict, WiringVerdict
from ampwright.cli.language import LanguageName
from ampwright.cli.quick_start import skip_unused_algebra
from ampwright.cli.refuse import refusing
from ampwright.cli.workshop import workshop_in
from ampwright.errors import FileError
from ampwright.sizing.result import Answer
from ampwright.toml_positions import toml_tables

if TYPE_CHECKING:
    from ampwright.assessment.result import Assessment
    from ampwright.atlas.records import Row
    from ampwright.documents.comparison.records import Comparison
    from ampwright.documents.pack.records import Pack
    from ampwright.documents.words.words import Language, Words

__all__ = [
    "atlas_made",
    "can_be_report",
    "checked",
    "code_of",
    "compared",
    "document_written",
    "exit_code",
    "needs_report",
    "new_file",
    "published",
    "substituted",
    "today",
    "words_for",
    "write_file",
    "written",
]

PATIENCE_S = 1.0
"""A check that takes longer than this shows a progress bar."""


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None] | None]:
    """Yield a listener whose bar appears on a terminal once the work takes long; None elsewhere."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console  # noqa: PLC0415 - only on a terminal
    from rich.progress import Progress  # noqa: PLC0415 - only on a terminal

    bar = Progress(console=Console(stderr=True), transient=True)
    task = bar.add_task("Checking (the first time also compiling)", total=None)
    timer = threading.Timer(PATIENCE_S, bar.start)
    timer.daemon = True
    timer.start()

    def listen(done: int, total: int) -> None:
        bar.update(task, completed=done, total=total, description="Checking")

    try:
        yield listen
    finally:
        timer.cancel()
        bar.stop()


def checked(job: Path, *, workshop: Path | None = None) -> Answer:
    """Return the answer for a job file, or leave with exit code 2."""
    skip_unused_algebra()
    with refusing(), _progress() as listen:
        return api.check(job, on=today(), progress=listen, workshop=workshop_in(workshop))


def compared(before: Path, after: Path, *, workshop: Path | None = None) -> Comparison:
    """Return what differs between two job files, or leave with exit code 2."""
    skip_unused_algebra()
    with refusing(), _progress() as listen:
        return api.compare(before, after, on=today(), progress=listen, workshop=workshop_in(workshop))


def atlas_made(
    jobs: tuple[Path, ...],
    folder: Path,
    *,
    where: tuple[str, str],
    worker_count: int,
    cluster: str,
    workshop: Path | None = None,
) -> tuple[tuple[Row, ...], int]:
    """Return the rows of an atlas and how many files were made now, or leave with exit code 2.

    Parameters
    ----------
    where : places and months as typed
    """
    from ampwright.atlas.plan import planned_chunks  # noqa: PLC0415 - heavy
    from ampwright.atlas.run import run_atlas  # noqa: PLC0415 - heavy
    from ampwright.atlas.store import read_rows  # noqa: PLC0415 - heavy

    gc.enable()  # hundreds of checks in one process
    skip_unused_algebra()
    with refusing(), _progress() as listen:
        chunks = planned_chunks(jobs, sites=where[0], months=where[1], workshop=workshop)
        made_count = run_atlas(chunks, folder, worker_count=worker_count, cluster=cluster, progress=listen)
        return read_rows(folder), made_count


def substituted(
    job: Path, parts: tuple[str, str], *, to: Path | None, workshop: Path | None = None
) -> Comparison:
    """Return what changes with one part put for another, the job written where asked, or leave with exit code 2."""
    skip_unused_algebra()
    with refusing(), _progress() as listen:
        found, text = api.substitute(job, parts, on=today(), progress=listen, workshop=workshop_in(workshop))
        if to is not None:
            api.write_beside(job, toml_tables(text, job), to, text)
    return found


def published(
    job: Path,
    folder: Path,
    *,
    only: tuple[str, ...],
    language: LanguageName | None,
    workshop: Path | None = None,
) -> Pack:
    """Return the documents of a job, written into a folder, or leave with exit code 2."""
    from ampwright.documents.pack.publish import write_pack  # noqa: PLC0415 - heavy

    skip_unused_algebra()
    with refusing(), _progress() as listen:
        pack = api.publish(
            job,
            on=today(),
            only=only,
            language=_code(language),
            progress=listen,
            workshop=workshop_in(workshop),
        )
        write_pack(pack, folder)
    return pack


def today() -> dt.date:
    """Return the day by the clock of this machine; overrides are held against it."""
    return dt.datetime.now().astimezone().date()


def can_be_report(target: Path) -> None:
    """Leave with exit code 2, before anything is calculated, where no PDF file can be written."""
    _can_be(target, ".pdf", "a PDF file")


def can_be_page(target: Path) -> None:
    """Leave with exit code 2 where no HTML file can be written; one slip would else replace a job by its page."""
    _can_be(target, ".html", "an HTML file")


def _can_be(target: Path, ending: str, what: str) -> None:
    with refusing():
        if target.suffix.lower() != ending:
            raise FileError(f"{target}: {what} is written; give a name that ends in {ending}")
        if not target.parent.is_dir():
            raise FileError(f"{target}: there is no folder {target.parent}; make it first, or choose another")


def new_file(target: Path, make: Callable[[], str]) -> None:
    """Write what is made to a new file.

    Raises
    ------
    FileError
        Before anything is made where there is such a file, or where it cannot be written.
    """
    try:
        stream = target.open("x", encoding="utf-8", newline="\n")
    except FileExistsError:
        raise FileError(f"{target} exists already; choose another name") from None
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{target}: cannot be written ({reason}); choose another place") from error
    try:
        with stream:
            stream.write(make())
    except BaseException:
        target.unlink(missing_ok=True)
        raise


def needs_report(report: Path | None, *, with_curves: bool) -> None:
    """Leave with exit code 2 where charts are asked for that have no report to be appended to."""
    with refusing():
        if with_curves and report is None:
            raise FileError("--with-curves appends charts to the report: give --report FILE.pdf too")


def written(
    answer: Answer, target: Path, *, with_curves: bool = False, language: LanguageName | None = None
) -> None:
    """Write the report, or leave with exit code 2 when that cannot be done."""
    with refusing():
        write_file(target, api.report(answer, with_curves=with_curves, language=_code(language)))


def _code(language: LanguageName | None) -> Language | None:
    return None if language is None else language.value


def words_for(found: Assessment, language: LanguageName | None) -> Words:
    """Return the catalogue of the language asked for, or of the job."""
    from ampwright.documents.words.words import load_words  # noqa: PLC0415 - heavy

    return load_words(_code(language) or found.design.job.job.language)


def document_written(
    job: Path,
    name: str,
    target: Path,
    *,
    language: LanguageName | None = None,
    workshop: Path | None = None,
) -> None:
    """Write one document of a job, the same bytes as in its pack, or leave with exit code 2."""
    skip_unused_algebra()
    with refusing(), _progress() as listen:
        pack = api.publish(
            job,
            on=today(),
            only=(name,),
            language=_code(language),
            progress=listen,
            workshop=workshop_in(workshop),
        )
        if pack.left_out:
            raise FileError(f"{target} was not written: {pack.left_out[0][1]}")
        write_file(target, pack.files[0].content)


def write_file(target: Path, content: bytes) -> None:
    """Write a file, or raise what is told to the user."""
    try:
        target.write_bytes(content)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{target}: cannot be written ({reason}); choose another place") from error


def exit_code(answer: Answer) -> int:
    """Return 3 do not energise, 1 does not suit, 4 not fully checked, or 0."""
    return code_of(answer.wiring_verdict, answer.use_verdict)


def code_of(wiring: WiringVerdict, use: UseVerdict) -> int:
    """Return the exit code of two verdicts."""
    if wiring == "do not energise":
        return 3
    if use == "does not suit":
        return 1
    return 4 if wiring == "not fully checked" else 0

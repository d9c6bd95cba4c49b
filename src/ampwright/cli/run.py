"""What several commands share: run a check with a progress bar, write the report, choose the exit code."""

from __future__ import annotations

import time
from pathlib import Path

from rich.console import Console
from rich.progress import Progress, TaskID

from ampwright import api
from ampwright.cli.refuse import refusing
from ampwright.errors import FileError
from ampwright.sizing.result import Answer

__all__ = ["checked", "exit_code", "written"]

PATIENCE_S = 1.0
"""A check that takes longer than this shows a progress bar."""


class _Bar:
    """A progress bar that appears only when the work takes long."""

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._bar: Progress | None = None
        self._task: TaskID | None = None

    def __call__(self, done: int, total: int) -> None:
        if self._bar is None:
            if time.monotonic() - self._began < PATIENCE_S:
                return
            self._bar = Progress(console=Console(stderr=True), transient=True)
            self._bar.start()
            self._task = self._bar.add_task("Checking", total=total)
        if self._task is not None:
            self._bar.update(self._task, completed=done, total=total)

    def close(self) -> None:
        if self._bar is not None:
            self._bar.stop()


def checked(job: Path) -> Answer:
    """Return the answer for a job file, or leave with exit code 2."""
    bar = _Bar()
    try:
        with refusing():
            return api.check(job, progress=bar)
    finally:
        bar.close()


def written(answer: Answer, target: Path) -> None:
    """Write the report, or leave with exit code 2 when that cannot be done."""
    with refusing():
        content = api.report(answer)
        try:
            target.write_bytes(content)
        except OSError as error:
            reason = error.strerror or "unknown reason"
            raise FileError(f"{target}: cannot be written ({reason}); choose another place") from error


def exit_code(answer: Answer) -> int:
    """Return 3 do not energise, 1 does not suit, 4 not fully checked, or 0."""
    if answer.wiring_verdict == "do not energise":
        return 3
    if answer.use_verdict == "does not suit":
        return 1
    return 4 if answer.wiring_verdict == "not fully checked" else 0

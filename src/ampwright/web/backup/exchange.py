"""Folders of the app's data are exchanged for others: all or none, also where the machine stops in the middle.

A plan is written first. Rows of the database and names of folders cannot change in one step, so a mark in the rows
decides: whoever starts next finds the plan and goes on where the mark was kept, or goes back where it was not.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from ampwright.records import record

__all__ = ["HOLD", "Plan", "back", "done", "forward", "plans", "write_down"]

HOLD = ".restoring"
"""Folder in the data where exchanges are prepared; hidden, so in no backup."""
PLAN = "plan.json"


@record
class Plan:
    """One exchange."""

    data: Path
    """Folder whose folders are exchanged."""
    mark: str
    """What stands in the rows where they were exchanged, and the name of this exchange's folder."""
    away: tuple[str, ...]
    """Names that go."""
    come: tuple[str, ...]
    """Names that come."""

    @property
    def hold(self) -> Path:
        """Folder of this exchange; "new" and "old" are in it."""
        return self.data / HOLD / self.mark


def write_down(plan: Plan) -> None:
    """Write a plan down before anything of it is done; what comes lies in "new" of its folder."""
    (plan.hold / "old").mkdir(parents=True)
    half = plan.hold / f"{PLAN}.half"
    with half.open("w", encoding="utf-8") as stream:
        json.dump({"away": plan.away, "come": plan.come}, stream)
        stream.flush()
        os.fsync(stream.fileno())
    _moved(half, plan.hold / PLAN)
    _synced(plan.hold)


def plans(data: Path) -> Iterator[Plan]:
    """Yield every exchange that was not brought to its end."""
    for file in sorted((data / HOLD).glob(f"*/{PLAN}")):
        raw = json.loads(file.read_text(encoding="utf-8"))
        names = {key: tuple(map(str, raw[key])) for key in ("away", "come")}
        yield Plan(data=data, mark=file.parent.name, **names)


def forward(plan: Plan) -> None:
    """Exchange what is not exchanged yet."""
    for name in plan.away:
        if not (plan.hold / "old" / name).exists() and (plan.data / name).exists():
            _moved(plan.data / name, plan.hold / "old" / name)
    for name in plan.come:
        if (plan.hold / "new" / name).exists():
            _moved(plan.hold / "new" / name, plan.data / name)
    _synced(plan.data)


def back(plan: Plan) -> None:
    """Undo what is exchanged."""
    for name in plan.come:
        if not (plan.hold / "new" / name).exists() and (plan.data / name).exists():
            _moved(plan.data / name, plan.hold / "new" / name)
    for name in plan.away:
        if (plan.hold / "old" / name).exists():
            _moved(plan.hold / "old" / name, plan.data / name)
    _synced(plan.data)


def done(plan: Plan) -> None:
    """Forget an exchange and what lies in its folder; the plan goes first."""
    (plan.hold / PLAN).unlink(missing_ok=True)
    shutil.rmtree(plan.hold, ignore_errors=True)


def _moved(source: Path, target: Path) -> None:
    os.replace(source, target)  # noqa: PTH105 - one step


def _synced(folder: Path) -> None:
    """Have the names in a folder written to the disk, where the system can."""
    with contextlib.suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)

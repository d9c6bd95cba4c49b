"""The job's own tables: which files they stand in, and what was read there."""

from __future__ import annotations

from pathlib import Path

from ampwright.errors import JobError, Problem
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.standards.iso_8820.limits import OpeningPoint
from ampwright.standards.own_tables.capacity import CapacityTable, capacity_table
from ampwright.standards.own_tables.opening import OwnOpening, opening_times, own_points
from ampwright.toml_positions import decoded_text

__all__ = ["OwnTables", "Tables", "device_class", "load_own_tables"]

TABLE_FILE_BYTES = 2_000_000
"""Largest table read; some 50,000 rows (our own choice)."""


@record
class Tables:
    """Tables from your own books, in place of the shipped ones."""

    current_capacity_file: str = ""
    """CSV with the current cables may carry, path relative to the job file; empty = the shipped table."""
    opening_times_file: str = ""
    """CSV with opening times of fuses and breakers, path relative to the job file; empty = the shipped times."""


@record
class OwnTables:
    """What was read in the job's own tables."""

    capacity: CapacityTable | None = None
    """Current cables may carry; None = only the shipped table."""
    opening: tuple[OwnOpening, ...] = ()
    """Opening times of devices; empty = only the shipped ones."""

    def points_of(self, part: Fuse | Breaker) -> tuple[OpeningPoint, ...] | None:
        """Return the user's opening times of a device; None where the shipped ones count."""
        if not self.opening:
            return None
        return own_points(
            self.opening, part_id=part.id, device_class=device_class(part), rating_a=part.rating_a
        )


def device_class(device: Fuse | Breaker) -> str:
    """Return the class whose time-current limits hold for a device."""
    return device.family if isinstance(device, Fuse) else device.principle


def load_own_tables(tables: Tables | None, folder: Path) -> OwnTables:
    """Return the job's own tables; raises JobError with every problem of every file."""
    if tables is None:
        return OwnTables()
    problems: list[Problem] = []
    failed: list[str] = []
    capacity: CapacityTable | None = None
    opening: tuple[OwnOpening, ...] = ()
    if tables.current_capacity_file:
        file = folder / tables.current_capacity_file
        try:
            capacity = capacity_table(decoded_text(file, max_bytes=TABLE_FILE_BYTES), file=file.name)
        except JobError as error:
            problems += error.problems
            failed.append(str(file))
    if tables.opening_times_file:
        file = folder / tables.opening_times_file
        try:
            opening = opening_times(decoded_text(file, max_bytes=TABLE_FILE_BYTES), file=file.name)
        except JobError as error:
            problems += error.problems
            failed.append(str(file))
    if problems:
        raise JobError(", ".join(failed), tuple(problems))
    return OwnTables(capacity=capacity, opening=opening)

"""One line of the fault-finding card."""

from __future__ import annotations

from ampwright.records import record

__all__ = ["Symptom"]


@record
class Symptom:
    """A symptom and the first step to its cause."""

    symptom: str
    """What somebody notices."""
    reading: str
    """What to read first, and where."""
    expected: str
    """What this job should show there."""
    meaning: str
    """What another reading means."""

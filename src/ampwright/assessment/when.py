"""Moments of a use in words."""

from __future__ import annotations

from ampwright.energy.result import EnergyResult
from ampwright.said import Said, said

__all__ = ["clock_of_step", "day_of_step", "moment_text"]


def day_of_step(energy: EnergyResult, step: int) -> int:
    """Return the day of the use a step belongs to, counted from 1."""
    return int(energy.day_of_step[step]) + 1


def clock_of_step(energy: EnergyResult, step: int) -> str:
    """Return the clock time "HH:MM" at which a step begins."""
    minute = int(energy.minute_of_step[step])
    return f"{minute // 60:02d}:{minute % 60:02d}"


def moment_text(energy: EnergyResult, step: int) -> Said:
    """Return "on day 3 at 04:15", and where that is in a use that moves on."""
    day, clock = day_of_step(energy, step), clock_of_step(energy, step)
    if energy.leg_of_day:
        return said("on day {day} at {clock} ({leg})", day=day, clock=clock, leg=energy.leg_of_day[day - 1])
    return said("on day {day} at {clock}", day=day, clock=clock)

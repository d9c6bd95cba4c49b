"""The days of a first job: day plans with driving and hook-up, and their sequence."""

from __future__ import annotations

from typing import Any

from ampwright.job.intake.lines import amount, block
from ampwright.job.intake.story import StoryStay, StoryTrip

__all__ = ["trip_text"]

TRIP_DAYS = 7
STILL_DAYS = 3
"""Where the customer does not know: a week, three days standing, no mains: the worse end of what is usual
(docs/choices.md#intake-ranges)."""
DRIVE_H = (0.5, 1.0, 3.0)
"""Hours of driving on a day with driving where nobody knows: lowest, likely, highest (docs/choices.md#intake-ranges)."""
START_H = 8
EVENING_H = 18
SHADE = {"open": (0.0, 0.05, 0.1), "some": (0.1, 0.2, 0.4), "mostly": (0.4, 0.6, 0.8), None: (0.0, 0.2, 0.6)}
"""Part of the sun lost to trees and buildings: lowest, likely, highest (docs/choices.md#intake-ranges)."""


def trip_text(trip: StoryTrip, stay: StoryStay) -> str:
    """Return the tables of the use and its day plans."""
    days = _days(trip)
    low, likely, high = SHADE[stay.shade]
    shade = {"unknown": [low, high], "likely": likely, "ask": "how much of the day does it stand in shade?"}
    text = block(
        "[use]",
        {"days": _sequence(days), "start_soc_frac": 0.9, "reserve_frac": 0.15, "battery_years": 5},
        note=_note(trip),
    )
    plans: list[tuple[str, dict[str, Any]]] = []
    if "drive" in days:
        plans.append(("drive", {"id": "drive", "shade_frac": shade, "period": _drive_periods(trip)}))
    if "stay" in days:
        plan: dict[str, Any] = {"id": "stay", "shade_frac": shade}
        if trip.hook_up == "every-night":
            plan["period"] = [_period(EVENING_H * 60, START_H * 60, "hooked-up")]
        plans.append(("stay", plan))
    return text + "".join(f"\n{block('[[day]]', plan)}" for _, plan in plans)


def _days(trip: StoryTrip) -> list[str]:
    """Return the name of each day: one day of driving, then the days without, until the trip is over."""
    if _drive_range(trip)[2] == 0:
        return ["stay"] * (trip.trip_days or TRIP_DAYS)
    still = STILL_DAYS if trip.still_days is None else trip.still_days
    count = trip.trip_days or max(TRIP_DAYS, still + 2)
    pattern = ["drive", *["stay"] * still]
    return [pattern[day % len(pattern)] for day in range(max(count, min(still + 1, 60)))]


def _sequence(days: list[str]) -> list[str]:
    """Return the days as a job writes them, alike ones together.

    Examples
    --------
    >>> _sequence(["drive", "stay", "stay", "drive"])
    ['drive', '2 x stay', 'drive']
    """
    runs: list[tuple[str, int]] = []
    for day in days:
        if runs and runs[-1][0] == day:
            runs[-1] = (day, runs[-1][1] + 1)
        else:
            runs.append((day, 1))
    return [name if count == 1 else f"{count} x {name}" for name, count in runs]


def _drive_range(trip: StoryTrip) -> tuple[float, float, float]:
    """Return lowest, likely and highest hours of driving on a day with driving.

    Examples
    --------
    >>> _drive_range(StoryTrip(drive_h=1, drive_most_h=4)), _drive_range(StoryTrip(drive_most_h=2))
    ((1, 2.5, 4), (0.5, 1.0, 2))
    """
    least, most = (None if each is None else round(each, 2) for each in (trip.drive_h, trip.drive_most_h))
    if most is None:
        return DRIVE_H if least is None else (least, least, least)
    if least is None:
        low, likely, _ = DRIVE_H
        return min(low, most), min(likely, most), most
    low, high = sorted((least, most))
    return low, (low + high) / 2, high


def _drive_periods(trip: StoryTrip) -> list[dict[str, Any]]:
    low, likely, high = _drive_range(trip)
    end = START_H * 60 + max(round(high * 60), 5)
    drive: dict[str, Any] = {**_period(START_H * 60, end, "road")}
    if low < high:
        drive["lasts_h"] = amount(None, (low, likely, high), "how many hours does it drive on such a day?")
    periods = [drive]
    if trip.hook_up in ("after-driving", "every-night"):
        periods.append({**_period(max(end, EVENING_H * 60), START_H * 60, "hooked-up")})
    return periods


def _period(start_minutes: int, end_minutes: int, state: str) -> dict[str, str]:
    return {"start": _clock(start_minutes), "end": _clock(end_minutes), "state": state}


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _note(trip: StoryTrip) -> str:
    lines = ["The trip. Days standing are no range: what was not known is at its worse end."]
    if trip.trip_days is None:
        lines.append("Assumed: how long the trip is.")
    if trip.still_days is None:
        lines.append(f"Assumed: {STILL_DAYS} days in a row without driving.")
    low, _, high = _drive_range(trip)
    if high == 0:
        lines.append("It never drives: nothing comes from an alternator, nor from mains after driving.")
    elif low < high:
        lines.append(f"Hours of driving on a day with driving are a range, {low:g} to {high:g} h.")
    if trip.hook_up is None:
        lines.append("Assumed: never on mains.")
    return "\n".join(lines)

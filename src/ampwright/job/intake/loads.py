"""The loads of a first job: what the customer wants to run, with the usual range where a figure is not known."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ampwright.job.intake.lines import amount, block, figure
from ampwright.job.intake.story import StoryAppliance
from ampwright.job.intake.usual import UsualAppliance, usual_appliances
from ampwright.records import record

__all__ = ["FirstLoad", "first_loads", "load_text"]

LABEL = "read the power on its label"
HOURS = "ask how many hours a day it runs"
MINUTES = "ask how many minutes each use takes"


@record
class FirstLoad:
    """One appliance with the id it has in the job."""

    id: str
    """Name used by its run."""
    name: str
    """In the customer's words, or its kind."""
    told: StoryAppliance
    """What the customer said."""
    usual: UsualAppliance
    """What is usual for its kind."""

    @property
    def highest_w(self) -> float:
        """Highest power of all alike together, at the upper end where it is not known."""
        return self.told.count * max(
            self.peak_w or 0.0, self.told.power_w or (self.usual.power_w or (0.0,) * 3)[2]
        )

    @property
    def peak_w(self) -> float | None:
        """Highest power of one for seconds, where it is above its power."""
        peak = self.usual.peak_w
        top = self.told.power_w or (self.usual.power_w or (0.0,) * 3)[2]
        return peak if peak is not None and peak > top else None


def first_loads(told: tuple[StoryAppliance, ...], say: Callable[[str], str]) -> tuple[FirstLoad, ...]:
    """Return the loads with ids of their own."""
    found: list[FirstLoad] = []
    for each in told:
        usual = usual_appliances()[each.kind]
        same = sum(load.told.kind == each.kind for load in found)
        name = f"{each.kind}-{same + 1}" if same else each.kind
        found.append(FirstLoad(id=name, name=each.name or say(usual.name), told=each, usual=usual))
    return tuple(found)


def load_text(load: FirstLoad, *, mains_hz: int) -> str:
    """Return the table of one load."""
    told, usual = load.told, load.usual
    is_essential = usual.is_essential if told.is_essential is None else told.is_essential
    table: dict[str, Any] = {"id": load.id, "name": load.name}
    priority = {"priority": "essential" if is_essential else "comfort"}
    if usual.part:
        counted = {"count": told.count} if told.count > 1 else {}
        vaccine = {"set_degc": 5, "contents_low_degc": 2, "contents_high_degc": 8, "is_before_cutoff": True}
        special = vaccine if told.kind == "vaccine-fridge" else {}
        return block(
            "[[load]]", {**table, "part": usual.part, "zone": "bench", **counted, **priority, **special}
        )
    table["power_w"] = amount(told.power_w, usual.power_w or (1.0, 1.0, 1.0), LABEL)
    if load.peak_w is not None:
        table["peak_w"] = figure(load.peak_w)
    if told.count > 1:
        table["count"] = told.count
    if usual.is_ac:
        table |= {"through": "inverter", "has_motor": usual.has_motor, "mains_hz": [mains_hz]}
        if usual.start_va is not None:
            table["start_va"] = figure(usual.start_va)
    table |= {"behaves": usual.behaves, **priority}
    if not is_essential:
        table["hours_could_be_less"] = True
    return block("[[load]]", {**table, "when": [_when(told, usual)]}, note=_note(told, usual))


def _when(told: StoryAppliance, usual: UsualAppliance) -> dict[str, Any]:
    if usual.use_minutes is not None and told.day_h is None:
        minutes = amount(told.use_minutes, usual.use_minutes, MINUTES)
        uses, longest = _uses(told, usual)
        start, end = _fitting(usual, uses * longest / 60.0)
        return {"start": start, "end": end, "uses": uses, "use_minutes": minutes}
    hours = usual.day_hours or (told.day_h or 1.0,) * 3
    start, end = _fitting(usual, hours[2] if told.day_h is None else told.day_h)
    duty = amount(told.day_h, hours, HOURS, factor=1.0 / _window_h(start, end))
    return {"start": start, "end": end, "duty_frac": duty}


def _uses(told: StoryAppliance, usual: UsualAppliance) -> tuple[int, float]:
    """Return how often it is used, no more than a day has room for, and the longest minutes of each."""
    longest = told.use_minutes or (usual.use_minutes or (1.0, 1.0, 1.0))[2]
    return max(min(told.uses or usual.uses or 1, int(1440.0 / longest)), 1), longest


def _fitting(usual: UsualAppliance, hours: float) -> tuple[str, str]:
    """Return the usual window, or the whole day where the hours do not fit into it."""
    fits = hours <= _window_h(usual.start, usual.end)
    return (usual.start, usual.end) if fits else ("00:00", "24:00")


def _window_h(start: str, end: str) -> float:
    """Return the hours from one clock time to another, past midnight where it is earlier.

    Examples
    --------
    >>> _window_h("17:00", "09:00")
    16.0
    """
    first, last = (60 * int(each[:2]) + int(each[3:]) for each in (start, end))
    return ((last - first) % 1440 or 1440) / 60.0


def _note(told: StoryAppliance, usual: UsualAppliance) -> str:
    lines: list[str] = []
    if usual.uses is not None and told.uses is None and told.day_h is None:
        lines.append(f"Assumed: used {usual.uses} times a day.")
    elif usual.use_minutes is not None and told.uses is not None and told.uses > _uses(told, usual)[0]:
        lines.append(f"Told: {told.uses} times a day; no more than what stands here fit into a day.")
    if told.is_essential is None:
        lines.append(f"Assumed: {'must not stop' if usual.is_essential else 'may stop'}.")
    if usual.has_motor:
        lines.append(f"Assumed: {usual.start_va:g} VA while its motor starts.")
    return "\n".join(lines)

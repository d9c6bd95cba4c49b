"""Loads, amounts and places resolved."""

from __future__ import annotations

import dataclasses

from ampwright.job.clock import minute_by_sun
from ampwright.job.complaints import Complaints, Path, meant
from ampwright.job.consumer import Load, When
from ampwright.job.design import DesignPart
from ampwright.job.design_use import DesignLoad, DesignWhen
from ampwright.job.lookup import Lookup
from ampwright.job.quantity import Amount, likely_value, span
from ampwright.job.resolve_use import stretch_minutes
from ampwright.parts.fridge import Fridge
from ampwright.parts.inverter import Inverter

__all__ = ["resolved_loads"]

NO_SUN = (
    "sunrise and sunset are known for a place with a latitude, in a month in which the sun rises and sets; "
    "write clock times here"
)
OTHER_SUN = (
    "the sun rises and sets at other times at each place of a use that moves on, and a load has one schedule; "
    "write clock times that hold at all of them"
)


def resolved_loads(lookup: Lookup, parts: tuple[DesignPart, ...]) -> tuple[DesignLoad, ...]:
    """Return the loads with numbers; note a problem for each impossible one."""
    inverters = {part.id: part.index for part in parts if isinstance(part.part, Inverter)}
    return tuple(_load(lookup, load, index, inverters) for index, load in enumerate(lookup.job.load))


def _load(lookup: Lookup, load: Load, index: int, inverters: dict[str, int]) -> DesignLoad:
    path: Path = ("load", index)
    fridge = None
    if load.part:
        fridge = lookup.part(load.part, (*path, "part"), (Fridge,), wanted="a refrigerator")
    _check_load(lookup, load, path, inverters)
    one_w = _optional(load.power_w, fridge.running_w if fridge else None) or 0.0
    peak_w = _optional(load.peak_w, one_w) or 0.0
    _check_peak(lookup, load, (*path, "peak_w"), one_w)
    return DesignLoad(
        index=index,
        id=load.id,
        name=load.name,
        node=-1 if load.through else lookup.nodes.get(load.at or load.id, -1),
        inverter=inverters.get(load.through, -1),
        fridge=fridge,
        power_w=one_w * load.count,
        peak_w=peak_w * load.count,
        power_factor=load.power_factor,
        count=load.count,
        behaves=load.behaves,
        is_essential=load.priority == "essential",
        when=_schedule(lookup, load, path),
        zone=lookup.zone(load.zone, (*path, "zone")),
        min_v=_optional(load.min_v, fridge.min_v if fridge else None),
        max_v=_optional(load.max_v, None),
        survives_surge_v=load.survives_surge_v or (fridge.survives_surge_v if fridge else None),
        survives_reverse_v=load.survives_reverse_v or (fridge.survives_reverse_v if fridge else None),
        dimmed_frac=likely_value(load.dimmed_frac),
        set_degc=_optional(load.set_degc, fridge.set_degc if fridge else None) or 0.0,
        contents_low_degc=load.contents_low_degc,
        contents_high_degc=load.contents_high_degc,
        draw_factor=likely_value(load.draw_factor),
        is_before_cutoff=load.is_before_cutoff,
        mount=load.mount,
        part_of=load.part_of,
        nominal_v=load.nominal_v,
    )


def _check_load(lookup: Lookup, load: Load, path: Path, inverters: dict[str, int]) -> None:
    add = lookup.complaints.add
    if not load.part and load.power_w is None:
        add((*path, "power_w"), f"load '{load.id}' needs power_w, or the part of a refrigerator")
    if load.part and load.power_w is not None:
        add((*path, "power_w"), "a refrigerator's power is its part's; remove power_w or part")
    if load.part and load.through:
        add((*path, "through"), "a DC refrigerator is not fed through an inverter; remove 'through'")
    if load.through and load.through not in inverters:
        add((*path, "through"), f"no inverter '{load.through}'; {meant(load.through, inverters)}")
    if load.through and load.at:
        add((*path, "at"), "an AC load (with 'through') has no DC node; remove one of the two")
    if load.at:
        lookup.node(load.at, (*path, "at"))
    low, high = load.contents_low_degc, load.contents_high_degc
    if low is not None and high is not None and low >= high:
        add((*path, "contents_low_degc"), f"{low:g} degC is not below contents_high_degc, {high:g} degC")


def _check_peak(lookup: Lookup, load: Load, path: Path, one_w: float) -> None:
    """Complain of a peak that is, anywhere in its range, below the power anywhere in its own."""
    if load.peak_w is None:
        return
    lowest_w = span(load.peak_w)[0]
    highest_w = one_w if load.power_w is None else span(load.power_w)[1]
    if lowest_w < highest_w:
        lookup.complaints.add(
            path,
            f"{lowest_w:g} W is below the power of {highest_w:g} W "
            "(of two ranges, the lowest peak and the highest power)",
        )


def _optional(amount: Amount | None, otherwise: float | None) -> float | None:
    return likely_value(amount) if amount is not None else otherwise


def _schedule(lookup: Lookup, load: Load, path: Path) -> tuple[DesignWhen, ...]:
    plans = {plan.id for plan in lookup.job.day}
    entries = load.when or (When(),)
    return tuple(
        _when(
            _by_clock(entry, (*path, "when", position), lookup),
            (*path, "when", position),
            plans,
            lookup.complaints,
        )
        for position, entry in enumerate(entries)
    )


def _by_clock(when: When, path: Path, lookup: Lookup) -> When:
    """Return the stretch with clock times in the place of sunrise and sunset."""
    clock: dict[str, str] = {}
    for name in ("start", "end"):
        text = getattr(when, name)
        if minute_by_sun(text, (0, 0)) is None:
            continue
        if lookup.daylight is None:
            lookup.complaints.add((*path, name), OTHER_SUN if lookup.job.leg else NO_SUN)
            clock[name] = {"start": "00:00", "end": "24:00"}[name]
            continue
        minute = minute_by_sun(text, lookup.daylight) or 0
        clock[name] = f"{minute // 60:02d}:{minute % 60:02d}"
    return dataclasses.replace(when, start=clock.get("start", when.start), end=clock.get("end", when.end))


def _when(when: When, path: Path, plans: set[str], complaints: Complaints) -> DesignWhen:
    start, end = stretch_minutes(when.start, when.end, path, complaints, is_load=True)
    for position, name in enumerate(when.days):
        if name not in plans:
            complaints.add((*path, "days", position), f"no day plan '{name}'; {meant(name, plans)}")
    length_min = end - start if end > start else end + 1440 - start
    duty = likely_value(when.duty_frac)
    if (when.uses is None) != (when.use_minutes is None):
        complaints.add(path, "give uses and use_minutes together")
    elif when.uses is not None and when.use_minutes is not None:
        most_min = when.uses * span(when.use_minutes)[1]
        if most_min > length_min:
            complaints.add(
                (*path, "uses"), f"{most_min:g} minutes of use do not fit between {when.start} and {when.end}"
            )
        duty = when.uses * likely_value(when.use_minutes) / length_min
    return DesignWhen(
        start_min=start,
        end_min=end,
        duty_frac=min(duty, 1.0),
        days=when.days,
        states=when.states,
        written=when,
    )

"""Which loads can run at the same time, by day plan, state of the vehicle and what is attached.

Everything that may be on within the same quarter of an hour counts as on together: a load with a duty or a
number of uses may run at any time inside its stretch, a refrigerator at any time at all.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad, DesignPlan, DesignWhen
from ampwright.job.nodes import terminals
from ampwright.job.use import State
from ampwright.job.wiring import Attached
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["LoadSet", "attachments", "carriers", "certain_loads", "load_sets"]

MINUTES_PER_DAY = 1440
SLOT_MIN = 15
ALL_DAY = (1 << MINUTES_PER_DAY) - 1
"""Minutes of a day as the bits of an integer, bit 0 = midnight: fast to combine."""


@record
class LoadSet:
    """Loads that can run together."""

    loads: tuple[int, ...]
    """Indices of the loads, ascending."""
    when: str
    """First time they can: day plan and clock time; empty for the set without loads."""


@record
class _Day:
    """A day plan in use, taken apart."""

    plan: DesignPlan
    """The plan."""
    by_state: dict[State, int]
    """Minutes in each state."""
    present: frozenset[Attached]
    """What the auxiliary battery stands together with."""


def load_sets(
    design: Design, present: frozenset[Attached] | None = None, states: tuple[State, ...] = ()
) -> tuple[LoadSet, ...]:
    """Return the largest sets of loads that can run together; one empty set where nothing ever runs.

    A set that is part of another is left out: at a given battery voltage more load is never milder.

    Parameters
    ----------
    present : only day plans in which the battery stands together with just this; None = all plans
    states : only minutes in these states; empty = all, and an empty answer means there are no such minutes
    """
    first_time: dict[frozenset[int], str] = {}
    has_minutes = not states
    for day in _days(design):
        window = _any_of(day.by_state, states) if states else ALL_DAY
        if not window or (present is not None and day.present != present):
            continue
        has_minutes = True
        possible = tuple(_possible(design, load, day) & window for load in design.loads)
        for slot, together in _distinct_slots(possible):
            minute = slot * SLOT_MIN
            first_time.setdefault(together, f"{day.plan.id} {minute // 60:02d}:{minute % 60:02d}")
    largest = [one for one in first_time if not any(one < other for other in first_time)]
    nothing = (LoadSet(loads=(), when=""),) if has_minutes else ()
    return (
        tuple(LoadSet(loads=tuple(sorted(one)), when=first_time[one] if one else "") for one in largest)
        or nothing
    )


def attachments(design: Design) -> tuple[frozenset[Attached], ...]:
    """Return what the auxiliary battery stands together with, each that occurs in the day plans once.

    Only what carries something counts: without anything on a trailer it makes no difference.
    """
    return tuple(dict.fromkeys(day.present for day in _days(design)))


def certain_loads(design: Design) -> tuple[int, ...]:
    """Return the loads that are on at every minute of every day plan in use: the lightest load there is."""
    days = _days(design)
    return tuple(
        load.index
        for load in design.loads
        if days and load.fridge is None and all(_certain(design, load, day) == ALL_DAY for day in days)
    )


def _days(design: Design) -> tuple[_Day, ...]:
    carried = carriers(design)
    plans = (design.plans[index] for index in sorted(set(design.days)))
    return tuple(
        _Day(plan=plan, by_state=_minutes_by_state(plan), present=_present(design, plan) & carried)
        for plan in plans
    )


def carriers(design: Design) -> frozenset[Attached]:
    """Return what carries any part, run or load, and the vehicle."""
    found: set[Attached] = {"vehicle"}
    found |= {part.part_of for part in design.parts}
    found |= {run.part_of for run in design.runs}
    found |= {load.part_of for load in design.loads}
    return frozenset(found)


def _any_of(by_state: dict[State, int], states: tuple[State, ...]) -> int:
    """Minutes of a plan in any of some states."""
    minutes = 0
    for state in states:
        minutes |= by_state.get(state, 0)
    return minutes


@lru_cache(maxsize=512)
def _distinct_slots(possible: tuple[int, ...]) -> tuple[tuple[int, frozenset[int]], ...]:
    """Return the first slot of each distinct set of positions with a minute in it (a memo: 0.3 ms)."""
    if not possible:
        return ()
    packed = b"".join(minutes.to_bytes(MINUTES_PER_DAY // 8, "little") for minutes in possible)
    rows = np.frombuffer(packed, dtype=np.uint8).reshape(len(possible), -1)
    bits = np.unpackbits(rows, axis=1, bitorder="little").reshape(len(possible), -1, SLOT_MIN)
    on: NDArray[np.bool_] = np.any(bits, axis=2)
    first: dict[bytes, int] = {}
    for slot, column in enumerate(np.packbits(on, axis=0).T):
        first.setdefault(column.tobytes(), slot)
    return tuple((slot, frozenset(np.flatnonzero(on[:, slot]).tolist())) for slot in first.values())


def _possible(design: Design, load: DesignLoad, day: _Day) -> int:
    """Minutes of the day at which the load may draw its peak from the battery."""
    if not _carriers(design, load) <= day.present:
        return 0
    if load.fridge is not None:
        return ALL_DAY
    on = 0
    for when in load.when:
        if when.duty_frac > 0.0 and not _is_mains_only(design, load, when):
            on |= _stretch(when, day.plan, day.by_state)
    return on


def _certain(design: Design, load: DesignLoad, day: _Day) -> int:
    on = 0
    if _carriers(design, load) <= day.present:
        for when in load.when:
            if when.duty_frac >= 1.0:
                on |= _stretch(when, day.plan, day.by_state)
    return on


def _stretch(when: DesignWhen, plan: DesignPlan, states: dict[State, int]) -> int:
    """Minutes of the plan inside an entry of a schedule, its days and its states.

    An entry without days holds on all but stored days, unless it names the state itself.
    """
    is_named_stored = "stored" in when.states
    is_day = plan.id in when.days if when.days else plan.otherwise != "stored" or is_named_stored
    if not is_day:
        return 0
    allowed = 0
    for state, minutes in states.items():
        if state in when.states or (not when.states and state != "stored"):
            allowed |= minutes
    return _minutes(when.start_min, when.end_min) & allowed


def _minutes(start_min: int, end_min: int) -> int:
    """Minutes from start to end, past midnight where the end is not above the start."""
    before_end, before_start = (1 << end_min) - 1, (1 << start_min) - 1
    if end_min > start_min:
        return before_end & ~before_start
    return before_end | (ALL_DAY & ~before_start)


def _minutes_by_state(plan: DesignPlan) -> dict[State, int]:
    minutes: dict[State, int] = {}
    taken = 0
    for period in plan.periods:
        stretch = _minutes(period.start_min, period.end_min)
        minutes[period.state] = minutes.get(period.state, 0) | stretch
        taken |= stretch
    minutes[plan.otherwise] = minutes.get(plan.otherwise, 0) | (ALL_DAY & ~taken)
    return minutes


def _is_mains_only(design: Design, load: DesignLoad, when: DesignWhen) -> bool:
    """Tell whether a transfer switch feeds the load from the mains at every time of this entry."""
    if load.inverter < 0:
        return False
    part = design.parts[load.inverter].part
    return when.states == ("hooked-up",) and isinstance(part, Inverter) and part.transfer_s > 0.0


def _carriers(design: Design, load: DesignLoad) -> set[Attached]:
    """Return what must be at hand to feed the load: its own carrier, its outlet's and its inverter's."""
    carriers: set[Attached] = {load.part_of}
    if load.inverter >= 0:
        carriers.add(design.parts[load.inverter].part_of)
    if load.node >= 0:
        name = design.nodes[load.node]
        carriers |= {
            placed.part_of
            for placed in design.parts
            if name.startswith(placed.id) and name[len(placed.id) :] in terminals(placed.part)
        }
    return carriers


def _present(design: Design, plan: DesignPlan) -> frozenset[Attached]:
    """Return what the auxiliary battery stands together with."""
    together: set[Attached] = {"vehicle"}
    if plan.is_body_attached:
        together.add("body")
    if plan.is_trailer_attached:
        together.add("trailer")
    home = design.parts[design.battery].part_of
    return frozenset(together if home in together else {home})

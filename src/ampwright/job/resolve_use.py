"""Vehicle, day plans and the sequence of days, amounts resolved."""

from __future__ import annotations

from collections.abc import Container, Iterator

from ampwright.job.clock import day_names, minutes_of_clock
from ampwright.job.complaints import Complaints, Path, bad_id_message, is_good_id, meant
from ampwright.job.design_use import DesignPeriod, DesignPlan
from ampwright.job.design_vehicle import DesignAlternator, DesignVehicle
from ampwright.job.quantity import FractionAmount, PositiveAmount, likely_value
from ampwright.job.records import Job
from ampwright.job.sunlight import DesignShade, ShadeTime
from ampwright.job.use import Period
from ampwright.job.vehicle import Alternator, SecondAlternator

__all__ = ["resolved_days", "resolved_plans", "resolved_vehicle", "stretch_minutes"]

MOST_DAYS = 400
MINUTES_PER_DAY = 1440


def resolved_vehicle(job: Job) -> DesignVehicle:
    """Return the vehicle with numbers; what it lacks is zero."""
    alternator = job.vehicle.alternator
    starter = job.vehicle.starter_battery
    second = job.vehicle.second_alternator
    apart = _alternator(second) if second is not None and second.feeds == "auxiliary" else None
    main = _main_alternator(job)
    return DesignVehicle(
        system_v=float(job.vehicle.system_v),
        has_alternator=main is not None or apart is not None,
        regulation=alternator.regulation if alternator else main.regulation if main else "fixed",
        alternator_a=main.alternator_a if main else 0.0,
        alternator_v=main.alternator_v if main else 0.0,
        alternator_low_v=main.alternator_low_v if main else 0.0,
        alternator_high_v=main.alternator_high_v if main else 0.0,
        hot_road_frac=main.hot_road_frac if main else 0.0,
        hot_idle_frac=main.hot_idle_frac if main else 0.0,
        engine_off_frac=likely_value(alternator.engine_off_frac)
        if alternator and alternator.engine_off_frac is not None
        else 0.0,
        own_load_day_a=likely_value(alternator.own_load_day_a) if alternator else 0.0,
        own_load_night_a=likely_value(alternator.own_load_night_a) if alternator else 0.0,
        second=apart,
        has_starter_battery=starter is not None,
        starter_capacity_ah=likely_value(starter.capacity_ah) if starter else 0.0,
        starter_short_circuit_a=likely_value(starter.short_circuit_a) if starter else 0.0,
        starter_resistance_ohm=likely_value(starter.resistance_ohm) if starter else 0.0,
        starter_standby_a=likely_value(starter.standby_a) if starter else 0.0,
        chassis_resistance_ohm=likely_value(job.vehicle.chassis_resistance_ohm),
        clamps_load_dump=alternator.clamps_load_dump if alternator else None,
    )


def _main_alternator(job: Job) -> DesignAlternator | None:
    """Return what charges the starter battery: one alternator, or two joined there as one of their sum."""
    first = _alternator(job.vehicle.alternator) if job.vehicle.alternator else None
    second = job.vehicle.second_alternator
    if second is None or second.feeds != "vehicle":
        return first
    other = _alternator(second)
    if first is None:
        return other
    both_a = first.alternator_a + other.alternator_a
    share = other.alternator_a / both_a
    return DesignAlternator(
        regulation=first.regulation,
        alternator_a=both_a,
        alternator_v=max(first.alternator_v, other.alternator_v),
        alternator_low_v=max(first.alternator_low_v, other.alternator_low_v),
        alternator_high_v=max(first.alternator_high_v, other.alternator_high_v),
        hot_road_frac=first.hot_road_frac * (1.0 - share) + other.hot_road_frac * share,
        hot_idle_frac=first.hot_idle_frac * (1.0 - share) + other.hot_idle_frac * share,
    )


def _alternator(written: Alternator | SecondAlternator) -> DesignAlternator:
    return DesignAlternator(
        regulation="regulated" if written.regulation == "regulated" else "fixed",
        alternator_a=likely_value(written.rating_a),
        alternator_v=likely_value(written.voltage_v),
        alternator_low_v=likely_value(written.lowest_v),
        alternator_high_v=likely_value(written.highest_v),
        hot_road_frac=_hot_frac(written, written.hot_road_a, written.hot_road_frac),
        hot_idle_frac=_hot_frac(written, written.hot_idle_a, written.hot_idle_frac),
        limits_by_heat=written.limits_by_heat if isinstance(written, SecondAlternator) else None,
    )


def _hot_frac(
    written: Alternator | SecondAlternator, hot_a: PositiveAmount | None, hot_frac: FractionAmount
) -> float:
    """Return the part of the label it gives hot: from a reading where there is one."""
    return likely_value(hot_frac) if hot_a is None else likely_value(hot_a) / likely_value(written.rating_a)


def stretch_minutes(
    start: str, end: str, path: Path, complaints: Complaints, *, is_load: bool = False
) -> tuple[int, int]:
    """Return first minute (0 to 1439) and end (1 to 1440) of a stretch, noting what is wrong with it.

    A stretch that ends at or before its first minute goes past midnight.

    Parameters
    ----------
    is_load : loads may follow the sun, day plans may not
    """
    by_sun = ', or "sunset", "sunrise+0:30"' if is_load else ""
    found = []
    for name, text in (("start", start), ("end", end)):
        minutes = minutes_of_clock(text)
        if minutes is None:
            complaints.add(
                (*path, name), f'\'{text}\' is no clock time; write it like "06:30", at most "24:00"{by_sun}'
            )
        found.append(minutes)
    first, last = found
    if first is None or last is None:
        return 0, MINUTES_PER_DAY
    is_whole_day = (first, last) == (0, MINUTES_PER_DAY)
    if first % MINUTES_PER_DAY == last % MINUTES_PER_DAY and not is_whole_day:
        complaints.add((*path, "end"), "the stretch has no length; start and end are the same")
    return first % MINUTES_PER_DAY, last or MINUTES_PER_DAY


def resolved_plans(job: Job, complaints: Complaints) -> tuple[DesignPlan, ...]:
    """Return the day plans with minutes; overlapping periods are a problem."""
    plans: list[DesignPlan] = []
    seen: set[str] = set()
    for index, plan in enumerate(job.day):
        if plan.id in seen:
            complaints.add(("day", index, "id"), f"'{plan.id}' is used twice; ids must differ")
        seen.add(plan.id)
        if not is_good_id(plan.id):
            complaints.add(("day", index, "id"), bad_id_message(plan.id))
        taken = [""] * MINUTES_PER_DAY
        periods: list[DesignPeriod] = []
        for position, period in enumerate(plan.period):
            path: Path = ("day", index, "period", position)
            start, end = stretch_minutes(period.start, period.end, path, complaints)
            clash = _taken_by(taken, start, end, period.state)
            if clash:
                complaints.add(
                    (*path, "start"), f"overlaps the period '{clash}'; a day can be in one state at a time"
                )
            periods.extend(_lasting(period, start, end))
        plans.append(
            DesignPlan(
                id=plan.id,
                otherwise=plan.otherwise,
                periods=tuple(periods),
                is_body_attached=plan.is_body_attached,
                is_trailer_attached=plan.is_trailer_attached,
                sun_factor=plan.sun_factor * (1.0 - likely_value(plan.shade_frac)),
                open_sun_factor=plan.sun_factor,
                shade_times=tuple(
                    _shade(shade, ("day", index, "shade", position), complaints)
                    for position, shade in enumerate(plan.shade)
                ),
            )
        )
    return tuple(plans)


def _lasting(period: Period, start: int, end: int) -> Iterator[DesignPeriod]:
    """Yield a period as long as it lasts; nothing where that is no minute."""
    length = end - start if end > start else end + MINUTES_PER_DAY - start
    lasts = length if period.lasts_h is None else min(length, round(likely_value(period.lasts_h) * 60))
    if lasts > 0:
        last = start + lasts
        end = last if last <= MINUTES_PER_DAY else last - MINUTES_PER_DAY
        yield DesignPeriod(start_min=start, end_min=end, state=period.state)


def _shade(shade: ShadeTime, path: Path, complaints: Complaints) -> DesignShade:
    start, end = stretch_minutes(shade.start, shade.end, path, complaints)
    return DesignShade(start_min=start, end_min=end, shade_frac=likely_value(shade.shade_frac))


def _taken_by(taken: list[str], start: int, end: int, state: str) -> str:
    """Mark the minutes of a period; return the state of an earlier one it overlaps, or nothing."""
    is_past_midnight = end <= start
    stretch = [*range(start, MINUTES_PER_DAY), *range(end)] if is_past_midnight else [*range(start, end)]
    clash = next((taken[minute] for minute in stretch if taken[minute]), "")
    for minute in stretch:
        taken[minute] = state
    return clash


def _repeat_hint(entry: str, known: Container[str]) -> str:
    """Return how a repeated day is written, where the x between number and day was left out."""
    number, _, name = entry.strip().partition(" ")
    is_repeat = number.isdecimal() and name.strip() in known
    return f"write '{number} x {name.strip()}' for {number} such days" if is_repeat else ""


def resolved_days(job: Job, complaints: Complaints) -> tuple[int, ...]:
    """Return the sequence of days as indices of plans."""
    index_by_id = {plan.id: index for index, plan in enumerate(job.day)}
    days: list[int] = []
    for position, entry in enumerate(job.use.days):
        names = day_names(entry)
        if names is None:
            complaints.add(
                ("use", "days", position), f"'{entry}' repeats a day too often; 1 to 366 times is possible"
            )
            continue
        if names[0] not in index_by_id:
            hint = _repeat_hint(entry, index_by_id) or meant(names[0], index_by_id)
            complaints.add(("use", "days", position), f"no day plan '{names[0]}'; {hint}")
            continue
        days += [index_by_id[name] for name in names]
    if len(days) > MOST_DAYS:
        complaints.add(("use", "days"), f"{len(days)} days; at most {MOST_DAYS} can be calculated")
    return tuple(days)

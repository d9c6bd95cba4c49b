"""Predicted readings of the system as a whole: battery at rest, standby, what is set, and the output channels."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.as_left import reading_tolerance
from ampwright.assessment.result import Assessment
from ampwright.assessment.settings_plan import settings_plan
from ampwright.assessment.settings_records import SettingLine
from ampwright.energy.bank import rest_v
from ampwright.energy.endurance import standing_drain_a
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.fieldwork.tolerance import (
    MILLIAMPERE_CLAMP,
    MULTIMETER,
    Contribution,
    combined_tolerance,
    reading_half_width,
)
from ampwright.job.design import Design

__all__ = ["REST_HOURS", "STANDBY_FRAC", "standby_a", "system_tests"]

REST_SOCS_FRAC = (1.0, 0.75, 0.5, 0.25)
SOC_STEP_FRAC = 0.1
"""How far a person knows the state of charge that belongs to a rest voltage (docs/choices.md#test-charge)."""
LITHIUM_SOCS_FRAC = (0.1, 0.98)
"""Between these a lithium battery at rest tells nothing but that it is alive (docs/choices.md#test-charge)."""
REST_HOURS = {"lfp": 1.0, "agm": 8.0, "gel": 8.0, "flooded": 8.0}
"""Hours without charge or load before a rest voltage is read (docs/choices.md#test-charge)."""
STANDBY_FRAC = 0.3
"""How far own consumption may be from the data sheets (docs/choices.md#test-doubts)."""
STANDBY_MINUTES = 15.0
"""Minutes until electronics are asleep (docs/choices.md#test-charge)."""
THRESHOLDS = {"open_v", "close_v", "start_v", "stop_v"}
STEP_V = 0.1
"""Steps of the bench supply while a threshold is looked for (docs/choices.md#test-charge)."""


def system_tests(found: Assessment) -> Iterator[PredictedTest]:
    """Yield what is read of the whole system."""
    yield from _rest(found.design)
    yield _standby(found.design)
    for device in settings_plan(found).devices:
        for line in device.lines:
            if line.name in THRESHOLDS and isinstance(line.value, float):
                yield _threshold(found.design, device.id, line, line.value)
    yield from _limits(found)


def _rest(design: Design) -> Iterator[PredictedTest]:
    battery = design.parts[design.battery].id
    chemistry = design.battery_part().chemistry
    if chemistry == "lfp":
        low, high = (rest_v(design, frac) for frac in LITHIUM_SOCS_FRAC)
        half_v = reading_half_width(MULTIMETER, high)
        spread = Contribution(cause="charge", half_width=0.5 * (high - low))
        yield PredictedTest(
            kind="rest-voltage",
            subject=battery,
            at=battery,
            state="rest",
            warm_up_minutes=60.0 * REST_HOURS[chemistry],
            unit="V",
            expected=0.5 * (low + high),
            contributions=(Contribution(cause="instrument", half_width=half_v), spread),
            low=low - half_v,
            high=high + half_v,
        )
        return
    for frac in REST_SOCS_FRAC:
        yield _lead_rest(design, battery, frac)


def _lead_rest(design: Design, battery: str, soc_frac: float) -> PredictedTest:
    here = rest_v(design, soc_frac)
    edges = [rest_v(design, min(1.0, max(0.0, soc_frac + sign * SOC_STEP_FRAC))) for sign in (-1.0, 1.0)]
    doubts = (
        Contribution(cause="instrument", half_width=reading_half_width(MULTIMETER, here)),
        Contribution(cause="charge", half_width=max(abs(edge - here) for edge in edges)),
    )
    return PredictedTest(
        kind="rest-voltage",
        subject=battery,
        at=battery,
        state="rest",
        warm_up_minutes=60.0 * REST_HOURS[design.battery_part().chemistry],
        soc_frac=soc_frac,
        unit="V",
        expected=here,
        contributions=doubts,
        low=here - combined_tolerance(doubts),
        high=here + combined_tolerance(doubts),
    )


def standby_a(design: Design) -> float:
    """Return what leaves the battery's post with everything off: own consumption that never stops.

    What a battery uses inside its own case passes no clamp.
    """
    return standing_drain_a(design, with_battery=False)


def _standby(design: Design) -> PredictedTest:
    expected = standby_a(design)
    doubts = (
        Contribution(cause="instrument", half_width=reading_half_width(MILLIAMPERE_CLAMP, expected)),
        Contribution(cause="device", half_width=STANDBY_FRAC * expected),
    )
    return PredictedTest(
        kind="standby-current",
        subject=design.parts[design.battery].id,
        at=design.parts[design.battery].id,
        state="off",
        warm_up_minutes=STANDBY_MINUTES,
        unit="A",
        expected=expected,
        contributions=doubts,
        high=expected + combined_tolerance(doubts),
    )


def _threshold(design: Design, device: str, line: SettingLine, value_v: float) -> PredictedTest:
    step_v = next(
        (
            float(getattr(placed.part, "voltage_step_v", 0.0))
            for placed in design.parts
            if placed.id == device
        ),
        0.0,
    )
    doubts = (
        Contribution(cause="instrument", half_width=reading_half_width(MULTIMETER, value_v)),
        Contribution(
            cause="device", half_width=math.hypot(reading_tolerance(line.name, step_v), 0.5 * STEP_V)
        ),
    )
    spread_v = combined_tolerance(doubts)
    return PredictedTest(
        kind="threshold",
        subject=device,
        name=line.name,
        state="bench",
        unit="V",
        expected=value_v,
        contributions=doubts,
        low=value_v - spread_v,
        high=value_v + spread_v,
    )


def _limits(found: Assessment) -> Iterator[PredictedTest]:
    design = found.design
    for channel in sorted(design.channels, key=lambda each: (each.part, each.number)):
        group = next((one for one in found.network.alone if one.node == channel.node), None)
        on = tuple(design.loads[index].id for index in group.loads) if group is not None else ()
        peak_a = max(group.low_a, group.high_a) if group is not None else math.nan
        half_a = reading_tolerance("limit_a", 0.0)
        yield PredictedTest(
            kind="channel-limit",
            subject=f"{design.parts[channel.part].id}.{channel.number}",
            name=channel.name,
            state="bench",
            switched_on=on,
            load_a=None if math.isnan(peak_a) else peak_a,
            unit="A",
            expected=channel.limit_a,
            contributions=(Contribution(cause="device", half_width=half_a),),
            low=channel.limit_a - half_a,
            high=min(channel.limit_a + half_a, channel.max_a),
        )

"""Predicted readings of each charger: current it gives, what its cables lose, voltage at which charging ends."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ampwright.assessment.as_left import reading_tolerance
from ampwright.assessment.reach import reached
from ampwright.assessment.result import Assessment
from ampwright.energy.alternator import AlternatorState
from ampwright.energy.bank import bank_table, rest_v
from ampwright.fieldwork.bench import Bench, FeedingSource, WayDrop, way_drop
from ampwright.fieldwork.predicted import PredictedTest, State
from ampwright.fieldwork.predicted_circuits import battery_source, loop_doubts
from ampwright.fieldwork.tolerance import (
    CLAMP,
    MULTIMETER,
    Cause,
    Contribution,
    combined_tolerance,
    reading_half_width,
)
from ampwright.job.design import Design, DesignPart
from ampwright.job.supply import alternator_name, supply
from ampwright.network.demand import Demand, charge_setting_v, output_limit_a
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["BULK_SOC_FRAC", "CHARGER_WARM_MINUTES", "charger_tests"]

BULK_SOC_FRAC = 0.5
"""Charge of the battery while chargers are tested: low enough to take all they give (docs/choices.md#test-charge)."""
CHARGER_WARM_MINUTES = 10.0
"""Minutes a charger runs before it is read (docs/choices.md#test-charge)."""
CHARGER_FRAC = 0.05
ALTERNATOR_FRAC = 0.15
SUN_FRAC = 0.25
CELL_HOTTER_K = 30.0
"""Doubts of a charger's output, of a hot alternator, of the sun on a panel, and its cells above 25 degC
(docs/choices.md#test-doubts)."""
FULL_SUN_W_M2 = 1000.0
TAPER_FRAC = 0.05
"""Part of its output a charger still gives when the end of charge is read (docs/choices.md#test-charge)."""


@record
class _Output:
    """What a charger should give in one state."""

    placed: DesignPart
    """The charger."""
    state: State
    """What feeds it."""
    at: str
    """Node of its output."""
    output_a: float
    """Current it should give."""
    input_a: float
    """Current it takes from the vehicle; 0 for others."""
    doubts: tuple[tuple[Cause, float], ...]
    """Causes beside the instrument, each as a part of the output."""


def charger_tests(found: Assessment, bench: Bench) -> Iterator[PredictedTest]:
    """Yield the readings of each charger, alternator first."""
    design = found.design
    for output in (*_alternator(found), *_mains(design), *_panels(design)):
        yield _current(output)
        yield from _drops(found, bench, output)
    for placed in design.parts:
        setting_v = charge_setting_v(placed)
        if setting_v > 0.0:
            yield _end_of_charge(found, placed, setting_v)


def _bulk_v(design: Design, output_a: float) -> float:
    return rest_v(design, BULK_SOC_FRAC) + output_a * bank_table(design).resistance_ohm


def _alternator(found: Assessment) -> Iterator[_Output]:
    design = found.design
    chargers = [placed for placed, _ in design.placed(AlternatorCharger)]
    for position, placed in enumerate(chargers):
        name = alternator_name(design, placed)
        for one in found.energy.alternator:
            if one.is_night or one.name != name or len(one.input_a) < len(chargers):
                continue
            yield _alternator_output(design, placed, one, position)


def _alternator_output(design: Design, placed: DesignPart, state: AlternatorState, position: int) -> _Output:
    limit_a = state.limit_a[position]
    output_a = min(limit_a, state.available_w[position] / _bulk_v(design, limit_a))
    is_short = output_a < limit_a - 1e-9
    doubts: list[tuple[Cause, float]] = [("device", CHARGER_FRAC)]
    if is_short:
        # what is spare is the difference of a hot alternator and the vehicle's own load, so its doubt weighs more
        doubts.append(("load", ALTERNATOR_FRAC * state.hot_a / max(state.spare_a, 1e-9)))
    efficiency = placed.part.efficiency_frac if isinstance(placed.part, AlternatorCharger) else 1.0
    volts = supply(design, state.name).alternator_v
    input_a = min(state.input_a[position], output_a * _bulk_v(design, output_a) / efficiency / volts)
    return _Output(
        placed=placed,
        state=state.state,
        at=f"{placed.id}.out",
        output_a=output_a,
        input_a=input_a,
        doubts=tuple(doubts),
    )


def _mains(design: Design) -> Iterator[_Output]:
    for placed in design.parts:
        part = placed.part
        is_charger = isinstance(part, MainsCharger) or (
            isinstance(part, Inverter) and part.charger_max_a > 0.0
        )
        if is_charger:
            yield _Output(
                placed=placed,
                state="hooked-up",
                at=placed.id if isinstance(part, Inverter) else f"{placed.id}.out",
                output_a=output_limit_a(placed),
                input_a=0.0,
                doubts=(("device", CHARGER_FRAC),),
            )


def _panels(design: Design) -> Iterator[_Output]:
    for placed, controller in design.placed(PanelController):
        panels = _panels_of(design, placed)
        if not panels:
            continue
        limit_a = output_limit_a(placed)
        volts = _bulk_v(design, limit_a)
        full_a = sum(_full_sun_a(group, part, controller, volts) for group, part in panels)
        yield _Output(
            placed=placed,
            state="sun",
            at=f"{placed.id}.out",
            output_a=min(limit_a, full_a),
            input_a=0.0,
            doubts=(("device", CHARGER_FRAC), ("sun", SUN_FRAC)),
        )


def _full_sun_a(group: DesignPart, panel: Panel, controller: PanelController, bus_v: float) -> float:
    """Return what a group of panels gives at 1000 W/m² with warm cells, at the controller's output."""
    if controller.tracking == "switching":
        return group.strings * panel.short_circuit_a * (1.0 - group.shade_frac)
    warm = 1.0 + panel.power_frac_per_k * CELL_HOTTER_K
    power_w = group.case_count * panel.power_w * warm * (1.0 - group.shade_frac)
    return power_w * controller.efficiency_frac / bus_v


def _panels_of(design: Design, controller: DesignPart) -> list[tuple[DesignPart, Panel]]:
    near = reached(design, design.node_of(f"{controller.id}.in"))
    return [(placed, part) for placed, part in design.placed(Panel) if design.node_of(placed.id) in near]


def _current(output: _Output) -> PredictedTest:
    amps = output.output_a
    doubts = (
        Contribution(cause="instrument", half_width=reading_half_width(CLAMP, amps)),
        *(Contribution(cause=cause, half_width=frac * amps) for cause, frac in output.doubts),
    )
    spread_a = combined_tolerance(doubts)
    return PredictedTest(
        kind="charger-output",
        subject=output.placed.id,
        at=output.at,
        state=output.state,
        warm_up_minutes=CHARGER_WARM_MINUTES,
        soc_frac=BULK_SOC_FRAC,
        unit="A",
        expected=amps,
        contributions=doubts,
        low=max(amps - spread_a, 0.0),
        high=amps + spread_a,
        note="" if amps > 0.0 else "never starts",
    )


def _drops(found: Assessment, bench: Bench, output: _Output) -> Iterator[PredictedTest]:
    """Yield what is lost between charger and battery, and between alternator and charger."""
    design = found.design
    ways = [(output.at, output.output_a, battery_source(design), -1.0)]
    if output.input_a > 0.0:
        vehicle = supply(design, alternator_name(design, output.placed))
        feeding = FeedingSource(rest_v=vehicle.alternator_v, half_v=0.0, resistance_ohm=0.0)
        ways.append((f"{output.placed.id}.in", output.input_a, feeding, 1.0))
    if output.state not in {"road", "hooked-up"}:
        return
    for name, amps, source, sign in ways:
        node = design.node_of(name)
        way = _way(bench, node, amps=sign * amps, source=source) if node >= 0 and amps > 0.0 else None
        if way is not None:
            yield _drop(output, name, amps, way)


def _way(bench: Bench, node: int, *, amps: float, source: FeedingSource) -> WayDrop | None:
    count = len(bench.design.nodes)
    current_a = np.zeros(count)
    current_a[node] = amps
    demand = Demand(power_w=np.zeros(count), current_a=current_a, conductance_siemens=np.zeros(count))
    return way_drop(bench, node, demand=demand, source_v=source.rest_v)


def _drop(output: _Output, at: str, amps: float, way: WayDrop) -> PredictedTest:
    lost_v = abs(way.drop_v)
    ohm, doubts = loop_doubts(way, amps, 2.0 * reading_half_width(MULTIMETER, lost_v))
    return PredictedTest(
        kind="charger-drop",
        subject=output.placed.id,
        at=at,
        state=output.state,
        load_a=amps,
        warm_up_minutes=CHARGER_WARM_MINUTES,
        soc_frac=BULK_SOC_FRAC,
        unit="Ω",
        expected=abs(ohm),
        contributions=doubts,
        high=abs(ohm) + combined_tolerance(doubts),
        name=at.rpartition(".")[2],
    )


def _end_of_charge(found: Assessment, placed: DesignPart, setting_v: float) -> PredictedTest:
    design = found.design
    is_inverter = isinstance(placed.part, Inverter)
    node = design.node_of(placed.id if is_inverter else f"{placed.id}.out")
    path_ohm = float(np.nan_to_num(found.network.path_ohm[node])) if node >= 0 else 0.0
    tail_v = TAPER_FRAC * output_limit_a(placed) * path_ohm
    step_v = float(getattr(placed.part, "voltage_step_v", 0.0))
    doubts = (
        Contribution(cause="instrument", half_width=reading_half_width(MULTIMETER, setting_v)),
        Contribution(cause="device", half_width=max(reading_tolerance("charge_v", step_v), 0.05)),
        Contribution(cause="load", half_width=tail_v),
    )
    spread_v = combined_tolerance(doubts)
    return PredictedTest(
        kind="charge-voltage",
        subject=placed.id,
        at=design.parts[design.battery].id,
        state="bench",
        soc_frac=1.0,
        unit="V",
        expected=setting_v - tail_v,
        contributions=doubts,
        low=setting_v - tail_v - spread_v,
        high=setting_v - tail_v + spread_v,
    )

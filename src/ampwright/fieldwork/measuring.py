"""What to measure on the vehicle, where, what to expect, and which line of the job file the reading replaces.

Answers what the alternator really gives hot and what its feed really loses. It judges no reading.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.energy.alternator import AlternatorState
from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.job.supply import MAIN
from ampwright.network.result import NetworkResult
from ampwright.parts.charger import AlternatorCharger
from ampwright.records import record

__all__ = ["MEASURING_CAUTIONS", "MeasuringPlan", "MeasuringStep", "measuring_plan"]

HOT_MINUTES = 30
"""Minutes of idling until alternator and engine space are hot (common practice, no source)."""
MEASURING_CAUTIONS = (
    "Exhaust gas kills: measure in the open, nobody asleep beside it, and not over dry grass. Many places forbid idling.",
    "Belt, pulleys and fan start without warning: keep hands, hair, sleeves and leads away; engine off to move the clamp.",
    "Alternator and exhaust are hot. Clamp over insulation only; never open a live joint. Insulated tools, no rings.",
    "On the road a second person reads, or the meter's memory does: never the driver.",
    "Use a clamp that measures direct current; set it to zero near the conductor, arrow along the current.",
)
ALTERNATOR_LEAD = "clamp on the alternator's thick positive lead, all its strands"
AT_STARTER = "voltmeter straight on the posts of the starter battery, not on the clamps"


@record
class MeasuringStep:
    """One reading."""

    title: str
    """What is measured."""
    how: str
    """State of the vehicle and of everything in it."""
    where: str
    """Where the instrument goes."""
    expected: float | None
    """What the job file foretells; None = it says nothing."""
    unit: str
    """Unit of the reading."""
    field: str
    """Field of the job file that the reading replaces; empty = it only tells whether the prediction holds."""
    line: str
    """The line to write there, 0.0 standing for the reading; empty without a field."""
    meaning: str
    """What a large difference means."""
    also: tuple[str, ...] = ()
    """Readings to be written down beside it, with their units."""


@record
class MeasuringPlan:
    """The whole procedure for one job."""

    job: str
    """Id of the job."""
    cautions: tuple[str, ...]
    """What can hurt."""
    steps: tuple[MeasuringStep, ...]
    """Readings in the order in which they are taken."""
    note: str
    """What else must be known; empty = nothing."""


def measuring_plan(
    design: Design, network: NetworkResult, alternator: tuple[AlternatorState, ...]
) -> MeasuringPlan:
    """Return the procedure for a vehicle; without an alternator only what the parked vehicle takes."""
    steps = (*_parked(design), *_engine(design, network, alternator)) if _has_any(design) else ()
    return MeasuringPlan(
        job=design.job.job.id,
        cautions=MEASURING_CAUTIONS if steps else (),
        steps=steps,
        note=""
        if steps
        else "This job has neither alternator nor starter battery: there is nothing to measure.",
    )


def _has_any(design: Design) -> bool:
    return design.vehicle.has_alternator or design.vehicle.has_starter_battery


def line_of_reading(name: str, how: str) -> str:
    """Return the line of TOML that puts a reading in the place of a figure."""
    return f'{name} = {{ measured = 0.0, how = "{how}, instrument, date" }}'


def _parked(design: Design) -> Iterator[MeasuringStep]:
    if design.vehicle.has_starter_battery:
        yield MeasuringStep(
            title="What the parked vehicle takes",
            how="Engine off, doors locked, key away, everything asleep: wait an hour. Chargers off.",
            where="milliampere clamp on the negative lead of the starter battery, every lead that leaves the post",
            expected=design.vehicle.starter_standby_a,
            unit="A",
            field="vehicle.starter_battery.standby_a",
            line=line_of_reading("standby_a", "parked, asleep"),
            meaning="More: something stays awake, or a charger draws on the starter battery.",
        )


def _engine(
    design: Design, network: NetworkResult, alternator: tuple[AlternatorState, ...]
) -> Iterator[MeasuringStep]:
    if not design.vehicle.has_alternator:
        return
    yield from _own_loads(design)
    yield from _voltages(design)
    feeds = _feeds(design)
    for state in alternator:
        if not state.is_night or state.is_reached:
            yield _hot(state)
            yield from _inputs(design, network, state, feeds)


def _own_loads(design: Design) -> Iterator[MeasuringStep]:
    for is_night, expected in (
        (False, design.vehicle.own_load_day_a),
        (True, design.vehicle.own_load_night_a),
    ):
        when, name = ("night", "own_load_night_a") if is_night else ("day", "own_load_day_a")
        yield MeasuringStep(
            title=f"What the vehicle itself takes by {when}",
            how="Engine warm, all chargers and relays off (their fuse out while the engine stands), starter battery full: "
            "drive 20 minutes before. Heater fan and, where the use has it, air conditioning on; "
            + ("lights and rear-window heater on." if is_night else "lights as by day."),
            where=ALTERNATOR_LEAD,
            expected=expected,
            unit="A",
            field=f"vehicle.alternator.{name}",
            line=line_of_reading(name, f"chargers off, by {when}"),
            meaning="More: less is spare for the chargers; wait until the starter battery takes nothing before believing "
            "it. Less: more is spare.",
        )


def _voltages(design: Design) -> Iterator[MeasuringStep]:
    vehicle = design.vehicle
    for title, how, name, expected in (
        ("Usual voltage", "Engine at 1500 a minute, chargers off.", "voltage_v", vehicle.alternator_v),
        (
            "Lowest voltage on the road",
            "Half an hour of road with every way of driving: steady, uphill, long downhill. Note the lowest.",
            "lowest_v",
            vehicle.alternator_low_v,
        ),
        (
            "Highest voltage on the road",
            "The same drive, also after a cold start. Note the highest.",
            "highest_v",
            vehicle.alternator_high_v,
        ),
    ):
        yield MeasuringStep(
            title=title,
            how=how,
            where=AT_STARTER,
            expected=expected,
            unit="V",
            field=f"vehicle.alternator.{name}",
            line=line_of_reading(name, "at the starter battery"),
            meaning='Far apart on one drive: the engine computer regulates it; write regulation = "regulated".',
            also=("state of driving",) if name != "voltage_v" else (),
        )


def _hot(state: AlternatorState) -> MeasuringStep:
    asked_a = state.own_a + state.wanted_a
    when = "lights on" if state.is_night else "by day"
    lit = ", lights on" if state.is_night else ""
    how = (
        f"Engine space hot: {HOT_MINUTES} minutes at idle, bonnet shut"
        if state.state == "idle"
        else f"After {HOT_MINUTES} minutes on the road, at steady speed"
    )
    name = "hot_road_a" if state.state == "road" else "hot_idle_a"
    return MeasuringStep(
        title=f"What the {state.name} gives hot, {_state_words(state)}{lit}",
        how=f"{how}, {when}, auxiliary battery below half, chargers at full output.",
        where=ALTERNATOR_LEAD,
        expected=min(state.hot_a, asked_a),
        unit="A",
        field=f"vehicle.{state.name.replace(' ', '_')}.{name}",
        line=line_of_reading(name, f"clamp on the lead, {_state_words(state)}, {when}"),
        meaning=f"{asked_a:.0f} A are asked of it. If voltage holds and all chargers get their current, the reading is only "
        "what was asked and it can give more: switch on more until the voltage falls before writing it down. "
        "Less, and the voltage falls: this is its limit; believe it and not the label.",
        also=("voltage then, V", "outside air, °C"),
    )


def _state_words(state: AlternatorState) -> str:
    return "on the road" if state.state == "road" else "at idle"


def _at(state: AlternatorState) -> str:
    return AT_STARTER if state.name == MAIN else f"voltmeter straight on the studs of the {state.name}"


def _feeds(design: Design) -> tuple[tuple[DesignPart, str], ...]:
    """Return what the alternator feeds, in the order of its balance: chargers, then relays."""
    chargers = tuple((placed, f"{placed.id}.in") for placed, _ in design.placed(AlternatorCharger))
    joins = relay_joins(design)
    return (*chargers, *((join.placed, design.nodes[join.starter_end]) for join in joins))


def _inputs(
    design: Design, network: NetworkResult, state: AlternatorState, feeds: tuple[tuple[DesignPart, str], ...]
) -> Iterator[MeasuringStep]:
    """Yield current and voltage at what the alternator feeds, once by day in each state."""
    if state.is_night or len(state.input_a) != len(feeds):
        return
    for (placed, node), amps in zip(feeds, state.input_a, strict=True):
        if amps <= 0.0:
            continue
        path_ohm = float(network.path_ohm[design.node_of(node)])
        yield MeasuringStep(
            title=f"Current into {placed.id}, {_state_words(state)}",
            how="As before, at the same moment.",
            where=f"clamp on the positive lead at {node}",
            expected=amps,
            unit="A",
            field="",
            line="",
            meaning="Less: the battery is full, the charger is hot, or its input voltage is at the lock-out. "
            "None: no run signal, or the fuse is open.",
        )
        yield MeasuringStep(
            title=f"Voltage lost on the way to {placed.id}, {_state_words(state)}",
            how="As before: the difference of two readings, positive and negative lead together.",
            where=f"{_at(state)}; then on the terminals of {node}",
            expected=amps * path_ohm,
            unit="V",
            also=("at the source, V", "at the device, V"),
            **_joint(design, node, path_ohm),
        )


def _joint(design: Design, node: str, path_ohm: float) -> dict[str, str]:
    """Return field, line and meaning of a reading of the whole way to a node: what is too much sits in joints."""
    index = design.node_of(node)
    run = next((run for run in design.runs if index in {run.start, run.end}), None)
    text = (
        f"By the job file the whole way has {1000.0 * path_ohm:.1f} mohm: divide the reading by the current read. More: a "
        "bad joint, a thin return, a hot fuse holder; feel along it with the engine off."
    )
    if run is None or run.is_inside_module:
        return {"field": "", "line": "", "meaning": text}
    rest_ohm = path_ohm - run.joint_ohm
    return {
        "field": f"run.{run.id}.joint_ohm",
        "line": line_of_reading("joint_ohm", "voltage lost over current, the rest of the way taken off"),
        "meaning": f"{text} Write volts over amperes less {rest_ohm:.4f} ohm.",
    }

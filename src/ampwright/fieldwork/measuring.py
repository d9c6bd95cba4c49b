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
from ampwright.said import Said, said, said_together

__all__ = ["MEASURING_CAUTIONS", "MeasuringPlan", "MeasuringStep", "measuring_plan"]

HOT_MINUTES = 30
"""Minutes of idling until alternator and engine space are hot (common practice, no source)."""
MEASURING_CAUTIONS = (
    said(
        "Exhaust gas kills: measure in the open, nobody asleep beside it, and not over dry grass. Many places forbid idling."
    ),
    said(
        "Belt, pulleys and fan start without warning: keep hands, hair, sleeves and leads away; engine off to move the clamp."
    ),
    said(
        "Alternator and exhaust are hot. Clamp over insulation only; never open a live joint. Insulated tools, no rings."
    ),
    said("On the road a second person reads, or the meter's memory does: never the driver."),
    said(
        "Use a clamp that measures direct current; set it to zero near the conductor, arrow along the current."
    ),
)
ALTERNATOR_LEAD = said("clamp on the alternator's thick positive lead, all its strands")
AT_STARTER = said("voltmeter straight on the posts of the starter battery, not on the clamps")


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
        else said("This job has neither alternator nor starter battery: there is nothing to measure."),
    )


def _has_any(design: Design) -> bool:
    return design.vehicle.has_alternator or design.vehicle.has_starter_battery


def line_of_reading(name: str, how: Said) -> Said:
    """Return the line of TOML that puts a reading in the place of a figure."""
    return said('{name} = {{ measured = 0.0, how = "{how}, instrument, date" }}', name=name, how=how)


def _parked(design: Design) -> Iterator[MeasuringStep]:
    if design.vehicle.has_starter_battery:
        yield MeasuringStep(
            title=said("What the parked vehicle takes"),
            how=said("Engine off, doors locked, key away, everything asleep: wait an hour. Chargers off."),
            where=said(
                "milliampere clamp on the negative lead of the starter battery, every lead that leaves the post"
            ),
            expected=design.vehicle.starter_standby_a,
            unit="A",
            field="vehicle.starter_battery.standby_a",
            line=line_of_reading("standby_a", said("parked, asleep")),
            meaning=said("More: something stays awake, or a charger draws on the starter battery."),
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
        name = "own_load_night_a" if is_night else "own_load_day_a"
        title = (
            said("What the vehicle itself takes by night")
            if is_night
            else said("What the vehicle itself takes by day")
        )
        yield MeasuringStep(
            title=title,
            how=said_together(
                (
                    said(
                        "Engine warm, all chargers and relays off (their fuse out while the engine stands), starter battery "
                        "full: drive 20 minutes before. Heater fan and, where the use has it, air conditioning on;"
                    ),
                    said("lights and rear-window heater on.") if is_night else said("lights as by day."),
                )
            ),
            where=ALTERNATOR_LEAD,
            expected=expected,
            unit="A",
            field=f"vehicle.alternator.{name}",
            line=line_of_reading(
                name, said("chargers off, by night") if is_night else said("chargers off, by day")
            ),
            meaning=said(
                "More: less is spare for the chargers; wait until the starter battery takes nothing before believing it. "
                "Less: more is spare."
            ),
        )


def _voltages(design: Design) -> Iterator[MeasuringStep]:
    vehicle = design.vehicle
    for title, how, name, expected in (
        (
            said("Usual voltage"),
            said("Engine at 1500 a minute, chargers off."),
            "voltage_v",
            vehicle.alternator_v,
        ),
        (
            said("Lowest voltage on the road"),
            said(
                "Half an hour of road with every way of driving: steady, uphill, long downhill. Note the lowest."
            ),
            "lowest_v",
            vehicle.alternator_low_v,
        ),
        (
            said("Highest voltage on the road"),
            said("The same drive, also after a cold start. Note the highest."),
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
            line=line_of_reading(name, said("at the starter battery")),
            meaning=said(
                'Far apart on one drive: the engine computer regulates it; write regulation = "regulated".'
            ),
            also=(said("state of driving"),) if name != "voltage_v" else (),
        )


def _hot(state: AlternatorState) -> MeasuringStep:
    asked_a = state.own_a + state.wanted_a
    when = said("lights on") if state.is_night else said("by day")
    how = (
        said("Engine space hot: {minutes} minutes at idle, bonnet shut", minutes=HOT_MINUTES)
        if state.state == "idle"
        else said("After {minutes} minutes on the road, at steady speed", minutes=HOT_MINUTES)
    )
    title = said(
        "What the {alternator} gives hot, {state}", alternator=Said(state.name, {}), state=_state_words(state)
    )
    name = "hot_road_a" if state.state == "road" else "hot_idle_a"
    return MeasuringStep(
        title=said_together((title, when if state.is_night else ""), between=", "),
        how=said("{how}, {when}, auxiliary battery below half, chargers at full output.", how=how, when=when),
        where=ALTERNATOR_LEAD,
        expected=min(state.hot_a, asked_a),
        unit="A",
        field=f"vehicle.{state.name.replace(' ', '_')}.{name}",
        line=line_of_reading(
            name, said_together((said("clamp on the lead"), _state_words(state), when), between=", ")
        ),
        meaning=said(
            "{asked_a:.0f} A are asked of it. If voltage holds and all chargers get their current, the reading is only "
            "what was asked and it can give more: switch on more until the voltage falls before writing it down. "
            "Less, and the voltage falls: this is its limit; believe it and not the label.",
            asked_a=asked_a,
        ),
        also=(said("voltage then, V"), said("outside air, °C")),
    )


def _state_words(state: AlternatorState) -> Said:
    return said("on the road") if state.state == "road" else said("at idle")


def _at(state: AlternatorState) -> Said:
    if state.name == MAIN:
        return AT_STARTER
    return said("voltmeter straight on the studs of the {alternator}", alternator=Said(state.name, {}))


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
    for index, ((placed, node), amps) in enumerate(zip(feeds, state.input_a, strict=True)):
        if amps <= 0.0:
            continue
        if isinstance(placed.part, AlternatorCharger):
            yield _output(
                placed, state, min(state.limit_a[index], state.available_w[index] / placed.part.charge_v)
            )
        path_ohm = float(network.path_ohm[design.node_of(node)])
        yield MeasuringStep(
            title=said("Current into {part}, {state}", part=placed.id, state=_state_words(state)),
            how=said("As before, at the same moment."),
            where=said("clamp on the positive lead at {node}", node=node),
            expected=amps,
            unit="A",
            field="",
            line="",
            meaning=said(
                "Less: the battery is full, the charger is hot, or its input voltage is at the lock-out. None: no run "
                "signal, or the fuse is open."
            ),
        )
        yield MeasuringStep(
            title=said(
                "Voltage lost on the way to {part}, {state}", part=placed.id, state=_state_words(state)
            ),
            how=said("As before: the difference of two readings, positive and negative lead together."),
            where=said("{first}; then on the terminals of {node}", first=_at(state), node=node),
            expected=amps * path_ohm,
            unit="V",
            also=(said("at the source, V"), said("at the device, V")),
            **_joint(design, node, path_ohm),
        )


def _output(placed: DesignPart, state: AlternatorState, expected_a: float) -> MeasuringStep:
    """Return the reading of what a charger gives; it goes before the label where the job places the charger itself."""
    return MeasuringStep(
        title=said("Current out of {part}, {state}", part=placed.id, state=_state_words(state)),
        how=said("At the same moment; auxiliary battery below half."),
        where=said("clamp on the positive lead at {node}", node=f"{placed.id}.out"),
        expected=expected_a,
        unit="A",
        field="" if placed.is_inside_module else f"part.{placed.id}.output_a",
        line=""
        if placed.is_inside_module
        else line_of_reading(
            "output_a", said_together((said("clamp at the output"), _state_words(state)), between=", ")
        ),
        meaning=said(
            "Less than its label with the input voltage well above the lock-out: it is hot or set lower; the reading is "
            "what counts. Less with a low input voltage: the way to it is thin."
        ),
    )


def _joint(design: Design, node: str, path_ohm: float) -> dict[str, str]:
    """Return field, line and meaning of a reading of the whole way to a node: what is too much sits in joints."""
    index = design.node_of(node)
    run = next((run for run in design.runs if index in {run.start, run.end}), None)
    text = said(
        "By the job file the whole way has {path:.1f} mohm: divide the reading by the current read. More: a bad joint, a "
        "thin return, a hot fuse holder; feel along it with the engine off.",
        path=1000.0 * path_ohm,
    )
    if run is None or run.is_inside_module:
        return {"field": "", "line": "", "meaning": text}
    rest_ohm = path_ohm - run.joint_ohm
    return {
        "field": f"run.{run.id}.joint_ohm",
        "line": line_of_reading(
            "joint_ohm", said("voltage lost over current, the rest of the way taken off")
        ),
        "meaning": said_together(
            (text, said("Write volts over amperes less {rest_ohm:.4f} ohm.", rest_ohm=rest_ohm))
        ),
    }

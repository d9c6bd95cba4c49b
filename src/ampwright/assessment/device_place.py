"""Rules on the place of devices: at the source, at both ends where chargers feed back, and the isolator."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import largest_device_a, run_capacity
from ampwright.assessment.circuits import Circuit, channel_limit_a, converter_limit_a
from ampwright.assessment.device_size import FIRE, NO_DEVICE
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import length_text, run_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import is_second_direct
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, Source

__all__ = ["DEVICE_AT_SOURCE", "FED_FROM_BOTH_ENDS", "ISOLATOR"]

WIRING = Group.WIRING


@record
class DeviceDistance:
    """Farthest place of a device from its source, by the region's rules."""

    limit_m: float
    """Length of conductor between them."""
    source: Source
    """Where it comes from."""
    note: str
    """Conditions on it."""


def device_distance(design: Design, *, is_sheathed: bool, is_at_battery: bool) -> DeviceDistance:
    """Return how far from its source a device may sit; the sheath counts only all the way to the device."""
    rules = design.region
    if is_at_battery:
        limit_m = rules.battery_device_sheathed_m if is_sheathed else rules.battery_device_bare_m
        field = "battery_device_sheathed_m" if is_sheathed else "battery_device_bare_m"
    else:
        limit_m = rules.source_device_sheathed_m if is_sheathed else rules.source_device_bare_m
        field = "source_device_sheathed_m" if is_sheathed else "source_device_bare_m"
    notes = [said("at the source where practical; measured along the conductor")]
    notes += [said("in a sheath or enclosure all the way")] if is_sheathed else []
    notes += [said("cranking motor circuits are exempt")] if is_at_battery else []
    notes += [said(rules.note(field))] if rules.note(field) else []
    return DeviceDistance(
        limit_m=limit_m, source=rules.source(field), note=said_together(notes, between="; ")
    )


def _device_at_source(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="device-at-source", group=WIRING, unit="m")
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        if circuit.root_kind == "panel" or channel_limit_a(design, circuit) is not None:
            continue
        capacity = run_capacity(design, run)
        limit_a = converter_limit_a(design, studies.network, circuit)
        if limit_a is not None and capacity.is_known and limit_a <= capacity.current_a:
            continue  # it carries all that can come
        if circuit.is_in_loop and _is_bare_at_battery(design, run):
            yield _without_device(design, run, _battery_end(design, run))
            continue
        if circuit.why_unknown or not capacity.is_known:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=said("{run}: the place of its device could not be judged.", run=run_text(run)),
            )
            continue
        upstream = circuit.upstream
        largest = largest_device_a(design, capacity.current_a, device=upstream.part if upstream else None)
        if upstream is not None and upstream.rating_a <= largest.rating_a:
            yield make(
                severity=Severity.PASS,
                subject=run.id,
                message=said(
                    "{run}: protected from its beginning by {device}.",
                    run=run_text(run),
                    device=upstream.device.id,
                ),
                source=largest.source,
            )
            continue
        yield _own_distance(design, run, circuit)


def _own_distance(design: Design, run: DesignRun, circuit: Circuit) -> Finding:
    make = partial(Finding, rule="device-at-source", group=WIRING, subject=run.id, unit="m")
    own = circuit.own
    if own is None:
        return _without_device(design, run, circuit.feeding_node)
    is_at_battery = design.nodes[circuit.feeding_node] in _battery_nodes(design)
    limit = device_distance(design, is_sheathed=own.device.is_sheathed, is_at_battery=is_at_battery)
    is_far = own.distance_m > limit.limit_m
    return make(
        severity=Severity.FAIL if is_far else Severity.PASS,
        message=said(
            "{device} sits {length} from the source of run {run}; at most {length_2} ({note}).",
            device=own.device.id,
            length=length_text(design, own.distance_m),
            run=run.id,
            length_2=length_text(design, limit.limit_m),
            note=limit.note,
        ),
        value=own.distance_m,
        limit=limit.limit_m,
        source=limit.source,
        way_out=said("Move the device to the source, or sheathe the cable up to it.") if is_far else "",
        caution=FIRE if is_far else "",
    )


def _without_device(design: Design, run: DesignRun, source_node: int) -> Finding:
    return Finding(
        rule="device-at-source",
        group=WIRING,
        subject=run.id,
        unit="m",
        severity=Severity.FAIL,
        message=said(
            "{run}: leaves {nodes} without a device at its source.",
            run=run_text(run),
            nodes=design.nodes[source_node],
        ),
        way_out=said("Put a fuse or breaker at the source."),
        source=COMMON_PRACTICE,
        caution=FIRE,
        no_override=NO_DEVICE,
    )


def _battery_nodes(design: Design) -> set[str]:
    return {STARTER_NODE, design.parts[design.battery].id}


def _battery_end(design: Design, run: DesignRun) -> int:
    """Return the end of a run that is a battery's terminal; -1 where neither is."""
    ends = (run.start, run.end)
    return next((node for node in ends if design.nodes[node] in _battery_nodes(design)), -1)


def _is_bare_at_battery(design: Design, run: DesignRun) -> bool:
    """Say whether a run begins at a battery without any fuse or breaker: then no loop can excuse it."""
    node = _battery_end(design, run)
    battery = design.parts[design.battery]
    has_own_device = any(isinstance(device.part, Fuse | Breaker) for device in run.devices)
    is_behind_strings = node >= 0 and design.nodes[node] == battery.id and battery.string_device is not None
    return node >= 0 and not has_own_device and not is_behind_strings


def _fed_from_both_ends(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what chargers beyond a run can feed back into a fault against its cable: the battery's device is no help."""
    beyond = _fed_back_a(design, studies)
    for run in design.runs:
        back_a = beyond.get(run.index, 0.0)
        if back_a <= 0.0:
            continue
        make = partial(
            Finding, rule="fed-from-both-ends", group=WIRING, subject=run.id, value=back_a, unit="A"
        )
        capacity = run_capacity(design, run)
        told = said(
            "{run}: what charges through it is built for {back_a:g} A and feeds a fault from its own end",
            run=run_text(run),
            back_a=back_a,
        )
        if not capacity.is_known:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said("{told}; no capacity: {note}", told=told, note=capacity.note),
            )
            continue
        guard = _far_guard(design, run, studies.circuits.by_run[run.index], capacity.current_a)
        is_open = back_a > capacity.current_a and guard is None
        yield make(
            severity=Severity.FAIL if is_open else Severity.PASS,
            message=said(
                "{told}; the cable carries {current_a:.0f} A", told=told, current_a=capacity.current_a
            )
            + (said(" and {guard} protects that end.", guard=guard.id) if guard else "."),
            limit=capacity.current_a,
            source=capacity.source if guard is None else COMMON_PRACTICE,
            way_out=said(
                "Use a larger cable, or a device at the charger's end too; a set limit is no protection."
            )
            if is_open
            else "",
            caution=FIRE if is_open else "",
        )


def _fed_back_a(design: Design, studies: Studies) -> dict[int, float]:
    """Return by run what the charging parts beyond it can give together, as built and not as set."""
    by_far = {circuit.far_node: circuit for circuit in studies.circuits.by_run if circuit.feeding_node >= 0}
    inside = {link.end: link.start for link in design.links}
    found: dict[int, float] = {}
    for node, current_a in _charging_nodes(design):
        here, seen = node, set[int]()
        while here not in seen:
            seen.add(here)
            circuit = by_far.get(here)
            if circuit is not None:
                found[circuit.run] = found.get(circuit.run, 0.0) + current_a
            here = circuit.feeding_node if circuit is not None else inside.get(here, here)
    return found


def _charging_nodes(design: Design) -> Iterator[tuple[int, float]]:
    for placed in design.parts:
        part = placed.part
        if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
            yield design.node_of(f"{placed.id}.out"), part.output_max_a
        elif isinstance(part, Inverter) and part.charger_max_a > 0.0:
            yield design.node_of(placed.id), part.charger_max_a
    second = design.vehicle.second
    if second is not None and is_second_direct(design):
        yield design.node_of(SECOND_NODE), second.alternator_a


def _far_guard(design: Design, run: DesignRun, circuit: Circuit, capacity_a: float) -> DesignDevice | None:
    """Return a fitting device near the end of a run that faces the charger."""
    for device in run.devices:
        if not isinstance(device.part, Fuse | Breaker):
            continue
        at_end = run.end if device.end == "to" else run.start
        from_far_m = device.distance_m if at_end == circuit.far_node else run.length_m - device.distance_m
        limit = device_distance(design, is_sheathed=device.is_sheathed, is_at_battery=False)
        largest = largest_device_a(design, capacity_a, device=device.part)
        if from_far_m <= limit.limit_m and device.part.rating_a <= largest.rating_a:
            return device
    return None


def _isolator(design: Design, _: Studies) -> Iterator[Finding]:
    """Name what stays live when every isolator is open: what the battery reaches without passing one."""
    placed = design.parts[design.battery]
    reached = {design.node_of(placed.id)}
    waiting = list(reached)
    steps = _steps_without_isolator(design)
    while waiting:
        node = waiting.pop()
        for start, end in steps:
            other = end if start == node else start if end == node else node
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    is_isolated = len(reached) == 1
    has_any = any(isinstance(device.part, Isolator) for run in design.runs for device in run.devices)
    live = said_together(
        sorted(design.nodes[node] for node in reached if design.nodes[node] != placed.id), between=", "
    )
    told = said("{part} can be cut off from everything by hand.", part=placed.id)
    if not is_isolated:
        told = (
            said("{part} has no isolator.", part=placed.id)
            if not has_any
            else said("{part}: an open isolator leaves live: {live}.", part=placed.id, live=live)
        )
    yield Finding(
        rule="isolator",
        group=WIRING,
        severity=Severity.PASS if is_isolated else Severity.ADVICE,
        subject=placed.id,
        message=told,
        source=COMMON_PRACTICE,
        way_out=""
        if is_isolated
        else said("Put an isolator next to the battery, before anything branches off."),
    )


def _steps_without_isolator(design: Design) -> tuple[tuple[int, int], ...]:
    runs = [
        (run.start, run.end)
        for run in design.runs
        if not any(isinstance(device.part, Isolator) for device in run.devices)
    ]
    return (*runs, *((link.start, link.end) for link in design.links))


DEVICE_AT_SOURCE = Rule(
    name="device-at-source",
    group=WIRING,
    asks="Does each device sit at the source of what it protects?",
    check=_device_at_source,
)
FED_FROM_BOTH_ENDS = Rule(
    name="fed-from-both-ends",
    group=WIRING,
    asks="Does each cable carry what chargers beyond it feed back into a fault, or is it protected at that end too?",
    check=_fed_from_both_ends,
)
ISOLATOR = Rule(
    name="isolator",
    group=WIRING,
    asks="Can the battery be cut off from everything by hand?",
    check=_isolator,
)

"""Rules on voltage: every device against its own threshold, and feeds that cannot carry their load."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.exposure import highest_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.device_settings import set_inverter_stop_v
from ampwright.job.supply import alternator_name, supply
from ampwright.network.demand import charger_input
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.converter import Converter, converter_input_w
from ampwright.parts.inverter import Inverter
from ampwright.said import said
from ampwright.sources import Source, own_choice
from ampwright.standards.regions.rules import RegionRules

__all__ = ["FEED_CARRIES_LOAD", "HIGHEST_VOLTAGE", "LOWEST_VOLTAGE", "WIRED"]

WIRING = Group.WIRING
COLLAPSE_MARGIN = 2.0
"""A charger's input takes at most half of the most its feed could ever give (docs/choices.md#collapse-margin)."""


def _lowest_voltage(design: Design, studies: Studies) -> Iterator[Finding]:
    for load in design.loads:
        if load.inverter < 0:
            yield from _lowest_of_load(studies, load, design.region)
    for placed, part in design.placed(Inverter):
        stop_v = set_inverter_stop_v(placed, part)
        yield _threshold(design, studies, placed.id, stop_v, part_source(part))
    for placed, charger in design.placed(AlternatorCharger):
        set_v = placed.setting.stop_v if placed.setting else None
        source = part_source(charger)
        yield _threshold(design, studies, f"{placed.id}.in", set_v or charger.input_stop_v, source)
    for placed, converter in design.placed(Converter):
        source = part_source(converter)
        yield _threshold(design, studies, f"{placed.id}.in", converter.input_stop_v, source)


def _lowest_of_load(studies: Studies, load: DesignLoad, rules: RegionRules) -> Iterator[Finding]:
    make = partial(Finding, rule="lowest-voltage", group=WIRING, subject=load.id, unit="V", at_most=False)
    voltage_v = float(studies.network.node_low_v[load.node]) if load.node >= 0 else math.nan
    if math.isnan(voltage_v):
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{name}: its voltage could not be calculated (not wired, in a loop, or no steady voltage).",
                name=load.name,
            ),
            way_out=said("Add the cable run that feeds it."),
        )
        return
    weight = Severity.FAIL if load.is_essential else Severity.CONDITION
    if load.min_v is not None:
        is_low = voltage_v < load.min_v
        yield make(
            severity=weight if is_low else Severity.PASS,
            message=said(
                "{name}: {voltage_v:.2f} V at low battery with what runs together; works from {min_v:g} V.",
                name=load.name,
                voltage_v=voltage_v,
                min_v=load.min_v,
            ),
            value=voltage_v,
            limit=load.min_v,
            source=part_source(load.fridge)
            if load.fridge
            else Source(document="job file", place=f"load {load.id}"),
            way_out=said("Use a larger cable, or raise the load cut-off.") if is_low else "",
        )
        return
    root = int(studies.network.root[load.node])
    limit_v = (1.0 - rules.fallback_drop_frac) * float(studies.network.node_low_v[root])
    if math.isnan(limit_v):
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said("{name}: its source's voltage could not be calculated.", name=load.name),
        )
        return
    is_low = voltage_v < limit_v
    yield make(
        severity=Severity.CONDITION if is_low else Severity.PASS,
        message=said(
            "{name}: {voltage_v:.2f} V at low battery; its own limit is not known, a drop of "
            "{fallback_drop_frac:g} % is allowed.",
            name=load.name,
            voltage_v=voltage_v,
            fallback_drop_frac=100.0 * rules.fallback_drop_frac,
        ),
        value=voltage_v,
        limit=limit_v,
        source=rules.source("fallback_drop_frac"),
        way_out=said("Find the load's lowest voltage (min_v), or use a larger cable.") if is_low else "",
    )


def _threshold(design: Design, studies: Studies, node_name: str, limit_v: float, source: Source) -> Finding:
    voltage_v = float(studies.network.node_low_v[design.node_of(node_name)])
    unknown = math.isnan(voltage_v)
    is_low = not unknown and voltage_v < limit_v
    told = (
        said("its voltage could not be calculated")
        if unknown
        else said("{voltage_v:.2f} V at full load", voltage_v=voltage_v)
    )
    return Finding(
        rule="lowest-voltage",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_low else Severity.PASS,
        subject=node_name,
        message=said(
            "{node_name}: {told}; it switches off below {limit_v:g} V.",
            node_name=node_name,
            told=told,
            limit_v=limit_v,
        ),
        value=None if unknown else voltage_v,
        limit=limit_v,
        unit="V",
        at_most=False,
        source=source,
        way_out=said("Use a larger cable or limit its current; it would start and stop by turns.")
        if is_low
        else "",
    )


def _highest_voltage(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="highest-voltage", group=WIRING, unit="V")
    limits: list[tuple[str, int, float | None, Source]] = []
    for load in design.loads:
        if load.node >= 0:
            source = Source(document="job file", place=f"load {load.id}")
            limits.append((load.id, load.node, load.max_v, source))
    for placed, part in design.placed(Inverter):
        limits.append((placed.id, design.node_of(placed.id), part.input_max_v, part_source(part)))
    for placed, charger in design.placed(AlternatorCharger):
        node = design.node_of(f"{placed.id}.in")
        limits.append((f"{placed.id}.in", node, charger.input_max_v, part_source(charger)))
    for placed, converter in design.placed(Converter):
        node = design.node_of(f"{placed.id}.in")
        limits.append((f"{placed.id}.in", node, converter.input_max_v, part_source(converter)))
    for subject, node, limit_v, source in limits:
        voltage_v = highest_v(design, studies.network, node)
        if math.isnan(voltage_v):
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=subject,
                message=said("{subject}: its highest voltage could not be calculated.", subject=subject),
            )
            continue
        if limit_v is None:
            # an unknown upper limit is advice: the bus never exceeds the battery's own charge voltage
            yield make(
                severity=Severity.ADVICE,
                subject=subject,
                message=said(
                    "{subject}: sees up to {voltage_v:.2f} V while charging; its highest voltage is not "
                    "given.",
                    subject=subject,
                    voltage_v=voltage_v,
                ),
                way_out=said("Give max_v from its label."),
            )
            continue
        is_high = voltage_v > limit_v
        yield make(
            severity=Severity.FAIL if is_high else Severity.PASS,
            subject=subject,
            message=said(
                "{subject}: up to {voltage_v:.2f} V while charging; it stands {limit_v:g} V.",
                subject=subject,
                voltage_v=voltage_v,
                limit_v=limit_v,
            ),
            value=voltage_v,
            limit=limit_v,
            source=source,
            way_out=said("Lower the charge voltage or use a part for that voltage.") if is_high else "",
        )


def _feed_carries_load(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what is wanted against V squared over 4 R, the most a feed can give."""
    make = partial(Finding, rule="feed-carries-load", group=WIRING, unit="W")
    seen: set[int] = set()
    outputs = {design.node_of(f"{placed.id}.out") for placed, _ in design.placed(Converter)}
    for point in studies.network.points:
        for collapse in point.collapse:
            if collapse.node in seen or (collapse.loop_ohm <= 0.0 and collapse.node in outputs):
                continue  # what a converter cannot give is asked by converter-load
            seen.add(collapse.node)
            yield make(
                severity=Severity.FAIL,
                subject=design.nodes[collapse.node],
                message=said(
                    "{nodes}: no steady voltage exists at corner '{corner}'. From {source_v:.2f} V through "
                    "{loop_ohm:.1f} mΩ at most {available_w:.0f} W can arrive; {wanted_w:.0f} W are wanted.",
                    nodes=design.nodes[collapse.node],
                    corner=point.corner,
                    source_v=collapse.source_v,
                    loop_ohm=1000 * collapse.loop_ohm,
                    available_w=collapse.available_w,
                    wanted_w=collapse.wanted_w,
                ),
                value=collapse.wanted_w,
                limit=collapse.available_w,
                source=Source(document="maximum power transfer theorem", place="P = V²/4R"),
                way_out=said("Use a larger cable or less load."),
            )
    for placed, part in design.placed(AlternatorCharger):
        if design.node_of(f"{placed.id}.in") not in seen:
            yield _charger_feed(design, studies, placed, part)
    for placed, converter in design.placed(Converter):
        if design.node_of(f"{placed.id}.in") not in seen:
            yield _converter_feed(design, studies, placed, converter)


def _charger_feed(design: Design, studies: Studies, placed: DesignPart, part: AlternatorCharger) -> Finding:
    loop_ohm = float(studies.network.path_ohm[design.node_of(f"{placed.id}.in")])
    if math.isnan(loop_ohm) or loop_ohm <= 0.0:
        return _feed_unknown(placed, said("Add the run from the starter battery."))
    source_v = supply(design, alternator_name(design, placed)).alternator_low_v or part.input_nominal_v
    wanted_w, input_limit_a = charger_input(placed, part)
    if input_limit_a is not None:
        wanted_w = min(wanted_w, input_limit_a * source_v)
    return _feed_finding(placed, wanted_w, source_v, loop_ohm)


def _converter_feed(design: Design, studies: Studies, placed: DesignPart, part: Converter) -> Finding:
    """Hold the input of a converter at its current limit against what its feed can give at the source's lowest voltage."""
    node = design.node_of(f"{placed.id}.in")
    root, loop_ohm = int(studies.network.root[node]), float(studies.network.path_ohm[node])
    source_v = float(studies.network.node_low_v[root]) if root >= 0 else math.nan
    if not loop_ohm > 0.0 or math.isnan(source_v):
        return _feed_unknown(placed, said("Add the run that feeds it."))
    wanted_w = converter_input_w(part, part.output_v * part.limit_a)
    return _feed_finding(placed, wanted_w, source_v, loop_ohm)


def _feed_unknown(placed: DesignPart, way_out: str) -> Finding:
    return Finding(
        rule="feed-carries-load",
        group=WIRING,
        severity=Severity.NOT_CHECKED,
        subject=placed.id,
        message=said("{part}: its feed is not wired, so its collapse could not be checked.", part=placed.id),
        unit="W",
        way_out=way_out,
    )


def _feed_finding(placed: DesignPart, wanted_w: float, source_v: float, loop_ohm: float) -> Finding:
    """Ask for twice the need: an input of constant power is stable below half of V squared over 4 R."""
    available_w = source_v**2 / (4.0 * loop_ohm)
    is_weak = wanted_w * COLLAPSE_MARGIN > available_w
    return Finding(
        rule="feed-carries-load",
        group=WIRING,
        severity=Severity.FAIL if is_weak else Severity.PASS,
        subject=placed.id,
        message=said(
            "{part}: takes {wanted_w:.0f} W; its feed of {loop_ohm:.1f} mΩ at {source_v:.1f} V could "
            "give {available_w:.0f} W, and twice the need is asked for.",
            part=placed.id,
            wanted_w=wanted_w,
            loop_ohm=1000 * loop_ohm,
            source_v=source_v,
            available_w=available_w,
        ),
        value=wanted_w,
        limit=available_w / COLLAPSE_MARGIN,
        unit="W",
        source=own_choice("collapse-margin"),
        way_out=said("Use a larger cable to it, or a smaller or lower set one.") if is_weak else "",
    )


def _wired(design: Design, studies: Studies) -> Iterator[Finding]:
    """Say what leaves rules unanswered: nodes without a source, and loops."""
    make = partial(Finding, rule="wired", group=WIRING)
    for node in studies.network.unfed:
        yield make(
            severity=Severity.NOT_CHECKED,
            subject=design.nodes[node],
            message=said(
                "{nodes} is connected to no source; nothing about it was checked.", nodes=design.nodes[node]
            ),
            way_out=said("Add the run that feeds it, or remove it."),
        )
    for run in studies.network.loops:
        yield make(
            severity=Severity.NOT_CHECKED,
            subject=design.runs[run].id,
            message=said(
                "Run {runs} joins sources or closes a loop in a way that is not calculated.",
                runs=design.runs[run].id,
            ),
            way_out=said("Open the loop, or describe the parallel cable as one of the summed area."),
        )
    if not studies.network.unfed and not studies.network.loops:
        yield make(
            severity=Severity.PASS,
            subject=design.job.job.id,
            message=said("All {nodes_count} nodes are fed.", nodes_count=len(design.nodes)),
        )


LOWEST_VOLTAGE = Rule(
    name="lowest-voltage",
    group=WIRING,
    asks="Does every load, inverter, charger and converter input keep the voltage it needs at low battery?",
    check=_lowest_voltage,
)
HIGHEST_VOLTAGE = Rule(
    name="highest-voltage",
    group=WIRING,
    asks="Does everything stand the highest charging voltage?",
    check=_highest_voltage,
)
FEED_CARRIES_LOAD = Rule(
    name="feed-carries-load",
    group=WIRING,
    asks="Does a steady voltage exist, and is every charger's and converter's feed strong enough?",
    check=_feed_carries_load,
)
WIRED = Rule(
    name="wired",
    group=WIRING,
    asks="Is everything connected to a source, and by no run that joins sources which must not meet?",
    check=_wired,
)

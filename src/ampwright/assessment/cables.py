"""Rules on cables: current they carry, smallest size, plugs and bus bars in their way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import run_capacity
from ampwright.assessment.exposure import highest_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import cable_text, part_source, run_text, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import BusBar, Plug
from ampwright.parts.switchgear import Sensor
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["BUS_BAR_RATING", "CABLE_CAPACITY", "CABLE_MINIMUM_SIZE", "PLUG_RATING"]

WIRING = Group.WIRING
NEARLY_FRAC = 0.99
"""Trade sizes round their areas: so near to the book's area counts as that size (docs/choices.md#minimum-size)."""


def _cable_capacity(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="cable-capacity", group=WIRING, unit="A")
    for run in design.runs:
        current_a = float(studies.network.peak_a[run.index])
        capacity = run_capacity(design, run)
        if not capacity.is_known:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=said(
                    "{run}: no capacity in the table: {note}", run=run_text(run), note=capacity.note
                ),
                way_out=said("Use a cable of the table's range."),
            )
            continue
        if math.isnan(current_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=said(
                    "{run}: its current could not be calculated (not fed, or in a loop).", run=run_text(run)
                ),
                way_out=said("Connect it to a source, or open the loop."),
            )
            continue
        place = said("at {temperature}", temperature=temperature_text(design, run.ambient_max_degc))
        if (
            design.tables.capacity is not None and capacity.note
        ):  # read beside a row of the user's own, or not in it
            place += said(" ({note})", note=capacity.note)
        # an ambient at the insulation's rating leaves no capacity at all, current or not
        is_over = current_a > capacity.current_a or capacity.current_a <= 0.0
        unsure = not run.ambient_is_stated and not is_over
        yield make(
            severity=Severity.FAIL if is_over else Severity.NOT_CHECKED if unsure else Severity.PASS,
            subject=run.id,
            message=said(
                "{run}: carries {current_a:.1f} A; may carry {current_a_2:.1f} A {place}",
                run=run_text(run),
                current_a=current_a,
                current_a_2=capacity.current_a,
                place=place,
            )
            + (said(", but no zone is named for it, so its air may be hotter.") if unsure else "."),
            value=current_a,
            limit=capacity.current_a,
            source=capacity.source,
            way_out=""
            if not (is_over or unsure)
            else said("Name its zones.")
            if unsure
            else said("Use a larger cable."),
            caution=said("An overloaded cable can set fire to what touches it.") if is_over else "",
        )


def _cable_minimum_size(design: Design, _: Studies) -> Iterator[Finding]:
    rules = design.region
    for run in design.runs:
        is_in_sheath = run.is_sheathed or run.cable.core_count > 1
        smallest_mm2 = rules.smallest_sheathed_mm2 if is_in_sheath else rules.smallest_separate_mm2
        told: str = said(rules.smallest_sheathed_said if is_in_sheath else rules.smallest_separate_said)
        told += "" if "mm²" in told else said(" ({smallest_mm2:.2f} mm²)", smallest_mm2=smallest_mm2)
        thinnest = min((run.cable, run.back_cable or run.cable), key=_area)
        is_small = thinnest.area_mm2 < NEARLY_FRAC * smallest_mm2
        yield Finding(
            rule="cable-minimum-size",
            group=WIRING,
            severity=Severity.FAIL if is_small else Severity.PASS,
            subject=run.id,
            message=said(
                "{run}: its thinnest conductor has {area_mm2:g} mm²; the smallest allowed is {told}, for "
                "mechanical strength.",
                run=run_text(run),
                area_mm2=thinnest.area_mm2,
                told=told,
            ),
            value=thinnest.area_mm2,
            limit=smallest_mm2,
            unit="mm²",
            at_most=False,
            source=rules.source("smallest_sheathed_mm2" if is_in_sheath else "smallest_separate_mm2"),
            way_out=said("Use a larger cable.") if is_small else "",
        )


def _area(cable: Cable) -> float:
    return cable.area_mm2


def _plug_rating(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        for plug in run.plugs:
            yield _plug_finding(design, studies, run, plug)
            voltage_v = max(highest_v(design, studies.network, node) for node in (run.start, run.end))
            if voltage_v > plug.rated_dc_v:
                yield Finding(
                    rule="plug-rating",
                    group=WIRING,
                    severity=Severity.FAIL,
                    subject=run.id,
                    message=said(
                        "Plug {plug} in run {run} is rated {rated_dc_v:g} V DC, it sees {voltage_v:.1f} V.",
                        plug=plug.id,
                        run=run.id,
                        rated_dc_v=plug.rated_dc_v,
                        voltage_v=voltage_v,
                    ),
                    value=voltage_v,
                    limit=plug.rated_dc_v,
                    unit="V",
                    source=part_source(plug),
                    way_out=said("Use a plug rated for that DC voltage."),
                )


def _plug_finding(design: Design, studies: Studies, run: DesignRun, plug: Plug) -> Finding:
    make = partial(Finding, rule="plug-rating", group=WIRING, subject=run.id, source=part_source(plug))
    thickest = max((run.cable, run.back_cable or run.cable), key=_area)
    if thickest.area_mm2 > plug.area_max_mm2:
        return make(
            severity=Severity.FAIL,
            message=said(
                "Plug {plug} in run {run} takes up to {area_max_mm2:g} mm², the cable has {cable}.",
                plug=plug.id,
                run=run.id,
                area_max_mm2=plug.area_max_mm2,
                cable=cable_text(thickest),
            ),
            value=thickest.area_mm2,
            limit=plug.area_max_mm2,
            unit="mm²",
            way_out=said("Use a plug with larger contacts; never thin a cable out to fit."),
        )
    current_a = float(studies.network.peak_a[run.index])
    unknown = math.isnan(current_a)
    is_over = not unknown and current_a > plug.rating_a
    return make(
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "Plug {plug} in run {run} is rated {rating_a:g} A at {temperature}, ",
            plug=plug.id,
            run=run.id,
            rating_a=plug.rating_a,
            temperature=temperature_text(design, 25.0),
        )
        + (
            said("its current is not known.")
            if unknown
            else said("it carries {current_a:.1f} A.", current_a=current_a)
        ),
        value=None if unknown else current_a,
        limit=plug.rating_a,
        unit="A",
        way_out=said("Use a larger plug.") if is_over else "",
    )


def _bus_bar_rating(design: Design, studies: Studies) -> Iterator[Finding]:
    """Bus bars and current sensors carry the sum of what leaves them."""
    for placed, bar in design.placed(BusBar):
        node = design.node_of(placed.id)
        current_a = _through_a(design, studies, node)
        yield _rating_finding(placed.id, current_a, bar.rating_a, part_source(bar))
        voltage_v = highest_v(design, studies.network, node)
        if voltage_v > bar.rated_dc_v:
            yield Finding(
                rule="bus-bar-rating",
                group=WIRING,
                severity=Severity.FAIL,
                subject=placed.id,
                message=said(
                    "{part} sees {voltage_v:.1f} V; it is rated {rated_dc_v:g} V.",
                    part=placed.id,
                    voltage_v=voltage_v,
                    rated_dc_v=bar.rated_dc_v,
                ),
                value=voltage_v,
                limit=bar.rated_dc_v,
                unit="V",
                source=part_source(bar),
                way_out=said("Use a bar of higher voltage."),
            )
    for index, link in enumerate(design.links):
        part = design.parts[link.part].part
        if isinstance(part, Sensor):
            current_a = float(studies.network.link_peak_a[index])
            yield _rating_finding(design.parts[link.part].id, current_a, part.rating_a, part_source(part))


def _through_a(design: Design, studies: Studies, node: int) -> float:
    """Return the largest current through a bar: the largest of the sums of what flows in, over the corners."""
    ways = [
        (run.index, 1.0 if run.end == node else -1.0) for run in design.runs if node in {run.start, run.end}
    ]
    if any(math.isnan(studies.network.peak_a[index]) for index, _ in ways):
        return math.nan
    inflows = [
        sum(max(sign * float(point.run_a[index]), 0.0) for index, sign in ways)
        for point in studies.network.points
        if not math.isnan(point.node_v[node])
    ]
    return math.nan if any(math.isnan(inflow) for inflow in inflows) else max(inflows, default=math.nan)


def _rating_finding(subject: str, current_a: float, rating_a: float, source: Source) -> Finding:
    unknown = math.isnan(current_a)
    is_over = not unknown and current_a > rating_a
    told = (
        said("its current is not known")
        if unknown
        else said("carries {current_a:.0f} A", current_a=current_a)
    )
    return Finding(
        rule="bus-bar-rating",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        subject=subject,
        message=said(
            "{subject}: {told}; rated {rating_a:g} A.", subject=subject, told=told, rating_a=rating_a
        ),
        value=None if unknown else current_a,
        limit=rating_a,
        unit="A",
        source=source,
        way_out=said("Use one of a higher rating.") if is_over else "",
    )


CABLE_CAPACITY = Rule(
    name="cable-capacity",
    group=WIRING,
    asks="Does each cable carry its largest current where it lies without overheating?",
    check=_cable_capacity,
)
CABLE_MINIMUM_SIZE = Rule(
    name="cable-minimum-size",
    group=WIRING,
    asks="Is each conductor strong enough mechanically?",
    check=_cable_minimum_size,
)
PLUG_RATING = Rule(
    name="plug-rating",
    group=WIRING,
    asks="Does each plug carry the current and take the cable?",
    check=_plug_rating,
)
BUS_BAR_RATING = Rule(
    name="bus-bar-rating",
    group=WIRING,
    asks="Do bus bars and current sensors carry what passes through them?",
    check=_bus_bar_rating,
)

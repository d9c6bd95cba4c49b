"""Rules on the battery in service: depth, discharge current, parallel strings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE

__all__ = ["DEPTH_OF_DISCHARGE", "DISCHARGE_CURRENT", "STRING_PROTECTION", "largest_battery_a"]

WIRING = Group.WIRING


def _depth_of_discharge(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold the lowest charge of the use against what should stay in the battery in daily service."""
    placed, battery = design.parts[design.battery], design.battery_part()
    is_lead = battery.chemistry != "lfp"
    lowest, kept = float(studies.energy.soc_frac.min()), 1.0 - battery.usable_frac
    is_deep = lowest < kept
    make = partial(Finding, rule="depth-of-discharge", group=Group.USE, subject=placed.id)
    heavy = Severity.CONDITION if is_lead else Severity.ADVICE
    yield make(
        severity=heavy if is_deep else Severity.PASS,
        message=said(
            "{part} is lowest with {lowest:.0f} % left; in daily service {kept:.0f} % should stay in it.",
            part=placed.id,
            lowest=100 * lowest,
            kept=100 * kept,
        )
        + (
            (said(" Deep discharge harms lead-acid for good.") if is_lead else said(" It ages faster."))
            if is_deep
            else ""
        ),
        value=100 * lowest,
        limit=100 * kept,
        unit="%",
        at_most=False,
        source=part_source(battery),
        way_out=said("Charge it earlier, use less, or take a larger battery.") if is_deep else "",
    )
    if is_lead and design.job.load_cutoff is None:
        yield make(
            severity=Severity.ADVICE,
            message=said(
                "{part} has no load cut-off: loads left on empty a lead-acid battery and harm it.",
                part=placed.id,
            ),
            source=COMMON_PRACTICE,
            way_out=said("Add a load cut-off."),
        )


def _discharge_current(design: Design, studies: Studies) -> Iterator[Finding]:
    battery = design.battery_part()
    placed = design.parts[design.battery]
    largest_a = largest_battery_a(design, studies, is_into=False)
    make = partial(
        Finding,
        rule="discharge-current",
        group=WIRING,
        subject=placed.id,
        limit=battery.discharge_max_a * placed.strings,
        unit="A",
        source=part_source(battery),
    )
    if math.isnan(largest_a):
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said("{part}: the largest current could not be calculated.", part=placed.id),
        )
        return
    limit_a = battery.discharge_max_a * placed.strings
    peak_a = battery.discharge_peak_a * placed.strings
    severity = Severity.PASS
    if largest_a > peak_a:
        severity = Severity.FAIL
    elif largest_a > limit_a:
        severity = Severity.CONDITION
    yield make(
        severity=severity,
        message=said(
            "Inverter and loads can ask {largest_a:.0f} A of {part} at low battery; it gives "
            "{limit_a:g} A for long and {peak_a:g} A for {discharge_peak_s:g} s. ",
            largest_a=largest_a,
            part=placed.id,
            limit_a=limit_a,
            peak_a=peak_a,
            discharge_peak_s=battery.discharge_peak_s,
        )
        + (said("If its management opens, everything is lost at once.") if severity != Severity.PASS else ""),
        value=largest_a,
        way_out=said("Do not run the largest loads together, or add a string.")
        if severity != Severity.PASS
        else "",
    )


def largest_battery_a(design: Design, studies: Studies, *, is_into: bool) -> float:
    """Return the largest current into or out of the battery; NaN where a run at it has no known current."""
    node = design.node_of(design.parts[design.battery].id)
    ways = [
        (run.index, 1.0 if run.start == node else -1.0) for run in design.runs if node in {run.start, run.end}
    ]
    if not ways or any(math.isnan(studies.network.peak_a[index]) for index, _ in ways):
        return math.nan
    here_w = sum(load.peak_w for load in design.loads if load.node == node)
    outs = [
        (sum(sign * float(point.run_a[index]) for index, sign in ways), float(point.node_v[node]))
        for point in studies.network.points
        if not math.isnan(point.node_v[node])
    ]
    # loads at its own terminals add to what it gives; they may be off while it takes
    sums = [-out_a if is_into else out_a + here_w / node_v for out_a, node_v in outs]
    return math.nan if any(math.isnan(total) for total in sums) else max(sums, default=math.nan)


def _string_protection(design: Design, _: Studies) -> Iterator[Finding]:
    placed = design.parts[design.battery]
    battery = design.battery_part()
    make = partial(Finding, rule="string-protection", group=WIRING, subject=placed.id)
    for count, most, how in (
        (placed.strings, battery.parallel_max_count, said("in parallel")),
        (placed.in_series, battery.series_max_count, said("in series")),
    ):
        if count > most:
            yield make(
                severity=Severity.FAIL,
                message=said(
                    "{part} has {count} {how}; the battery is built for {most} {how}.",
                    part=placed.id,
                    count=count,
                    how=how,
                    most=most,
                ),
                value=float(count),
                limit=float(most),
                source=part_source(battery),
                way_out=said("Use fewer, larger cases."),
            )
    if placed.strings == 1:
        return
    is_missing = placed.string_device is None
    yield make(
        severity=Severity.FAIL if is_missing else Severity.PASS,
        message=said(
            "{part} has {strings} strings in parallel; a fault in one is fed by the others, ",
            part=placed.id,
            strings=placed.strings,
        )
        + (
            said("and no string has a device of its own.")
            if is_missing
            else said("and each has its own device.")
        ),
        source=COMMON_PRACTICE,
        way_out=said("Put a fuse of high breaking capacity in each string.") if is_missing else "",
        caution=said("The strings feed a fault in their neighbour with kiloamperes.") if is_missing else "",
    )


DEPTH_OF_DISCHARGE = Rule(
    name="depth-of-discharge",
    group=Group.USE,
    asks="Does the battery keep what its maker wants left in it?",
    check=_depth_of_discharge,
)
DISCHARGE_CURRENT = Rule(
    name="discharge-current",
    group=WIRING,
    asks="Does the battery give what inverter and loads ask together?",
    check=_discharge_current,
)
STRING_PROTECTION = Rule(
    name="string-protection",
    group=WIRING,
    asks="Has each parallel string of the battery its own device?",
    check=_string_protection,
)

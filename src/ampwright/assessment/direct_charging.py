"""What relay-charging says of a second alternator that is wired straight to the auxiliary battery."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_vehicle import DesignAlternator
from ampwright.job.nodes import SECOND_NODE
from ampwright.said import said

__all__ = ["direct_charging"]

WIRING = Group.WIRING


def direct_charging(design: Design, second: DesignAlternator) -> Iterator[Finding]:
    """Judge a second alternator that is wired straight to the auxiliary battery as its charger."""
    battery, placed = design.battery_part(), design.parts[design.battery]
    make = partial(
        Finding, rule="relay-charging", group=WIRING, subject=SECOND_NODE, source=part_source(battery)
    )
    top_v, high_v = battery.charge_max_v * placed.in_series, second.alternator_high_v
    is_over = high_v > top_v
    yield make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "Straight on {part} the second alternator gives up to {high_v:.1f} V; it allows {top_v:.1f} V.",
            part=placed.id,
            high_v=high_v,
            top_v=top_v,
        ),
        value=high_v,
        limit=top_v,
        unit="V",
        way_out=said("Set its regulator lower, or put a DC-DC charger between.") if is_over else "",
        caution=said("Overcharging a battery can end in gas, heat and fire.") if is_over else "",
    )
    if battery.chemistry != "lfp":
        return
    limits = second.limits_by_heat
    told = {
        True: said("lowers its output by its own heat"),
        False: said("has no limit but its label"),
        None: said("is not said to"),
    }
    yield make(
        severity=Severity.PASS if limits else Severity.NOT_CHECKED if limits is None else Severity.FAIL,
        message=said(
            "The second alternator charges lithium battery {part} with nothing between: its regulator {told}",
            part=placed.id,
            told=told[limits],
        )
        + (said(" lower its output by its own heat.") if limits is None else "."),
        way_out=""
        if limits
        else said(
            "Find out whether its regulator has a temperature sensor (limits_by_heat), or put DC-DC "
            "chargers between."
        ),
        caution=""
        if limits
        else said("An alternator gives all it has into an empty lithium battery and can burn out."),
    )

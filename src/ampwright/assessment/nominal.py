"""Rule on nominal voltages: every part is built for the voltage of the side it is wired to."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.converters import Sides, sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import ButtonPanel, OutputModule, Remote
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["NOMINAL_VOLTAGE"]

WIRING = Group.WIRING
SAME_FRAC = 0.2
"""Names of one voltage differ by less: 12, 12.8 and 13.2 V are one system (docs/choices.md#nominal-voltage)."""


def _nominal_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    sides = sides_of(design)
    for placed in design.parts:
        for side, built_for_v, there_v in _sides(design, placed, sides):
            is_wrong = abs(built_for_v / there_v - 1.0) > SAME_FRAC
            yield Finding(
                rule="nominal-voltage",
                group=WIRING,
                severity=Severity.FAIL if is_wrong else Severity.PASS,
                subject=placed.id,
                message=said(
                    "{part}: its {side} side is built for {built_for_v:g} V; the system there has "
                    "{there_v:g} V.",
                    part=placed.id,
                    side=side,
                    built_for_v=built_for_v,
                    there_v=there_v,
                ),
                value=there_v,
                limit=built_for_v,
                unit="V",
                source=part_source(placed.part),
                way_out=said("Use a part for {there_v:g} V.", there_v=there_v) if is_wrong else "",
            )
    yield from _loads(design, sides)


def _loads(design: Design, sides: Sides) -> Iterator[Finding]:
    """Hold what a load's label says against the side it is wired to."""
    for load in design.loads:
        if load.nominal_v is None or load.node < 0:
            continue
        there_v = sides.nominal_v[load.node]
        is_wrong = abs(load.nominal_v / there_v - 1.0) > SAME_FRAC
        yield Finding(
            rule="nominal-voltage",
            group=WIRING,
            severity=Severity.FAIL if is_wrong else Severity.PASS,
            subject=load.id,
            message=said(
                "{name}: its label says {nominal_v:g} V; the side it is wired to has {there_v:g} V.",
                name=load.name,
                nominal_v=load.nominal_v,
                there_v=there_v,
            ),
            value=there_v,
            limit=load.nominal_v,
            unit="V",
            source=Source(document="job file", place=f"load {load.id}"),
            way_out=said("Feed it through a step-down converter.")
            if is_wrong and there_v > load.nominal_v
            else "",
            caution=said("It burns out at once.") if is_wrong and there_v > load.nominal_v else "",
        )


def _sides(design: Design, placed: DesignPart, sides: Sides) -> Iterator[tuple[str, float, float]]:
    """Yield side, nominal voltage of the part and of what it is wired to."""
    part = placed.part
    if isinstance(part, AlternatorCharger):
        yield said("vehicle"), part.input_nominal_v, design.vehicle.system_v
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
        yield said("battery"), part.output_nominal_v, design.system_v
    elif isinstance(part, Inverter):
        yield (
            said("battery"),
            part.input_nominal_v,
            sides.nominal_at(design.node_of(placed.id), design.system_v),
        )
    elif isinstance(part, Converter):
        there_v = sides.nominal_at(design.node_of(f"{placed.id}.in"), design.system_v)
        yield said("input"), part.input_nominal_v, there_v
    elif isinstance(part, Relay):
        yield from _relay_sides(design, placed, part)
    elif isinstance(part, OutputModule | ButtonPanel | Remote):
        node = next((n for n in design.nodes_of(placed) if sides.converter[n] >= 0), -1)
        yield said("supply"), part.nominal_v, sides.nominal_at(node, design.system_v)


def _relay_sides(design: Design, placed: DesignPart, part: Relay) -> Iterator[tuple[str, float, float]]:
    """Yield the coil against its supply, and the vehicle against the battery its contacts join to it."""
    is_join = any(join.placed.index == placed.index for join in relay_joins(design))
    yield said("coil"), part.nominal_v, design.vehicle.system_v if is_join else design.system_v
    if is_join:
        yield said("battery"), design.system_v, design.vehicle.system_v


NOMINAL_VOLTAGE = Rule(
    name="nominal-voltage",
    group=WIRING,
    asks="Is every part built for the nominal voltage of the side it is wired to?",
    check=_nominal_voltage,
)

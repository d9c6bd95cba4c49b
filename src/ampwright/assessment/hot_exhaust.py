"""Rule: are cables and parts far enough from hot exhausts, of the engine, a heater or a generator."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.items import placed_items
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.job.quantity import known_value
from ampwright.said import said
from ampwright.sources import own_choice

__all__ = ["EXHAUST_DISTANCE"]

HOT_KINDS = frozenset({"underbody", "engine"})
"""Places where an exhaust is usual; others are judged where the job says a distance."""
BARE_MM = 150.0
SHIELDED_MM = 50.0
"""Own choices, docs/choices.md#exhaust-distance."""
MELTS = said("Insulation that melts on an exhaust shorts before any fuse ages.")


def _exhaust_distance(design: Design, _: Studies) -> Iterator[Finding]:
    make = partial(
        Finding, rule="exhaust-distance", group=Group.WIRING, source=own_choice("exhaust-distance")
    )
    unsaid: list[str] = []
    for zone in design.zones:
        held = _held_in(design, zone)
        distance_mm = known_value(zone.written.exhaust_mm)
        if not held or (distance_mm is None and zone.kind not in HOT_KINDS):
            continue
        if distance_mm is None:
            unsaid.append(zone.id)
            continue
        is_shielded = zone.written.has_heat_shield is True
        limit_mm = SHIELDED_MM if is_shielded else BARE_MM
        is_near = distance_mm < limit_mm
        yield make(
            severity=Severity.CONDITION if is_near else Severity.PASS,
            subject=zone.id,
            message=said(
                "{zone}, with {named}: {size} from a hot exhaust{what}; {size_2} are wanted.",
                zone=zone.id,
                named=named(held),
                size=size_text(design, distance_mm),
                what=said(", behind a shield") if is_shielded else "",
                size_2=size_text(design, limit_mm),
            ),
            value=distance_mm,
            limit=limit_mm,
            unit="mm",
            at_most=False,
            way_out=said("Move them, or set a metal shield with air on both sides.") if is_near else "",
            caution=MELTS if is_near else "",
        )
    if unsaid:
        yield make(
            severity=Severity.ADVICE,
            subject=design.job.job.id,
            message=said(
                "How far {named} {what} from the exhaust is not said.",
                named=named(unsaid),
                what=said("is") if len(unsaid) == 1 else said("are"),
            ),
            way_out=said("Keep {size}, or a shield; say exhaust_mm.", size=size_text(design, BARE_MM)),
        )


def _held_in(design: Design, zone: DesignZone) -> list[str]:
    """Return the parts in a place and the runs that pass it."""
    parts = [item.id for item in placed_items(design) if item.is_in(zone) and not item.is_inside_module]
    runs = [run.id for run in design.runs if any(passed.id == zone.id for passed in run.zones)]
    return [*parts, *runs]


EXHAUST_DISTANCE = Rule(
    name="exhaust-distance",
    group=Group.WIRING,
    asks="Are cables and parts far enough from hot exhausts?",
    check=_exhaust_distance,
)

"""Rules a careful engineer asks for that this version cannot answer: each is counted and said."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ampwright.assessment.rule import Check, Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.parts.inverter import Inverter

__all__ = ["NOT_YET"]

WIRING = Group.WIRING


def _always(_: Design) -> bool:
    return True


def _has_inverter(design: Design) -> bool:
    return bool(design.placed(Inverter))


def _has_alternator(design: Design) -> bool:
    return design.vehicle.has_alternator


def _open(
    name: str,
    asks: str,
    applies: Callable[[Design], bool],
    way_out: str,
    *,
    caution: str = "",
    no_override: str = "",
) -> Rule:
    def check(design: Design, _: Studies) -> Iterator[Finding]:
        if applies(design):
            yield Finding(
                rule=name,
                group=WIRING,
                severity=Severity.NOT_CHECKED,
                subject=design.job.job.id,
                message=asks,
                way_out=way_out,
                caution=caution,
            )

    made: Check = check
    return Rule(name=name, group=WIRING, asks=asks, check=made, no_override=no_override)


NOT_YET: tuple[Rule, ...] = (
    _open(
        "inverter-capacitors",
        "Does the current that charges an inverter's capacitors when it is connected leave the devices closed?",
        _has_inverter,
        "Connect it through a pre-charge resistor, or ask its maker for the inrush current.",
    ),
    _open(
        "load-dump",
        "Do the parts on the vehicle's side stand load dump and jump start?",
        _has_alternator,
        "Ask the parts' makers for their ISO 16750-2 levels.",
    ),
    _open(
        "earth-and-polarity",
        "Is there one bond to the chassis, and are all negatives as large as their positives?",
        _always,
        "Check with a multimeter before the main fuse goes in.",
    ),
)
"""One line each; a rule leaves this list when it can be answered."""

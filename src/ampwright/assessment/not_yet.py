"""Rules a careful engineer asks for that this version cannot answer: each is counted and said."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ampwright.assessment.rule import Check, Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design

__all__ = ["NOT_YET"]

WIRING = Group.WIRING


def _always(_: Design) -> bool:
    return True


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
        "earth-and-polarity",
        "Is there one bond to the chassis, and are all negatives as large as their positives?",
        _always,
        "Check with a multimeter before the main fuse goes in.",
    ),
)
"""One line each; a rule leaves this list when it can be answered."""

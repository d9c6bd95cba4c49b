"""Rule on the hottest air written for closed places: as hot as a closed body in the sun gets."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import temperature_text
from ampwright.climate.body import BODY_PRESETS, hottest_body_degc
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.said import said

__all__ = ["ZONE_AIR"]

WIRING = Group.WIRING
NEAR_K = 3.0
"""A stated temperature this little below the reckoned one is near enough (docs/choices.md#zone-air)."""


def _zone_air(design: Design, _: Studies) -> Iterator[Finding]:
    preset = design.job.vehicle.body_preset
    hottest = hottest_body_degc(preset, design.job.season.hottest_degc)
    for zone in design.zones:
        if not zone.is_inside:
            continue
        reckoned = hottest + zone.rise_k
        is_low = zone.ambient_max_degc < reckoned - NEAR_K
        yield Finding(
            rule="zone-air",
            group=WIRING,
            severity=Severity.ADVICE if is_low else Severity.PASS,
            subject=zone.id,
            message=said(
                "{zone}: up to {temperature} is written; closed and parked in full sun at "
                "{temperature_2} outside such a body reaches some {temperature_3}.",
                zone=zone.id,
                temperature=temperature_text(design, zone.ambient_max_degc),
                temperature_2=temperature_text(design, design.job.season.hottest_degc),
                temperature_3=temperature_text(design, reckoned),
            ),
            value=zone.ambient_max_degc,
            limit=reckoned - NEAR_K,
            unit="°C",
            at_most=False,
            source=BODY_PRESETS[preset].source,
            way_out=said(
                "Measure on a hot day, or write the higher figure: cables, fuses and chargers are "
                "reckoned with it."
            )
            if is_low
            else "",
        )


ZONE_AIR = Rule(
    name="zone-air",
    group=WIRING,
    asks="Is the hottest air written for each closed place as hot as a closed body in the sun gets?",
    check=_zone_air,
)

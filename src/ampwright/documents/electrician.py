"""What a licensed electrician has to know and decide, gathered from an answer: short, for screen and JSON.

It repeats what the rules of the mains side found, with the facts they were found on; it judges nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains, mains_chargers
from ampwright.assessment.result import Assessment
from ampwright.assessment.rules import MAINS_RULES
from ampwright.findings import Severity
from ampwright.job.design import Design
from ampwright.job.mains import Mains
from ampwright.job.quantity import likely_value
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["ElectricianList", "electrician_list"]

GATHERED = frozenset(rule.name for rule in MAINS_RULES) | {
    "inlet-rating",
    "inverter-overload",
    "outlet-rating",
}
"""Rules whose findings concern the mains side."""
ALWAYS = (
    "Test before use, by the local code: earth continuity, polarity, insulation, loop impedance, residual-current device, "
    "and neutral-earth link on every source."
)


@record
class ElectricianList:
    """Facts and points of one job."""

    facts: tuple[str, ...]
    """What is fitted and said."""
    points: tuple[str, ...]
    """What to decide, mend or measure, heaviest first."""


def electrician_list(assessment: Assessment) -> ElectricianList | None:
    """Return what is for a licensed electrician; None where nothing touches mains voltage."""
    design = assessment.design
    if not has_mains(design):
        return None
    ids = {placed.id for placed in design.parts if isinstance(placed.part, Inlet | Inverter | Outlet)}
    points = [
        f"{finding.message} {finding.way_out}".strip()
        for finding in assessment.findings
        if finding.rule in GATHERED
        and finding.severity != Severity.PASS
        and (finding.rule != "outlet-rating" or finding.subject in ids)
    ]
    return ElectricianList(facts=tuple(_facts(design)), points=(*points, ALWAYS))


def _facts(design: Design) -> Iterator[str]:
    for placed, inlet in design.placed(Inlet):
        yield f"{placed.id}: inlet {inlet.rated_v:g} V, {inlet.rating_a:g} A"
    for placed, inverter in design.placed(Inverter):
        yield (
            f"{placed.id}: inverter {inverter.continuous_va:g} VA, {inverter.output_ac_v:g} V"
            + (f", transfer in {1000 * inverter.transfer_s:.0f} ms" if inverter.transfer_s else "")
        )
    for charger in mains_chargers(design):
        yield f"{charger.placed.id}: charger, up to {charger.input_w:.0f} W from {charger.mains_v:g} V"
    outlets = [
        f"{placed.id} {part.rating_a:g} A" for placed, part in design.placed(Outlet) if part.supply == "ac"
    ]
    if outlets:
        yield f"mains outlets: {', '.join(outlets)}"
    if design.job.mains is not None:
        yield from _said(design.job.mains)


def _said(mains: Mains) -> Iterator[str]:
    for supply in mains.supply:
        rating = [f"{likely_value(supply.rating_a):g} A"] if supply.rating_a is not None else []
        rating += [f"{likely_value(supply.rating_va):g} VA"] if supply.rating_va is not None else []
        yield f"{supply.name or supply.kind}: {', '.join([supply.kind, *rating])}"
    for device in mains.residual_current:
        rated = f"{1000 * device.residual_a:.0f} mA" if device.residual_a is not None else "rating not said"
        yield f"residual-current device, {device.covers}: {rated}, type {device.type or 'not said'}"
    if mains.certificate is not None:
        yield f"certificate {mains.certificate.serial}" + (
            f" of {mains.certificate.date.isoformat()}" if mains.certificate.date else ""
        )

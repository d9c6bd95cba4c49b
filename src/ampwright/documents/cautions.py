"""Hazards that belong to a job, told from what is in it, and what a report does not do.

Answers which warnings are printed; it judges nothing. The hazards are common practice of the trade.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ampwright.assessment.charging import IDLING
from ampwright.documents.words.words import Words, english, noted
from ampwright.job.design import Design, DesignPart
from ampwright.parts.battery import Battery
from ampwright.parts.charger import MainsCharger
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel

__all__ = ["LIFT_KG", "REPORT_LIMITS", "Hazard", "hazard_kinds", "hazards", "short_caution"]

Hazard = Literal[
    "mains", "lithium", "lead-gas", "idling", "generator", "engine", "two-sources", "sun", "heavy"
]
"""A hazard that belongs to a job."""

LIFT_KG = 23.0
"""Heaviest load one person lifts at best: load constant of the revised NIOSH lifting equation (DHHS (NIOSH) 94-110, 51 lb,
second hand); the HSE's guide has 25 kg for men and 16 kg for women at waist height (INDG143, from memory)."""
HEAVY_SHOWN = 3

MAINS = noted(
    "Mains voltage: this report only lists the inlet, the inverter's output, outlets and what is connected to "
    "them."
)
LITHIUM = noted(
    "Lithium battery: it drives a very high current into a fault at once. Fit the main fuse at the battery "
    "first and take it out before any work; remove rings and watches, cover the terminals, insulate tools. "
    "Its own management is no short-circuit protection."
)
LEAD_GAS = noted(
    "Lead-acid battery: charging gives off hydrogen, which explodes. Ventilate its space to the outside, keep "
    "sparks and flames away, wear eye protection."
)
SUN = noted(
    "Solar panels are live whenever light falls on them, also when everything is switched off. Cover them or "
    "open their isolator before work."
)
STARTER = noted(
    "Two batteries: the cable from the vehicle's battery is live at both ends. Isolate both ends before work."
)

HEAVY = noted(
    "Heavy parts: lift with two people or a hoist from {limit:g} kg on, and bolt battery and equipment down before the "
    "vehicle moves, on a test drive too. What is loose in a crash kills."
)
GENERATOR = noted(
    "Generator: its exhaust carries carbon monoxide, which kills without smell. Run it outside, far from doors, "
    "windows and tents; let it cool before refuelling."
)
ENGINE = noted(
    "Engine space: work with the engine cold and the key out. Exhaust and coolant burn, belts and an electric fan "
    "start by themselves. Keep cables off hot and moving parts."
)

REPORT_LIMITS = (
    noted(
        "It is a calculation from the figures of the job. It is no certificate and replaces neither inspection nor test."
    ),
    noted(
        "The local code and the judgement of licensed people decide; where they differ from this report, they hold."
    ),
    noted("A rule listed as not checked has not been judged: its silence means nothing."),
    noted("Figures in the catalogue are typical; the label and the data sheet of the part fitted go first."),
)


def hazards(design: Design, words: Words) -> tuple[str, ...]:
    """Return the warnings for what this design holds."""
    return tuple(text for _, text in _found(design, words))


def hazard_kinds(design: Design) -> tuple[Hazard, ...]:
    """Return which hazards this design holds, in the order of their warnings."""
    return tuple(kind for kind, _ in _found(design, english()))


def short_caution(caution: str, words: Words) -> str:
    """Return the caution beside a finding or change: that on idling is long and is said once for all."""
    return words("Idling: see the cautions.") if caution == IDLING else caution


def _found(design: Design, words: Words) -> Iterator[tuple[Hazard, str]]:
    parts = [placed.part for placed in design.parts]
    if any(_is_mains(part) for part in parts):
        yield "mains", f"{words(MAINS)} {words(design.region.licensed_words)}"
    batteries = [part for part in parts if isinstance(part, Battery)]
    if any(battery.chemistry == "lfp" for battery in batteries):
        yield "lithium", words(LITHIUM)
    if any(battery.chemistry != "lfp" for battery in batteries):
        yield "lead-gas", words(LEAD_GAS)
    used = {design.plans[index] for index in design.days}
    if any(plan.otherwise == "idle" or any(p.state == "idle" for p in plan.periods) for plan in used):
        yield "idling", words(IDLING)
    if _has_generator(design):
        yield "generator", words(GENERATOR)
    if _is_in_engine_space(design):
        yield "engine", words(ENGINE)
    if design.vehicle.has_alternator and design.vehicle.has_starter_battery:
        yield "two-sources", words(STARTER)
    if any(isinstance(part, Panel) for part in parts):
        yield "sun", words(SUN)
    heavy = sorted({(p.part.mass_kg, p.id) for p in design.parts if p.part.mass_kg > LIFT_KG}, reverse=True)
    if batteries or heavy:
        yield "heavy", words(HEAVY, limit=LIFT_KG) + _lifting(heavy, words)


def _has_generator(design: Design) -> bool:
    mains = design.job.mains
    return mains is not None and any(supply.kind == "generator" for supply in mains.supply)


def _is_in_engine_space(design: Design) -> bool:
    """Tell whether anything is fitted at the engine, or a cable goes to the vehicle's own battery or alternator."""
    return (
        design.vehicle.has_alternator
        or any(run.is_engine_space for run in design.runs)
        or any(_zone_kind(placed) == "engine" for placed in design.parts)
    )


def _zone_kind(placed: DesignPart) -> str:
    return placed.zone.kind if placed.zone is not None else ""


def _lifting(heavy: list[tuple[float, str]], words: Words) -> str:
    """Return which parts are heavier than one person lifts, each case; empty where none is."""
    if not heavy:
        return ""
    shown = ", ".join(f"{name} {mass_kg:.0f} kg" for mass_kg, name in heavy[:HEAVY_SHOWN])
    rest = len(heavy) - HEAVY_SHOWN
    more = words(" and {count} more", count=rest) if rest > 0 else ""
    return words(" Here, each case: {parts}.", parts=f"{shown}{more}")


def _is_mains(part: object) -> bool:
    if isinstance(part, Outlet):
        return part.supply == "ac"
    return isinstance(part, Inlet | Inverter | MainsCharger)

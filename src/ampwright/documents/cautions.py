"""Hazards that belong to a job, told from what is in it, and what a report does not do.

Answers which warnings are printed; it judges nothing. The hazards are common practice of the trade.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.job.design import Design
from ampwright.parts.battery import Battery
from ampwright.parts.charger import MainsCharger
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel

__all__ = ["REPORT_LIMITS", "hazards"]

MAINS = (
    "Mains voltage: this report only lists the inlet, the inverter's output, outlets and what is connected to "
    "them."
)
LITHIUM = (
    "Lithium battery: it drives a very high current into a fault at once. Fit the main fuse at the battery "
    "first and take it out before any work; remove rings and watches, cover the terminals, insulate tools. "
    "Its own management is no short-circuit protection."
)
LEAD_GAS = (
    "Lead-acid battery: charging gives off hydrogen, which explodes. Ventilate its space to the outside, keep "
    "sparks and flames away, wear eye protection."
)
IDLING = (
    "Idling engine: exhaust carries carbon monoxide, which kills without smell. Never idle in a closed space or "
    "beside an open door or window; fit an alarm where people sleep."
)
SUN = (
    "Solar panels are live whenever light falls on them, also when everything is switched off. Cover them or "
    "open their isolator before work."
)
STARTER = (
    "Two batteries: the cable from the vehicle's battery is live at both ends. Isolate both ends before work."
)

HEAVY = (
    "Heavy parts: lift with two people or a hoist from {limit:g} kg on, and bolt battery and equipment down before the "
    "vehicle moves, on a test drive too. What is loose in a crash kills."
)
LIFT_KG = 25.0
"""Mass from which one person alone should not lift (common practice, no source)."""

REPORT_LIMITS = (
    "It is a calculation from the figures of the job. It is no certificate and replaces neither inspection nor test.",
    "The local code and the judgement of licensed people decide; where they differ from this report, they hold.",
    "A rule listed as not checked has not been judged: its silence means nothing.",
    "Figures in the catalogue are typical; the label and the data sheet of the part fitted go first.",
)


def hazards(design: Design) -> tuple[str, ...]:
    """Return the warnings for what this design holds."""
    return tuple(_found(design))


def _found(design: Design) -> Iterator[str]:
    parts = [placed.part for placed in design.parts]
    if any(_is_mains(part) for part in parts):
        yield f"{MAINS} {design.region.licensed_words}"
    batteries = [part for part in parts if isinstance(part, Battery)]
    if any(battery.chemistry == "lfp" for battery in batteries):
        yield LITHIUM
    if any(battery.chemistry != "lfp" for battery in batteries):
        yield LEAD_GAS
    used = {design.plans[index] for index in design.days}
    if any(plan.otherwise == "idle" or any(p.state == "idle" for p in plan.periods) for plan in used):
        yield IDLING
    if design.vehicle.has_alternator and design.vehicle.has_starter_battery:
        yield STARTER
    if any(isinstance(part, Panel) for part in parts):
        yield SUN
    if batteries:
        yield HEAVY.format(limit=LIFT_KG)


def _is_mains(part: object) -> bool:
    if isinstance(part, Outlet):
        return part.supply == "ac"
    return isinstance(part, Inlet | Inverter | MainsCharger)

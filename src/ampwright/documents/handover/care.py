"""What the user of a vehicle does every day, before storing it, and which button does what."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.button_plan.wording import does_text, interlock_texts, ordered_buttons
from ampwright.documents.card.isolation import live_sources
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.parts.battery import Battery
from ampwright.parts.charger import MainsCharger
from ampwright.parts.hardware import Inlet
from ampwright.parts.inverter import Inverter

__all__ = ["buttons", "care", "cautions", "storing"]

STORE_FRAC = {"lfp": 0.6, "agm": 1.0, "gel": 1.0, "flooded": 1.0}
"""Charge to store a battery with (common practice, no source; docs/choices.md#store-charge)."""
NO_REST_VOLTAGE = noted(
    "Read the charge on the battery monitor, not from the voltage: a lithium battery's voltage hardly changes until it is nearly empty."
)
LEAD_REST = noted(
    "Charge it full at least once a week: lead-acid that is rarely full loses capacity for good."
)
COLD_CHARGE = noted(
    "Below {degc} in the battery no charging is possible; that is no fault. Warm the place first. A battery that is charged frozen is damaged for good."
)


def buttons(design: Design, words: Words) -> Iterator[tuple[str, str]]:
    """Yield each button's legend and what it does; without buttons each output channel and what hangs on it."""
    if design.buttons:
        for button in ordered_buttons(design):
            yield button.legend, does_text(design, button, words)
        for text in interlock_texts(design, words):
            yield words("stays off"), text
        return
    loads = {load.node: load.name for load in design.loads if load.node >= 0}
    for channel in design.channels:
        what = loads.get(channel.node) or _behind(design, channel.node, loads)
        dim = words("hold to dim") if channel.is_dimmed else ""
        said = "; ".join(text for text in (what, dim) if text and text != channel.name)
        number = words("output {number}", number=channel.number)
        yield channel.name or number, f"{number}: {said}" if said else number


def _behind(design: Design, node: int, loads: dict[int, str]) -> str:
    """Return the loads at the far end of the channel's runs."""
    ends = [run.end for run in design.runs if run.start == node]
    return ", ".join(dict.fromkeys(loads[end] for end in ends if end in loads))


def care(design: Design, words: Words) -> tuple[str, ...]:
    """Return what to do every day."""
    return tuple(_care(design, words))


def _care(design: Design, words: Words) -> Iterator[str]:
    battery = design.battery_part()
    yield words(NO_REST_VOLTAGE) if battery.chemistry == "lfp" else words(LEAD_REST)
    cutoff = design.job.load_cutoff
    if cutoff is not None:
        first = [load.name for load in design.loads if load.is_before_cutoff]
        kept = words(" {loads} stay on after that.", loads=", ".join(first)) if first else ""
        yield (
            words(
                "At {open} the loads switch off by themselves to save the battery, and come back at {close}: charge first.",
                open=_volts(cutoff.open_v, words),
                close=_volts(cutoff.close_v, words),
            )
            + kept
        )
    if battery.charge_min_degc > -20.0:
        yield words(COLD_CHARGE, degc=words.decimal(f"{battery.charge_min_degc:g}") + f"{UNIT_SPACE}°C")
    if _has_fridge(design):
        yield words("Cool food down before it goes into the refrigerator, and keep its vents free.")
    yield words("Once a month: wipe the panels, look at cables and plugs, press the test buttons.")


def _has_fridge(design: Design) -> bool:
    return any(load.fridge is not None for load in design.loads)


def cautions(design: Design, words: Words) -> tuple[str, ...]:
    """Return the hazards a user must know; what concerns work on the system is on the fitter's sheets."""
    return tuple(_cautions(design, words))


def _cautions(design: Design, words: Words) -> Iterator[str]:
    parts = [placed.part for placed in design.parts]
    batteries = [part for part in parts if isinstance(part, Battery)]
    if any(part.chemistry == "lfp" for part in batteries):
        yield words(
            "Lithium battery: never open, pierce or short it, and put nothing made of metal on it. After a crash, water or a "
            "fall it may catch fire hours later: have it looked at before it is used or the vehicle is parked indoors."
        )
    if any(part.chemistry != "lfp" for part in batteries):
        yield words(
            "Lead-acid battery: charging gives off hydrogen, which explodes. Keep its vent free and flames away; its acid burns."
        )
    if any(isinstance(part, Inverter) for part in parts):
        yield words(
            "The inverter makes mains voltage that kills like that of a house, also with no lead plugged in. Keep plugs dry; "
            "switch it off when nobody uses it."
        )
    if any(isinstance(part, Inlet | MainsCharger) for part in parts):
        yield words(
            "Mains lead: unroll it whole, keep it out of water and wheels, plug it in at the vehicle first and at the post last."
        )
    yield words(
        "Engine running at a stand: exhaust kills without smell. Never in a closed space, never while people sleep; a generator "
        "likewise, outside and far from doors and windows."
    )
    if design.job.vehicle.carries_gas:
        yield words(
            "Gas aboard: at the smell of gas touch no switch; close the cylinder, open the doors, go out."
        )
    yield words(
        "Put nothing on or against warm devices and keep their air free; tie down what could fly in a crash."
    )
    yield words(
        "Fuses and breakers protect cables, not you. A blown fuse is a message: find out why, and never fit a larger one."
    )


def _volts(value: float, words: Words) -> str:
    return words.decimal(f"{value:.1f}") + f"{UNIT_SPACE}V"


def storing(material: Material) -> tuple[str, ...]:
    """Return what to do before and while the vehicle stands."""
    return tuple(_storing(material))


def _storing(material: Material) -> Iterator[str]:
    words, design = material.words, material.design
    battery = design.battery_part()
    percent = f"{100.0 * STORE_FRAC[battery.chemistry]:.0f}"
    yield words("Charge the battery to about {percent} % and switch everything off.", percent=percent)
    if _has_fridge(design):
        yield words("Empty the refrigerator, dry it and leave its door ajar.")
    own = next((s for s in live_sources(design, words) if s.sort == "battery" and s.switches), None)
    if own is not None:
        yield words("Open the battery's switch: {switch}.", switch=own.switches[0])
    outlook = material.answer.outlook
    if outlook is not None and math.isfinite(outlook.storage_days):
        yield words(
            "With the switch closed a full battery is empty after about {days} days; from what you leave in it, sooner. Look at it "
            "once a month and charge in time.",
            days=math.floor(outlook.storage_days),
        )
    if battery.chemistry == "lfp":
        yield words("Cool is good, hot and full is not: do not leave it full in a hot vehicle for weeks.")
    else:
        yield words("A flat lead-acid battery freezes and is ruined: keep it charged all winter.")

"""Warnings to stick on: short words for the hazards a job holds; the long ones stand in the report."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.cautions import hazard_kinds
from ampwright.documents.labels.records import WarningLabel
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.parts.inverter import Inverter

__all__ = ["warning_labels"]

LITHIUM = (
    noted("LITHIUM BATTERY"),
    noted(
        "Very high current into a fault. Take out the main fuse before any work. Cover the terminals. Do not charge below its lowest temperature."
    ),
)
LEAD = (
    noted("LEAD-ACID BATTERY"),
    noted(
        "Charging gives off hydrogen: no sparks, no flames. Keep its vent open. Acid: wear eye protection."
    ),
)
TWO = (
    noted("LIVE FROM TWO SIDES"),
    noted("Vehicle's battery and auxiliary battery feed this system. Isolate both before work."),
)
SUN = (
    noted("SOLAR PANELS"),
    noted(
        "Live whenever light falls on them, also when everything is off. Cover them or open their isolator before work."
    ),
)
MAINS_TEXT = noted(
    "{voltage} V: danger to life. Unplug the lead before opening. Work on it is for the {person} only."
)
INVERTER = (
    noted("INVERTER"),
    noted("{voltage} V at its outlets also without a lead. Switch it off at itself and wait before opening."),
)


def warning_labels(design: Design, words: Words) -> Iterator[WarningLabel]:
    """Yield one label for each hazard that belongs on the vehicle."""
    kinds, region = hazard_kinds(design), design.region
    if "mains" in kinds:
        yield WarningLabel(
            heading=words(region.mains_word).upper(),
            text=words(MAINS_TEXT, voltage=f"{region.mains_v:g}", person=words(region.licensed_person)),
        )
    inverter = next((placed.part for placed in design.parts if isinstance(placed.part, Inverter)), None)
    if inverter is not None:
        yield WarningLabel(
            heading=words(INVERTER[0]), text=words(INVERTER[1], voltage=f"{inverter.output_ac_v:g}")
        )
    for kind, (heading, text) in {
        "lithium": LITHIUM,
        "lead-gas": LEAD,
        "two-sources": TWO,
        "sun": SUN,
    }.items():
        if kind in kinds:
            yield WarningLabel(heading=words(heading), text=words(text))


REGION_WORDS = (
    noted("mains supply"),
    noted("shore power"),
    noted("battery isolator"),
    noted("battery disconnect"),
    noted("licensed electrician"),
)

"""Commissioning sheet: every test of the finished build with its predicted value, limits and room for what is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.documents.commissioning.button_tables import button_sections
from ampwright.documents.commissioning.circuit_tables import charger_section, circuit_section
from ampwright.documents.commissioning.system_tables import (
    battery_section,
    channel_section,
    dead_section,
    polarity_section,
    threshold_section,
)
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sections import Section, Sections, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import noted
from ampwright.fieldwork.predict import predicted_tests

__all__ = ["commissioning", "commissioning_sheet"]

TITLE = noted("Commissioning sheet")


def commissioning_sheet(material: Material) -> Sections:
    """Return what the sheet prints."""
    words = material.words
    tests = predicted_tests(material.found)
    return Sections(
        lead=lead_line(material),
        is_flipped=True,
        sections=(
            _about(material),
            dead_section(material),
            *polarity_section(material),
            battery_section(material, tests),
            *circuit_section(material, tests),
            *charger_section(material, tests),
            *threshold_section(material, tests),
            *channel_section(material, tests),
            *button_sections(material, tests),
            _mains(material),
            Section(
                title=words("Signed"),
                text=(
                    words(
                        "A reading that does not pass is told to whoever is responsible for the job before hand-over."
                    ),
                ),
                fields=(
                    words("tested by"),
                    words("date"),
                    words("place and air temperature"),
                    words("voltmeter, serial"),
                    words("clamp meter, serial"),
                ),
            ),
        ),
        end=words(LICENSED),
    )


def _about(material: Material) -> Section:
    words = material.words
    notes = [
        words(
            "Predicted: what this build does if it is as written. ± is the tolerance: instrument (multimeter 0.5 % and 2 digits, clamp 2 % "
            "and 3 digits, set to zero first), lengths 5 %, joints 50 %, contacts 25 %, conductors 10 to 40 °C, loads 25 %, state of "
            "charge; combined as the root of the sum of squares (JCGM 100:2008, 5.1.2), k = 2."
        ),
        words(
            "Passes: the limits of the reading. A smaller drop than predicted passes, a larger one does not."
        ),
        words(
            "Order: dead readings first. Stop at the first reading that does not pass; what comes after may then do harm."
        ),
    ]
    battery = material.design.parts[material.design.battery]
    if battery.is_inside_module:
        notes.append(
            words(
                "The battery sits in a closed module: read at the module's main terminals, do not open it. Drops may then be smaller than "
                "predicted by what is inside; the upper limits hold."
            )
        )
    return Section(title=words("How to use this sheet"), notes=tuple(notes))


def _mains(material: Material) -> Section:
    words = material.words
    if not has_mains(material.design):
        return Section(
            title=words("Mains"), text=(words("This job has no mains side: there is nothing to test."),)
        )
    return Section(
        title=words("Mains: by the licensed person only"),
        text=(
            words(
                "Earth continuity, polarity, insulation, loop impedance, residual-current device, change-over and neutral-earth link are "
                "tested and signed by the licensed person on the electrician's sheet. Nobody else opens an inlet, inverter output or socket."
            ),
        ),
    )


def commissioning(material: Material) -> Iterator[PackFile]:
    """Make the sheet."""
    content = sections_pdf(sheet_of(material, TITLE), commissioning_sheet(material))
    yield PackFile(name="commissioning.pdf", content=content)

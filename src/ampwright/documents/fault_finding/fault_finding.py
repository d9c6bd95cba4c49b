"""Fault-finding card: symptom, first reading, what this job should show there, and what it means."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.fault_finding.charging_rows import charging_rows
from ampwright.documents.fault_finding.load_rows import load_rows
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sections import Section, Sections, Table, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import noted
from ampwright.fieldwork.predict import predicted_tests

__all__ = ["fault_finding", "fault_finding_card"]

TITLE = noted("Fault-finding card")
BURN = noted(
    "Smell, smoke, a hot cable or a swollen battery: switch off, out, and away from it. Do not measure."
)
FUSE = noted(
    "A fuse that blew did its work. Find why before a new one goes in, of the same rating and type; never a larger one, never bridged."
)
MAINS = noted("Mains voltage is not measured with this card: leads out, and a licensed electrician.")


def fault_finding_card(material: Material) -> Sections:
    """Return what the card prints."""
    words = material.words
    tests = predicted_tests(material.found)
    symptoms = (*load_rows(material, tests), *charging_rows(material, tests))
    return Sections(
        lead=lead_line(material),
        is_flipped=True,
        sections=(
            Section(
                title=words("First"),
                cautions=(words(BURN), f"{words(FUSE)} {words(MAINS)} {words(LICENSED)}"),
                text=(
                    words(
                        "Red probe on plus, black on minus, on the metal of the posts and not on the lugs. What is foretold here is for sound "
                        "wiring at 25 °C; write readings down and compare them with the commissioning sheet."
                    ),
                ),
            ),
            Section(
                title=words("Symptoms"),
                table=Table(
                    heads=(
                        words("symptom"),
                        words("first reading, where"),
                        words("should be"),
                        words("if not, it means"),
                    ),
                    width_factor=(1.0, 1.7, 1.5, 2.3),
                    rows=tuple(
                        (each.symptom, each.reading, each.expected, each.meaning) for each in symptoms
                    ),
                ),
            ),
        ),
        end="",
    )


def fault_finding(material: Material) -> Iterator[PackFile]:
    """Make the card."""
    content = sections_pdf(sheet_of(material, TITLE), fault_finding_card(material))
    yield PackFile(name="fault-finding.pdf", content=content)

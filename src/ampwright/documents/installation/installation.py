"""Installation pack with hold points, for a customer who fits the system himself or for an installer."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.installation.hold_points import hold_section, order_section, reading_section
from ampwright.documents.installation.work import (
    caution_section,
    closed_section,
    owner_section,
    route_sections,
    tool_section,
)
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sections import Section, Sections, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import noted

__all__ = ["installation", "installation_pack"]

TITLE = noted("Installation pack with hold points")


def installation_pack(material: Material) -> Sections:
    """Return what the pack prints."""
    words = material.words
    return Sections(
        lead=lead_line(material),
        is_flipped=True,
        sections=(
            Section(
                title=words("Who may use this"),
                text=(
                    words(
                        "Whoever can crimp, torque and read a multimeter. If one line here is not clear, stop and ask before going on: most "
                        "fires of such systems begin at a joint or an unprotected cable. While these pages say DRAFT, cables may be laid, but "
                        "no fuse goes in."
                    ),
                ),
            ),
            caution_section(material),
            owner_section(material),
            closed_section(material),
            tool_section(material),
            order_section(material),
            *route_sections(material),
            reading_section(material),
            hold_section(material),
        ),
        end=words(LICENSED),
    )


def installation(material: Material) -> Iterator[PackFile]:
    """Make the pack."""
    content = sections_pdf(sheet_of(material, TITLE), installation_pack(material))
    yield PackFile(name="installation.pdf", content=content)

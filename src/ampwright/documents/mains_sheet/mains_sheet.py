"""Electrician's sheet: what the job says of the mains side, what its certificate covers, what voids it, tests with blanks.

The program decides nothing here; limits belong to the local code and are written in by the licensed person.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.documents.electrician import electrician_list
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sections import BLANK, TICK, Section, Sections, Table, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import Words, noted
from ampwright.job.mains import Certificate
from ampwright.parts.hardware import Outlet
from ampwright.parts.inverter import Inverter

__all__ = ["electrician", "electrician_sheet", "no_mains"]

TITLE = noted("Electrician's sheet")
ONLY = noted(
    "For the licensed person alone. This side carries mains voltage, from the inverter also without a lead. Lead out, inverter off, battery's fuse out, and "
    "proved dead before anything is opened; capacitors stay charged for minutes."
)
TESTS = (
    noted("continuity of protective conductors and bond to the metal"),
    noted("polarity at every socket"),
    noted("insulation resistance, electronics disconnected by their manuals"),
    noted("loop impedance at the inlet, supply stated"),
    noted("residual-current device: current and time, on the inlet"),
    noted("residual-current device: current and time, on the inverter"),
    noted("change-over: never two supplies at once, neutral too"),
    noted("neutral-earth link: on the inverter made, on the inlet open"),
    noted("overcurrent devices: rating and breaking capacity against the cables"),
)
VOID = (
    noted("another inverter, inlet or change-over than those it names, or the same in another place"),
    noted("a socket more or fewer, another cable, breaker or residual-current device on this side"),
    noted("any opening of it by somebody who is not licensed"),
    noted("damage by accident, water or heat; a test button that no longer opens"),
)


def no_mains(material: Material) -> str:
    """Return why a job has no such sheet; empty where it has one."""
    return "" if has_mains(material.design) else "nothing in this job touches mains voltage"


def electrician_sheet(material: Material) -> Sections:
    """Return what the sheet prints."""
    words, found = material.words, electrician_list(material.found, material.words)
    facts = found.facts if found is not None else ()
    points = found.points if found is not None else ()
    mains = material.design.job.mains
    return Sections(
        lead=lead_line(material),
        sections=(
            Section(
                title=words("Who"),
                text=(words(material.design.region.licensed_words), words(LICENSED)),
                cautions=(words(ONLY),),
            ),
            Section(
                title=words("What the job says"),
                notes=(*facts, words("Everything else on this side is not known to the program.")),
            ),
            Section(title=words("What to decide, mend or measure"), notes=points),
            _certificate(material, mains.certificate if mains is not None else None),
            Section(title=words("What voids it"), notes=tuple(words(each) for each in VOID)),
            _tests(words),
            Section(
                title=words("Completed by the licensed person"),
                text=(words("Limits are those of the local code; the person signing writes them in."),),
                fields=(
                    words("name, licence"),
                    words("date"),
                    words("certificate number"),
                    words("instruments, serials"),
                    words("next test due"),
                ),
            ),
        ),
        end="",
    )


def _certificate(material: Material, certificate: Certificate | None) -> Section:
    words, design = material.words, material.design
    title = words("What the certificate covers")
    sockets = [placed.id for placed, part in design.placed(Outlet) if part.supply == "ac"]
    inverters = [placed.id for placed, _ in design.placed(Inverter)]
    fitted = words(
        "Fitted by the job: {sockets}; {inverters}.",
        sockets=words("sockets {names}", names=", ".join(sockets)) if sockets else words("no socket listed"),
        inverters=words("inverter {names}", names=", ".join(inverters))
        if inverters
        else words("no inverter"),
    )
    if certificate is None:
        return Section(
            title=title,
            text=(
                words("The job holds no certificate: until there is one, the mains side stays off."),
                fitted,
            ),
        )
    count = "" if certificate.outlet_count is None else str(certificate.outlet_count)
    rows = (
        (words("number"), certificate.serial or BLANK),
        (words("date"), certificate.date.isoformat() if certificate.date is not None else BLANK),
        (words("signed by"), certificate.by or BLANK),
        (words("inverter"), certificate.inverter or BLANK),
        (
            words("inlet, place"),
            ", ".join(x for x in (certificate.inlet, certificate.inlet_zone) if x) or BLANK,
        ),
        (words("number of sockets"), count or BLANK),
    )
    return Section(
        title=title,
        text=(fitted,),
        table=Table(heads=(words("what"), words("recorded")), width_factor=(1.0, 2.0), rows=rows),
    )


def _tests(words: Words) -> Section:
    return Section(
        title=words("Tests"),
        table=Table(
            heads=(words("test"), words("limit"), words("read"), words("ok"), words("remark")),
            width_factor=(2.4, -24.0, -28.0, -8.0, 1.0),
            rows=tuple((words(test), BLANK, BLANK, TICK, BLANK) for test in TESTS),
        ),
    )


def electrician(material: Material) -> Iterator[PackFile]:
    """Make the sheet."""
    content = sections_pdf(sheet_of(material, TITLE), electrician_sheet(material))
    yield PackFile(name="electrician.pdf", content=content)

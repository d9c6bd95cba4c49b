"""As-built record: serials, firmware, cables as laid, settings as left. What the job holds is printed, the rest is to be filled in."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.settings_plan import settings_plan
from ampwright.assessment.settings_records import DeviceSettings
from ampwright.assessment.wording import cable_text, length_text
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.settings_model import value_text
from ampwright.documents.sheet.sections import BLANK, TICK, Section, Sections, Table, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import DesignPart

__all__ = ["as_built", "as_built_record"]

TITLE = noted("As-built record")
CHANGE_LINES = 5


def as_built_record(material: Material) -> Sections:
    """Return what the record prints."""
    words = material.words
    return Sections(
        lead=lead_line(material),
        sections=(
            Section(
                title=words("What this is"),
                text=(
                    words(
                        "What was really fitted. Where it differs from the job, write it here and take it into the job file as a new revision: only then "
                        "do the checks speak of this vehicle. Kept with the vehicle; a copy goes to whoever supports it."
                    ),
                ),
                fields=(
                    words("vehicle's registration"),
                    words("odometer"),
                    words("fitted by"),
                    words("finished on"),
                ),
            ),
            _parts(material),
            *_cables(material),
            *_settings(material),
            Section(
                title=words("Changes against the job"),
                table=Table(
                    heads=(
                        words("what, where"),
                        words("why, agreed with"),
                        words("in the job since revision"),
                    ),
                    width_factor=(2.0, 2.0, 1.0),
                    rows=((BLANK, BLANK, BLANK),) * CHANGE_LINES,
                ),
            ),
            Section(
                title=words("Signed"),
                fields=(words("installer, date"), words("checked by, date"), words("customer, date")),
            ),
        ),
        end=words(LICENSED),
    )


def _parts(material: Material) -> Section:
    words, design = material.words, material.design
    module = design.job.module
    rows = []
    if module is not None and design.module is not None:
        rows.append(
            (
                module.id,
                words("{name}, revision {revision}", name=design.module.name, revision=module.revision),
                module.zone,
                module.serial or BLANK,
                BLANK,
            )
        )
    firmware = {device.id: device.firmware for device in settings_plan(material.found).devices}
    rows += [
        (placed.id, _part_name(placed), _zone(placed), BLANK, firmware.get(placed.id) or BLANK)
        for placed in design.parts
        if not placed.is_inside_module or firmware.get(placed.id)
    ]
    return Section(
        title=words("Parts"),
        table=Table(
            heads=(words("name"), words("part"), words("place"), words("serial"), words("firmware")),
            width_factor=(1.1, 2.2, 0.9, -36.0, -24.0),
            rows=tuple(rows),
        ),
    )


def _part_name(placed: DesignPart) -> str:
    return placed.part.name if placed.case_count == 1 else f"{placed.case_count} x {placed.part.name}"


def _zone(placed: DesignPart) -> str:
    return placed.zone.id if placed.zone is not None else BLANK


def _cables(material: Material) -> Iterator[Section]:
    words, design = material.words, material.design
    runs = [run for run in design.runs if not run.is_inside_module]
    if not runs:
        return
    yield Section(
        title=words("Cables and devices as laid"),
        table=Table(
            heads=(
                words("cable"),
                words("from, to"),
                words("planned"),
                words("length as laid"),
                words("devices planned"),
                words("as fitted"),
                words("same"),
            ),
            width_factor=(0.7, 2.0, 1.3, -20.0, 1.5, -24.0, -9.0),
            rows=tuple(
                (
                    run.id,
                    f"{design.nodes[run.start]}, {design.nodes[run.end]}",
                    f"{cable_text(run.cable)}, {length_text(design, run.length_m)}",
                    BLANK,
                    ", ".join(
                        f"{device.id} {getattr(device.part, 'rating_a', 0.0):g} A" for device in run.devices
                    )
                    or words("none"),
                    BLANK,
                    TICK,
                )
                for run in runs
            ),
        ),
    )


def _settings(material: Material) -> Iterator[Section]:
    words = material.words
    devices = [device for device in settings_plan(material.found).devices if device.lines]
    rows = tuple(row for device in devices for row in _setting_rows(device, words))
    if rows:
        yield Section(
            title=words("Settings as left"),
            text=(
                words(
                    "Read back from the device, not from memory. What was read already stands in its place."
                ),
            ),
            table=Table(
                heads=(
                    words("device"),
                    words("setting"),
                    words("wanted"),
                    words("as left"),
                    words("read by, on, with"),
                ),
                width_factor=(1.3, 1.7, 0.9, -26.0, 1.4),
                rows=rows,
            ),
        )


def _setting_rows(device: DeviceSettings, words: Words) -> Iterator[tuple[str, ...]]:
    signed = ", ".join(
        text for text in (device.by, device.date.isoformat() if device.date else "", device.how) if text
    )
    for line in device.lines:
        left = BLANK if line.as_left is None else value_text(line.as_left, line, words)
        yield (
            device.id,
            words.said(line.words),
            value_text(line.value, line, words),
            left,
            signed if line.as_left is not None else BLANK,
        )


def as_built(material: Material) -> Iterator[PackFile]:
    """Make the record."""
    content = sections_pdf(sheet_of(material, TITLE), as_built_record(material))
    yield PackFile(name="as-built.pdf", content=content)

"""What to measure on the vehicle, as a sheet to fill in by hand beside the running engine.

The procedure is that of `fieldwork.measuring`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import Words, noted
from ampwright.fieldwork.measuring import MeasuringPlan, MeasuringStep, measuring_plan
from ampwright.records import record

__all__ = ["MeasuringSheet", "left_out", "measuring", "measuring_sheet"]

TITLE = noted("Measuring on the vehicle")
BEFORE = (
    noted("date"),
    noted("measured by"),
    noted("odometer"),
    noted("outside air, °C"),
    noted("clamp meter"),
    noted("voltmeter"),
)
HEADS = (noted("what, in which state, where"), noted("expected"), noted("read"), noted("beside it"))
LABELS = (noted("Cautions"), noted("Before"), noted("Readings"), noted("Afterwards"))
AFTER = noted(
    "Write each reading into the line printed below it, with instrument and date, raise the revision and check the job again: the "
    "verdict follows the readings."
)


@record
class Reading:
    """One row of the sheet."""

    title: str
    """What is measured."""
    how: str
    """State of the vehicle."""
    where: str
    """Where the instrument goes."""
    expected: str
    """What the job file foretells; empty = nothing."""
    unit: str
    """Unit of the reading."""
    also: tuple[str, ...]
    """What is written down beside it."""
    meaning: str
    """What a large difference means."""
    field: str
    """Field it replaces; empty = none."""
    line: str
    """The line to write there."""


@record
class MeasuringSheet:
    """Everything the sheet prints."""

    vehicle: str
    """The vehicle in words."""
    labels: tuple[str, ...]
    """Headings: cautions, before, readings, afterwards."""
    heads: tuple[str, ...]
    """Heads of the columns."""
    cautions: tuple[str, ...]
    """What can hurt."""
    before: tuple[str, ...]
    """What is written down once."""
    readings: tuple[Reading, ...]
    """In the order in which they are taken."""
    differs: str
    """Word before what a difference means."""
    replaces: str
    """Word before the field it replaces."""
    after: str
    """What to do with the readings."""


def plan_of(material: Material) -> MeasuringPlan:
    """Return the procedure for a job."""
    found = material.found
    return measuring_plan(found.design, found.network, found.energy.alternator)


def left_out(material: Material) -> str:
    """Return why a job has no such sheet; empty where it has one."""
    return plan_of(material).note


def measuring_sheet(material: Material) -> MeasuringSheet:
    """Return what the sheet prints."""
    words, plan = material.words, plan_of(material)
    return MeasuringSheet(
        vehicle=material.design.job.vehicle.description,
        labels=tuple(words(label) for label in LABELS),
        heads=tuple(words(head) for head in HEADS),
        cautions=tuple(words.said(each) for each in plan.cautions),
        before=tuple(words(each) for each in BEFORE),
        readings=tuple(_reading(words, step) for step in plan.steps),
        differs=words("If it differs:"),
        replaces=words("Write in the job file, {field}:", field="{field}"),
        after=words(AFTER),
    )


def _reading(words: Words, step: MeasuringStep) -> Reading:
    is_told = step.expected is not None and math.isfinite(step.expected)
    return Reading(
        title=words.said(step.title),
        how=words.said(step.how),
        where=words.said(step.where),
        expected=words.quantity(step.expected, step.unit) if is_told and step.expected is not None else "",
        unit=step.unit,
        also=tuple(words.said(each) for each in step.also),
        meaning=words.said(step.meaning),
        field=step.field,
        line=words.said(step.line),
    )


def measuring(material: Material) -> Iterator[PackFile]:
    """Make the sheet."""
    sheet = sheet_of(material, TITLE)
    content = sheet_pdf("measuring/measuring.typ", sheet, measuring_sheet(material))
    yield PackFile(name="measuring.pdf", content=content)

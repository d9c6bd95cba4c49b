"""Service plan: after the first weeks, by the month, by the year, and for standing; each line with room for dates."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.documents.installation.work import torque_text
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.service.intervals import FIRST_KM, FIRST_MILES, FIRST_WEEKS, PLAN_SOURCE, tasks
from ampwright.documents.sheet.sections import BLANK, Section, Sections, Table, sections_pdf
from ampwright.documents.sheet.sheet import LICENSED, sheet_of
from ampwright.documents.sheet.who import lead_line
from ampwright.documents.words.words import noted
from ampwright.energy.endurance import storage_days
from ampwright.job.design import Design
from ampwright.parts.battery import Battery

__all__ = ["isolated_days", "service", "service_plan"]

TITLE = noted("Service plan")
OFF = noted(
    "Before any tightening: everything off, the battery's fuse out or its isolator open, panels covered, mains lead away. Never tighten a joint that "
    "is live."
)


def service_plan(material: Material) -> Sections:
    """Return what the plan prints."""
    words = material.words
    return Sections(
        lead=lead_line(material),
        sections=(
            Section(
                title=words("When"),
                text=(
                    words(
                        "First: after {way} or {weeks} weeks, whichever comes first. Then by the list. The manual of each part goes first. A reading "
                        "that has grown since commissioning by a quarter is looked into, even where it still passes.",
                        way=words("{miles} miles", miles=FIRST_MILES)
                        if material.about.units == "us"
                        else words("{km} km", km=FIRST_KM),
                        weeks=f"{FIRST_WEEKS:g}",
                    ),
                ),
                cautions=(words(OFF),),
                notes=(words("Intervals: {source}.", source=str(PLAN_SOURCE)),),
            ),
            Section(
                title=words("What"),
                table=Table(
                    heads=(
                        words("when"),
                        words("what"),
                        words("good when"),
                        words("done, by"),
                        words("done, by"),
                    ),
                    width_factor=(0.8, 2.3, 1.7, -24.0, -24.0),
                    rows=tuple((task.when, task.what, task.good, BLANK, BLANK) for task in tasks(material)),
                ),
            ),
            _joints(material),
            _storage(material),
        ),
        end=words(LICENSED),
    )


def _joints(material: Material) -> Section:
    words, design = material.words, material.design
    rows = tuple(
        (placed.id, f"M{placed.part.stud_mm:g}", torque_text(material, placed.part), BLANK, BLANK)
        for placed in design.parts
        if placed.part.stud_mm > 0.0 and not placed.is_inside_module
    )
    note = (
        words("Joints inside the closed module are its maker's: send it in where its manual asks for it.")
        if design.module is not None
        else words("A joint that was loose twice gets a new lug, and its cable is looked at for heat.")
    )
    if not rows:
        return Section(
            title=words("Joints to tighten again"),
            notes=(note, words("No part outside has studs: clamps and plugs by their manuals.")),
        )
    return Section(
        title=words("Joints to tighten again"),
        table=Table(
            heads=(words("part"), words("stud"), words("torque"), words("first weeks"), words("yearly")),
            width_factor=(1.4, 0.6, 1.8, -28.0, -28.0),
            rows=rows,
        ),
        notes=(note,),
    )


def isolated_days(design: Design) -> float:
    """Return the days in store with the isolator open: only what the battery itself uses and loses."""
    alone = tuple(
        placed if isinstance(placed.part, Battery) else dataclasses.replace(placed, is_on_when="loads-use")
        for placed in design.parts
    )
    return storage_days(dataclasses.replace(design, parts=alone, loads=()))


def _storage(material: Material) -> Section:
    words, design = material.words, material.design
    battery = design.battery_part()
    return Section(
        title=words("Standing and storing"),
        notes=tuple(
            note
            for note in (
                *_days(material),
                words("The vehicle's own battery has its own drain: see its handbook.")
                if design.vehicle.has_starter_battery
                else "",
                words(
                    "Lithium: store it at half to two thirds of charge, cool, above {low} if it is to be charged there; not full in summer heat for months.",
                    low=words.quantity(battery.charge_min_degc, "°C", units=material.about.units),
                )
                if battery.chemistry == "lfp"
                else words(
                    "Lead-acid: store it full and charge it again every three months; an empty one freezes and sulphates."
                ),
                words(
                    "Before using it again: look at case and joints, read the rest voltage, charge it full, try cut-offs and chargers."
                ),
            )
            if note
        ),
    )


def _days(material: Material) -> Iterator[str]:
    words, design = material.words, material.design
    days, isolated = storage_days(design), isolated_days(design)
    asked = design.job.season.storage_days
    if not math.isfinite(days):
        yield words("Nothing drains the battery in store, as the job says.")
        return
    yield words(
        "Full and put away, only what must stay on left on, it stands {days:.0f} days to cut-off; the job asks for {asked}. From half charge about half of that.",
        days=days,
        asked=asked,
    )
    if math.isfinite(isolated):
        yield words(
            "With the isolator open, or the battery's fuse out, it stands {days:.0f} days: only what the battery uses and loses itself.",
            days=isolated,
        )
    if has_mains(design):
        yield words(
            "Left hooked up instead: only where the charger holds this battery's float and somebody looks in."
        )


def service(material: Material) -> Iterator[PackFile]:
    """Make the plan."""
    yield PackFile(
        name="service.pdf", content=sections_pdf(sheet_of(material, TITLE), service_plan(material))
    )

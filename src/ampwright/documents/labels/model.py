"""Design -> labels: both ends of each conductor, each device, hazards, legends, and the job's code."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.cabling.fittings import terminal_text
from ampwright.documents.cabling.pieces import pieces
from ampwright.documents.cabling.wording import family_text, run_purpose, written_ends
from ampwright.documents.labels.legends import legends_of
from ampwright.documents.labels.records import DeviceLabel, LabelSheet, WireLabel
from ampwright.documents.labels.warning_labels import warning_labels
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import Words
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.parts.protection import Fuse, Isolator

__all__ = ["CODE_MM", "code_text", "label_sheet"]

BAR_MM = 100.0
"""Length of the check bar on each page."""
CODE_MM = 28.0
"""Side of the code with its quiet zone (own choice, docs/choices.md#label-sizes)."""
LARGE_FROM_MM = 11.0
"""Outside diameter from which a cable gets the large label (own choice, docs/choices.md#label-sizes)."""


def code_text(material: Material) -> str:
    """Return what the code holds: program, job, revision and hash of the job file; no address."""
    about = material.about
    return f"AMPWRIGHT JOB {about.id} REVISION {about.revision} HASH {material.answer.job_hash}"


def label_sheet(material: Material) -> LabelSheet:
    """Return what the sheet prints."""
    design, words, about = material.design, material.words, material.about
    length = words.quantity(BAR_MM, "mm", units=about.units)
    return LabelSheet(
        bar_mm=BAR_MM,
        bar_text=words(
            "Check bar, measure it: {length}. Print at 100 %, never fitted to the page.", length=length
        ),
        notes=_notes(design, words, length),
        titles=(
            words("Job"),
            words("Warnings"),
            words("Devices"),
            words("Wires, two labels for each conductor"),
            words("Legends of the buttons"),
        ),
        job_lines=(
            about.title,
            words(
                "Job {id}, revision {revision}, {date}",
                id=about.id,
                revision=about.revision,
                date=about.date.isoformat(),
            ),
            words("Job file {hash}", hash=material.answer.job_hash),
        ),
        code_alt=code_text(material),
        warnings=tuple(warning_labels(design, words)),
        devices=tuple(_devices(design, words)),
        wires=tuple(_wires(design, words)),
        legends=tuple(legends_of(design, words)),
    )


def _notes(design: Design, words: Words, length: str) -> tuple[str, ...]:
    return (
        words(
            "Measure both check bars before cutting: where one is not {length} long, nothing on this sheet has its size.",
            length=length,
        ),
        words(
            "A wire label is laid along the conductor or folded as a flag, one at each end, under clear heat-shrink."
        ),
        words("Labels of the inside of the module are its maker's."),
    )[: 3 if design.module is not None else 2]


def _wires(design: Design, words: Words) -> Iterator[WireLabel]:
    for piece in pieces(design):
        if piece.is_inside_module:
            continue
        start, end = terminal_text(piece.start, words), terminal_text(piece.end, words)
        for here, other in ((start, end), (end, start)):
            yield WireLabel(
                id=piece.id,
                ends=words("{here}; other end {other}", here=here, other=other),
                is_large=piece.cable.outside_mm >= LARGE_FROM_MM,
            )


def _devices(design: Design, words: Words) -> Iterator[DeviceLabel]:
    for run in design.runs:
        for device in run.devices if not run.is_inside_module else ():
            yield _device(design, run, device, words)
    for placed in design.parts:
        fuse = placed.string_device
        if fuse is not None and not placed.is_inside_module:
            for number in range(1, placed.strings + 1):
                yield DeviceLabel(
                    id=f"{placed.id} {number}",
                    rating=words.decimal(f"{fuse.rating_a:g}{UNIT_SPACE}A, {fuse.name}"),
                    protects=words("protects string {number} of {id}", number=number, id=placed.id),
                    advice=words("Replace by the same type and rating only."),
                )


def _device(design: Design, run: DesignRun, device: DesignDevice, words: Words) -> DeviceLabel:
    leads = words(
        "{run}, {start} to {end}: {purpose}",
        run=run.id,
        start=written_ends(design, run)[0],
        end=written_ends(design, run)[1],
        purpose=run_purpose(design, run),
    )
    is_switch = isinstance(device.part, Isolator)
    sort = words(design.region.isolator_word) if is_switch else family_text(device, words)
    return DeviceLabel(
        id=device.id,
        rating=words.decimal(f"{device.part.rating_a:g}{UNIT_SPACE}A, {sort}"),
        protects=words("switches {leads}", leads=leads)
        if is_switch
        else words("protects {leads}", leads=leads),
        advice=words("Replace by the same type and rating only.") if isinstance(device.part, Fuse) else "",
    )

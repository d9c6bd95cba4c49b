"""Settings plan -> what the sheet prints: every figure as text in its place, nothing judged or computed."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.assessment.settings_plan import settings_plan
from ampwright.assessment.settings_records import DeviceSettings, Origin, SettingLine
from ampwright.documents.report_model import DRAFT
from ampwright.documents.report_records import Paper
from ampwright.records import record

__all__ = ["DeviceSheet", "SettingsModel", "SheetLine", "settings_model", "value_text", "window_text"]

ORIGIN: dict[Origin, str] = {"job": "job", "part": "as delivered", "proposal": "PROPOSAL"}
PROPOSED = (
    "A line marked PROPOSAL is computed by this program because the job says nothing: take it into the job, or write "
    "another value there, and check again before setting it."
)
AFTER = (
    "Set from top to bottom: what protects the battery comes first. Choose the battery type before the voltages. Read "
    "every value back and write it down, then record it in the job (as_left)."
)
LIMITS = (
    "The manual of the device fitted goes first.",
    "The local code and licensed practice decide; mains voltage belongs to a licensed electrician.",
)


@record
class SheetLine:
    """One thing to set, as printed."""

    what: str
    """What it is."""
    value: str
    """What to set it to."""
    window: str
    """Window allowed by device and battery."""
    why: str
    """Reason."""
    origin: str
    """Who says the value."""
    is_proposal: bool
    """True for a value the job does not decide."""
    as_left: str
    """What was read back; empty = a blank to write in."""
    is_off: bool
    """True when the reading does not agree."""


@record
class DeviceSheet:
    """One device, as printed."""

    heading: str
    """Its name in the job."""
    name: str
    """What it is."""
    lines: tuple[SheetLine, ...]
    """In the order to set them."""
    read_by: str
    """Who read it back, when and how; empty = a blank to sign."""
    note: str
    """What else was recorded."""


@record
class SettingsModel:
    """Everything the settings sheet prints."""

    paper: Paper
    """Sheet."""
    date: str
    """Date of the revision, YYYY-MM-DD."""
    document_title: str
    """Title in the document's properties."""
    author: str
    """Who is responsible; empty = not said."""
    draft: str
    """Banner on every page; empty = none."""
    running: str
    """Line at the foot of every page."""
    title: str
    """Title of the job."""
    notes: tuple[str, ...]
    """How to use the sheet."""
    devices: tuple[DeviceSheet, ...]
    """The devices in order."""
    limits: tuple[str, ...]
    """What the sheet does not do."""


def settings_model(found: Assessment) -> SettingsModel:
    """Return what the settings sheet prints for an assessment."""
    about = found.design.job.job
    plan = settings_plan(found)
    return SettingsModel(
        paper="us-letter" if about.units == "us" else "a4",
        date=about.date.isoformat(),
        document_title=f"{about.title} - settings",
        author=about.author,
        draft="" if found.wiring_verdict == "no fault found" else DRAFT,
        running=f"{about.id}, revision {about.revision}, {about.date.isoformat()}.",
        title=f"{about.title}: settings",
        notes=(AFTER, PROPOSED) if plan.proposal_count else (AFTER,),
        devices=tuple(_device(each) for each in plan.devices if each.lines),
        limits=LIMITS,
    )


def _device(device: DeviceSettings) -> DeviceSheet:
    read = ", ".join(
        text
        for text in (
            device.by,
            device.date.isoformat() if device.date else "",
            device.how,
            f"firmware {device.firmware}" if device.firmware else "",
        )
        if text
    )
    return DeviceSheet(
        heading=device.id,
        name=device.name,
        lines=tuple(_line(line) for line in device.lines),
        read_by=read,
        note=device.note,
    )


def _line(line: SettingLine) -> SheetLine:
    return SheetLine(
        what=line.words,
        value=value_text(line.value, line),
        window=window_text(line),
        why=line.why,
        origin=ORIGIN[line.origin],
        is_proposal=line.origin == "proposal",
        as_left="" if line.as_left is None else value_text(line.as_left, line),
        is_off=line.is_off,
    )


def value_text(value: float | str, line: SettingLine) -> str:
    """Return a value with its unit; 0 of what can be switched off is "off"."""
    if isinstance(value, str):
        return value
    if value == 0.0 and line.name in {"equalise_v", "compensation_v_per_k"}:
        return "off"
    if line.unit == "V/K":
        return f"{1000.0 * value:g} mV/K"
    return f"{value:.2f} V" if line.unit == "V" else f"{value:g} {line.unit}"


def window_text(line: SettingLine) -> str:
    """Return the window allowed, in words short enough for a column."""
    if line.is_fixed:
        return "fixed: read it"
    if line.unit == "V/K" or line.name == "equalise_v":
        return "off" if line.high == 0.0 else ""
    places = ".1f" if line.unit == "V" else "g"
    low = "" if line.low is None else format(line.low, places)
    high = "" if line.high is None else format(line.high, places)
    if low and high:
        return f"{low} to {high} {line.unit}"
    if high:
        return f"up to {high} {line.unit}"
    return f"from {low} {line.unit}" if low else ""

"""Settings plan -> what the sheet prints: every figure as text in its place, nothing judged or computed."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.assessment.settings_plan import settings_plan
from ampwright.assessment.settings_records import DeviceSettings, Origin, SettingLine
from ampwright.documents.override_view import override_heading, override_lines
from ampwright.documents.report_facts import revision_line
from ampwright.documents.report_model import DRAFT
from ampwright.documents.report_records import Paper
from ampwright.documents.words.words import Words, english, noted
from ampwright.records import record

__all__ = ["DeviceSheet", "SettingsModel", "SheetLine", "settings_model", "value_text", "window_text"]

ORIGIN: dict[Origin, str] = {
    "job": noted("job"),
    "part": noted("as delivered"),
    "proposal": noted("PROPOSAL"),
}
PROPOSED = noted(
    "A line marked PROPOSAL is computed by this program because the job says nothing: take it into the job, or write "
    "another value there, and check again before setting it."
)
AFTER = noted(
    "Set from top to bottom: what protects the battery comes first. Choose the battery type before the voltages. Read "
    "every value back and write it down, then record it in the job (as_left)."
)
LIMITS = (
    noted("The manual of the device fitted goes first."),
    noted("The local code and licensed practice decide; mains voltage belongs to a licensed electrician."),
)
LABELS = {
    "page": noted("page {page} of {count}"),
    "what": noted("what, and why"),
    "set_to": noted("set to"),
    "window": noted("window"),
    "says_who": noted("says who"),
    "as_left": noted("as left"),
    "not_as_wanted": noted("not as wanted"),
    "read_by": noted("Read by"),
    "date": noted("date"),
    "with": noted("with"),
    "firmware": noted("firmware"),
}
"""Fixed words of the sheet by the names under which the template reads them."""


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
    language: str
    """Language code of the text."""
    labels: dict[str, str]
    """Fixed words of the sheet by name."""
    date: str
    """Date of the revision, YYYY-MM-DD."""
    document_title: str
    """Title in the document's properties."""
    author: str
    """Who is responsible; empty = not said."""
    draft: str
    """Banner on every page; empty = none."""
    overrides_heading: str
    """Heading of the block of overrides on every page; empty = none in force."""
    overrides: tuple[str, ...]
    """Lines of that block."""
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


def settings_model(found: Assessment, words: Words | None = None) -> SettingsModel:
    """Return what the settings sheet prints for an assessment; in English where no words are given."""
    words = words or english()
    about = found.design.job.job
    plan = settings_plan(found)
    notes = (AFTER, PROPOSED) if plan.proposal_count else (AFTER,)
    return SettingsModel(
        paper=found.design.region.paper,
        language=words.language,
        labels={name: words(text) for name, text in LABELS.items()},
        date=about.date.isoformat(),
        document_title=words("{title} - settings", title=about.title),
        author=about.author,
        draft="" if found.wiring_verdict == "no fault found" else words(DRAFT),
        overrides_heading=override_heading(found.overridden, found.on, words),
        overrides=override_lines(found.overridden, job_id=about.id, words=words),
        running=revision_line(about, words),
        title=words("{title}: settings", title=about.title),
        notes=tuple(words(note) for note in notes),
        devices=tuple(_device(each, words) for each in plan.devices if each.lines),
        limits=tuple(words(limit) for limit in LIMITS),
    )


def _device(device: DeviceSettings, words: Words) -> DeviceSheet:
    read = ", ".join(
        text
        for text in (
            device.by,
            device.date.isoformat() if device.date else "",
            device.how,
            words("firmware {version}", version=device.firmware) if device.firmware else "",
        )
        if text
    )
    return DeviceSheet(
        heading=device.id,
        name=words.said(device.name),
        lines=tuple(_line(line, words) for line in device.lines),
        read_by=words("Read by {who}.", who=read) if read else "",
        note=device.note,
    )


def _line(line: SettingLine, words: Words) -> SheetLine:
    return SheetLine(
        what=words.said(line.words),
        value=value_text(line.value, line, words),
        window=window_text(line, words),
        why=words.said(line.why),
        origin=words(ORIGIN[line.origin]),
        is_proposal=line.origin == "proposal",
        as_left="" if line.as_left is None else value_text(line.as_left, line, words),
        is_off=line.is_off,
    )


def value_text(value: float | str, line: SettingLine, words: Words) -> str:
    """Return a value with its unit; 0 of what can be switched off is "off"."""
    if isinstance(value, str):
        return value
    if value == 0.0 and line.name in {"equalise_v", "compensation_v_per_k"}:
        return words("off")
    if line.unit == "V/K":
        return words.decimal(f"{1000.0 * value:g} mV/K")
    return words.decimal(f"{value:.2f} V" if line.unit == "V" else f"{value:g} {line.unit}")


def window_text(line: SettingLine, words: Words) -> str:
    """Return the window allowed, in words short enough for a column."""
    if line.is_fixed:
        return words("fixed: read it")
    if line.unit == "V/K" or line.name == "equalise_v":
        return words("off") if line.high == 0.0 else ""
    places = ".1f" if line.unit == "V" else "g"
    low = "" if line.low is None else words.decimal(format(line.low, places))
    high = "" if line.high is None else words.decimal(format(line.high, places))
    if low and high:
        return words("{low} to {high} {unit}", low=low, high=high, unit=line.unit)
    if high:
        return words("up to {high} {unit}", high=high, unit=line.unit)
    return words("from {low} {unit}", low=low, unit=line.unit) if low else ""

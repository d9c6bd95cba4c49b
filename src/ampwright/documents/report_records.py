"""The report as plain text in its places: every figure is already printed, nothing is left to compute."""

from __future__ import annotations

from typing import Literal

from ampwright.documents.chart_records import Chart
from ampwright.documents.curve_records import CurvePages
from ampwright.records import record

__all__ = ["ChangeLine", "Fact", "FindingLine", "LedgerLine", "Paper", "ReportModel", "Sign", "VerdictBlock"]

Paper = Literal["a4", "us-letter"]
Sign = Literal["good", "condition", "bad", "open", "advice"]
"""Shape drawn beside a word: tick, triangle, cross, half diamond, bar."""


@record
class Fact:
    """One line of the title block."""

    label: str
    """What it is."""
    text: str
    """The text."""


@record
class VerdictBlock:
    """One of the two verdicts."""

    heading: str
    """Which verdict."""
    sign: Sign
    """Shape beside the word."""
    word: str
    """The verdict."""
    sentence: str
    """Its sentence."""
    rules: str
    """How many rules were checked."""


@record
class LedgerLine:
    """One line of the energy ledger."""

    kind: Literal["heading", "entry", "sum"]
    """How it is set."""
    name: str
    """What it is."""
    energy: str
    """Energy a day, without unit."""
    share: str
    """Part of the sum it belongs to."""


@record
class ChangeLine:
    """One of the smallest changes."""

    description: str
    """The change."""
    cost: str
    """What the parts cost."""
    result: str
    """What the verdicts become."""
    caution: str
    """Hazard that comes with it; empty = none."""


@record
class FindingLine:
    """One finding."""

    sign: Sign
    """Shape beside the word."""
    severity: str
    """How it weighs."""
    rule: str
    """Rule in words."""
    subject: str
    """What it speaks of."""
    is_whole_job: bool
    """True when it speaks of the job and not of one thing in it."""
    language: str
    """Language code of message, caution and way out."""
    message: str
    """What was found."""
    caution: str
    """Hazard that comes with it; empty = none."""
    figures: tuple[str, ...]
    """Value, limit and margin, a line each; empty where there are none."""
    source: str
    """Where the limit comes from; empty where there is none."""
    way_out: str
    """What would mend it; empty where nothing is said."""
    note: str
    """Under which values it was found; empty = at the likely values."""


@record
class ReportModel:
    """Everything the report prints."""

    paper: Paper
    """Sheet."""
    language: str
    """Language code of the text."""
    labels: dict[str, str]
    """Fixed words of the page by name."""
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
    """Lines of that block, each short enough for one line of the sheet."""
    running: str
    """Line at the foot of every page."""
    title: str
    """Title of the job."""
    facts: tuple[Fact, ...]
    """Title block."""
    verdicts: tuple[VerdictBlock, ...]
    """The two verdicts."""
    run_out_heading: str
    """Whether something runs out, or what comes nearest to it, and when."""
    run_out: str
    """The sentence."""
    outlook: tuple[str, ...]
    """How sure and how long, a sentence each; empty where nothing was reckoned."""
    chart: Chart | None
    """Chart of the use; None = no course was calculated."""
    ledger_heading: str
    """What the ledger's figures are."""
    ledger: tuple[LedgerLine, ...]
    """Energy a day."""
    changes: tuple[ChangeLine, ...]
    """Smallest changes, cheapest first."""
    changes_note: str
    """What stands where no change is listed, or how many were left out."""
    questions: tuple[str, ...]
    """What to find out."""
    questions_note: str
    """What stands where no question is listed."""
    findings: tuple[FindingLine, ...]
    """Findings that matter, heaviest first."""
    findings_note: str
    """What stands where none matters."""
    passes: str
    """Passed rules and how often."""
    assumptions: tuple[str, ...]
    """What was assumed."""
    cautions: tuple[str, ...]
    """Hazards that belong to this job."""
    limits: tuple[str, ...]
    """What the report does not do."""
    appendix: CurvePages | None = None
    """Time-current charts and the matrix of devices, on pages at the end; None = not asked for."""

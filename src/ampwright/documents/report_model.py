"""Answer -> report model: choose, order and print; nothing is judged or computed here.

The verdicts, findings and figures are those of the answer. Findings that weigh more at the unfavourable end
of what is unknown are shown with a note, because the verdict is taken over that range.
"""

from __future__ import annotations

import calendar
from collections import Counter

from ampwright.assessment.added_mass import mass_line
from ampwright.assessment.charging import IDLING
from ampwright.assessment.result import Assessment, RuleCount, RunOut, UseVerdict, WiringVerdict
from ampwright.documents.cautions import REPORT_LIMITS, hazards, short_caution
from ampwright.documents.chart import soc_chart
from ampwright.documents.energy_view import ledger_lines, use_course
from ampwright.documents.override_view import override_heading, override_lines
from ampwright.documents.quantity_text import (
    UNIT_SPACE,
    UnitSystem,
    day_count_text,
    percent_text,
    quantity_text,
    three_figures,
)
from ampwright.documents.report_records import (
    ChangeLine,
    Fact,
    FindingLine,
    Paper,
    ReportModel,
    Sign,
    VerdictBlock,
)
from ampwright.documents.words.words import english, noted
from ampwright.findings import Finding, Severity
from ampwright.job.records import About, Job
from ampwright.sizing.outlook_words import (
    customer_sentence,
    endurance_sentences,
    first_failure_sentence,
    source_sentences,
)
from ampwright.sizing.real_years import real_years_sentences
from ampwright.sizing.result import Answer, Change
from ampwright.sizing.sureness import chance_sentence

__all__ = ["DRAFT", "report_model"]

DRAFT = noted("DRAFT, DO NOT ENERGISE")
CHANGES_SHOWN = 5
OPEN_RULES_SHOWN = 3
FAR_BEYOND_FRAC = -9.995
"""Margin below which a percentage says nothing any more; own choice: ten times the limit."""
WEIGHT = tuple(Severity)
AT_WORST = "At the unfavourable end of what is unknown."
CHART_MM: dict[Paper, float] = {"a4": 182.0, "us-letter": 187.9}
USE_SIGN: dict[UseVerdict, Sign] = {
    "suits": "good",
    "suits with conditions": "condition",
    "does not suit": "bad",
}
WIRING_SIGN: dict[WiringVerdict, Sign] = {
    "no fault found": "good",
    "not fully checked": "open",
    "do not energise": "bad",
}
FINDING_SIGN: dict[Severity, Sign] = {
    Severity.PASS: "good",
    Severity.ADVICE: "advice",
    Severity.NOT_CHECKED: "open",
    Severity.CONDITION: "condition",
    Severity.FAIL: "bad",
}


def report_model(answer: Answer) -> ReportModel:
    """Return what the report prints for an answer."""
    design = answer.assessment.design
    about = design.job.job
    paper = design.region.paper
    course = use_course(answer.assessment, answer.chance)
    findings = _findings_that_matter(answer)
    return ReportModel(
        paper=paper,
        language="en",
        date=about.date.isoformat(),
        document_title=f"{about.title} - power system report",
        author=about.author,
        draft="" if answer.wiring_verdict == "no fault found" else DRAFT,
        overrides_heading=override_heading(answer.overridden, answer.assessment.on),
        overrides=override_lines(answer.overridden, job_id=about.id),
        running=_running(answer, about),
        title=about.title,
        facts=_facts(answer, design.job),
        verdicts=_verdicts(answer),
        run_out_heading=_run_out_heading(answer.assessment.run_out),
        run_out=_run_out_text(answer.assessment.run_out),
        outlook=_outlook(answer),
        chart=soc_chart(course, width_mm=CHART_MM[paper], units=about.units),
        ledger_heading=f"Energy a day, mean of {day_count_text(course.day_count)}",
        ledger=ledger_lines(answer.assessment),
        changes=tuple(_change(change) for change in answer.changes[:CHANGES_SHOWN]),
        changes_note=_changes_note(answer),
        questions=tuple(question.message for question in answer.questions),
        questions_note=_questions_note(answer),
        findings=findings,
        findings_note="" if findings else "Nothing failed, nothing is open, no advice.",
        passes=_passes(answer.assessment),
        assumptions=answer.assumptions,
        cautions=_cautions(answer),
        limits=REPORT_LIMITS,
    )


def _running(answer: Answer, about: About) -> str:
    return (
        f"{about.id}, revision {about.revision}, {about.date.isoformat()}. Job file {answer.job_hash}. "
        f"Ampwright {answer.program_version}."
    )


def _facts(answer: Answer, job: Job) -> tuple[Fact, ...]:
    about = job.job
    place = job.place.name or job.place.site or job.place.weather_file or _coordinates(job)
    entries = (
        ("Job", about.id),
        ("Customer", about.customer or "not said"),
        ("Responsible", about.author or "not said"),
        ("Revision", f"{about.revision} of {about.date.isoformat()}"),
        ("Vehicle", job.vehicle.description),
        ("Place, month", f"{place}, {calendar.month_name[job.season.month]}"),
        ("Use", day_count_text(len(answer.assessment.design.days))),
        ("Region", answer.assessment.design.region.title),
        ("Mass", mass_line(answer.assessment.design, answer.assessment.mass)),
        ("Program", f"Ampwright {answer.program_version}"),
        ("Job file", answer.file),
        ("File hash", answer.job_hash),
        ("Unknown", _counted(answer.unknown_count, "amount")),
    )
    return tuple(Fact(label=label, text=text) for label, text in entries)


def _coordinates(job: Job) -> str:
    if job.place.latitude_deg is None or job.place.longitude_deg is None:
        return "place not said"
    return f"{job.place.latitude_deg:.2f}°, {job.place.longitude_deg:.2f}°"


def _counted(count: int, word: str) -> str:
    if count == 0:
        return f"no {word}"
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _verdicts(answer: Answer) -> tuple[VerdictBlock, ...]:
    return (
        VerdictBlock(
            heading="Fit for the use",
            sign=USE_SIGN[answer.use_verdict],
            word=answer.use_verdict,
            sentence=answer.use_sentence,
            rules=_rules_text("use", answer.assessment.use_rules),
        ),
        VerdictBlock(
            heading="Wiring and protection",
            sign=WIRING_SIGN[answer.wiring_verdict],
            word=answer.wiring_verdict,
            sentence=answer.wiring_sentence,
            rules=_rules_text("wiring", answer.assessment.wiring_rules) + _draft_text(answer),
        ),
    )


def _draft_text(answer: Answer) -> str:
    """Return the banner as running text: a screen reader skips what stands in the margin."""
    return "" if answer.wiring_verdict == "no fault found" else " This report is a draft: do not energise."


def _rules_text(name: str, rules: RuleCount) -> str:
    text = f"{name}: {rules.checked_count} of {rules.total_count} rules checked"
    if not rules.open_rules:
        return f"{text}."
    shown = ", ".join(_words(rule) for rule in rules.open_rules[:OPEN_RULES_SHOWN])
    more = len(rules.open_rules) - OPEN_RULES_SHOWN
    return f"{text}; open: {shown}{f' and {more} more' if more > 0 else ''}."


def _words(rule: str) -> str:
    return rule.replace("-", " ")


def _run_out_heading(run_out: RunOut) -> str:
    when = f", day {run_out.day_count}" if run_out.day_count else ""
    when += f" at {run_out.clock}" if run_out.clock else ""
    what = "Runs out first" if run_out.runs_out else "Comes nearest to running out"
    return f"{what}: {run_out.subject}{when}"


def _run_out_text(run_out: RunOut) -> str:
    size = percent_text(abs(run_out.margin_frac))
    margin = f"Short by {size}." if run_out.margin_frac < 0.0 else f"Margin {size}."
    return f"{run_out.message} {margin}"


def _outlook(answer: Answer) -> tuple[str, ...]:
    """Return how sure and how long, a sentence a line."""
    said: list[str] = []
    if answer.chance is not None:
        said += [chance_sentence(answer.chance), customer_sentence(answer.chance)]
        said.append(first_failure_sentence(answer.chance))
    if answer.real_years is not None:
        said.append(real_years_sentences(answer.real_years)[0])
    if answer.outlook is not None:
        days = answer.assessment.energy.day_count
        said += [*endurance_sentences(answer.outlook), *source_sentences(answer.outlook, day_count=days)]
    return tuple(one for one in said if one)


def _change(change: Change) -> ChangeLine:
    cures = f" Mends: {', '.join(_words(rule) for rule in change.cures)}." if change.cures else ""
    prefix = "" if change.is_cure else "Not enough alone. "
    return ChangeLine(
        description=change.description,
        cost=f"EUR{UNIT_SPACE}{three_figures(change.cost_eur)}" if change.cost_eur else "no parts",
        result=f"{prefix}Then: {change.use_verdict}; wiring: {change.wiring_verdict}.{cures}",
        caution=short_caution(change.caution),
    )


def _changes_note(answer: Answer) -> str:
    if not answer.changes:
        return "No change is needed or none was found."
    left_out = len(answer.changes) - CHANGES_SHOWN
    more = f" {left_out} more in the full answer." if left_out > 0 else ""
    return f"Each is taken alone; prices are of parts, without labour.{more}"


def _questions_note(answer: Answer) -> str:
    if answer.questions:
        is_moved = any(question.turns_at is not None for question in answer.questions)
        return "Unknown amounts that move the verdicts most." if is_moved else "None alone changes a verdict."
    return "No amount is unknown." if answer.unknown_count == 0 else "No unknown amount moves a verdict."


def _findings_that_matter(answer: Answer) -> tuple[FindingLine, ...]:
    about = answer.assessment.design.job.job
    likely = {(f.group, f.rule, f.subject): WEIGHT.index(f.severity) for f in answer.assessment.findings}
    heavier = [
        finding
        for finding in answer.worst.findings
        if WEIGHT.index(finding.severity) > likely.get((finding.group, finding.rule, finding.subject), 0)
    ]
    replaced = {(f.group, f.rule, f.subject) for f in heavier}
    lines = [(finding, AT_WORST) for finding in heavier]
    lines += [
        (finding, "")
        for finding in answer.assessment.findings
        if finding.severity is not Severity.PASS
        and (finding.group, finding.rule, finding.subject) not in replaced
    ]
    lines.sort(key=lambda line: -WEIGHT.index(line[0].severity))
    return tuple(_finding(finding, note, units=about.units, job_id=about.id) for finding, note in lines)


def _finding(finding: Finding, note: str, *, units: UnitSystem, job_id: str) -> FindingLine:
    return FindingLine(
        sign=FINDING_SIGN[finding.severity],
        severity=finding.severity.value,
        rule=_words(finding.rule),
        is_whole_job=finding.subject == job_id,
        subject="whole job" if finding.subject == job_id else finding.subject,
        message=finding.message,
        caution=short_caution(finding.caution),
        figures=_figures(finding, units),
        source=str(finding.source) if finding.source else "",
        way_out=finding.way_out,
        note=note,
    )


def _figures(finding: Finding, units: UnitSystem) -> tuple[str, ...]:
    lines: list[str] = []
    if finding.value is not None:
        lines.append(f"found {quantity_text(finding.value, finding.unit, units=units)}")
    if finding.limit is not None:
        bound = "at most" if finding.at_most else "at least"
        lines.append(f"{bound} {quantity_text(finding.limit, finding.unit, units=units)}")
    if finding.margin_frac is not None:
        is_far = finding.margin_frac < FAR_BEYOND_FRAC
        lines.append("far beyond it" if is_far else f"margin {percent_text(finding.margin_frac)}")
    return tuple(lines)


def _passes(assessment: Assessment) -> str:
    counts = Counter(f.rule for f in assessment.findings if f.severity is Severity.PASS)
    if not counts:
        return "No rule passed."
    each = ", ".join(f"{_words(rule)} {count}" for rule, count in sorted(counts.items()))
    return f"{_counted(sum(counts.values()), 'check')} passed: {each}."


def _cautions(answer: Answer) -> tuple[str, ...]:
    own = [f.caution for f in answer.assessment.findings if f.caution and f.severity is Severity.PASS]
    own += [IDLING for change in answer.changes[:CHANGES_SHOWN] if change.caution == IDLING]
    own += [IDLING for found in answer.assessment.findings if found.caution == IDLING]
    return tuple(dict.fromkeys((*hazards(answer.assessment.design, english()), *own)))

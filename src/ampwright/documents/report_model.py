"""Answer -> report model: choose, order and print; nothing is judged or computed here.

The verdicts, findings and figures are those of the answer. Findings that weigh more at the unfavourable end
of what is unknown are shown with a note, because the verdict is taken over that range.
"""

from __future__ import annotations

from collections import Counter

from ampwright.assessment.charging import IDLING
from ampwright.assessment.result import Assessment, RuleCount, RunOut, UseVerdict, WiringVerdict
from ampwright.documents.cautions import REPORT_LIMITS, hazards, short_caution
from ampwright.documents.chart import soc_chart
from ampwright.documents.energy_view import ledger_lines, use_course
from ampwright.documents.override_view import WEIGHTS, override_heading, override_lines
from ampwright.documents.quantity_text import UNIT_SPACE, UnitSystem
from ampwright.documents.report_facts import report_facts, report_labels, running_line
from ampwright.documents.report_records import (
    ChangeLine,
    FindingLine,
    Paper,
    ReportModel,
    Sign,
    VerdictBlock,
)
from ampwright.documents.words.words import Words, english, noted
from ampwright.findings import Finding, Severity
from ampwright.sizing.contents_words import contents_sentences
from ampwright.sizing.outlook_words import (
    customer_sentence,
    endurance_sentences,
    first_failure_sentence,
    source_sentences,
)
from ampwright.sizing.real_years import real_years_sentences, weeks_sentences
from ampwright.sizing.result import Answer, Change
from ampwright.sizing.sureness import chance_sentence

__all__ = ["DRAFT", "report_model"]

DRAFT = noted("DRAFT, DO NOT ENERGISE")
CHANGES_SHOWN = 5
OPEN_RULES_SHOWN = 3
FAR_BEYOND_FRAC = -9.995
"""Margin below which a percentage says nothing any more; own choice: ten times the limit."""
WEIGHT = tuple(Severity)
AT_WORST = noted("At the unfavourable end of what is unknown.")
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


def report_model(answer: Answer, words: Words | None = None) -> ReportModel:
    """Return what the report prints for an answer; in English where no words are given."""
    words = words or english()
    design = answer.assessment.design
    about = design.job.job
    paper = design.region.paper
    course = use_course(answer.assessment, answer.chance)
    findings = _findings_that_matter(answer, words)
    return ReportModel(
        paper=paper,
        language=words.language,
        labels=report_labels(words),
        date=about.date.isoformat(),
        document_title=words("{title} - power system report", title=about.title),
        author=about.author,
        draft="" if answer.wiring_verdict == "no fault found" else words(DRAFT),
        overrides_heading=override_heading(answer.overridden, answer.assessment.on, words),
        overrides=override_lines(answer.overridden, job_id=about.id, words=words),
        running=running_line(answer, words),
        title=about.title,
        facts=report_facts(answer, words),
        verdicts=_verdicts(answer, words),
        run_out_heading=_run_out_heading(answer.assessment.run_out, words),
        run_out=_run_out_text(answer.assessment.run_out, words),
        outlook=_outlook(answer, words),
        chart=soc_chart(course, width_mm=CHART_MM[paper], units=about.units, words=words),
        ledger_heading=words("Energy a day, mean of {days}", days=words.days(course.day_count)),
        ledger=ledger_lines(answer.assessment, words),
        changes=tuple(_change(change, words) for change in answer.changes[:CHANGES_SHOWN]),
        changes_note=_changes_note(answer, words),
        questions=tuple(words.said(question.message) for question in answer.questions),
        questions_note=words(_questions_note(answer)),
        findings=findings,
        findings_note="" if findings else words("Nothing failed, nothing is open, no advice."),
        passes=_passes(answer.assessment, words),
        assumptions=tuple(words.said(text) for text in answer.assumptions),
        cautions=_cautions(answer, words),
        limits=tuple(words(limit) for limit in REPORT_LIMITS),
    )


def _verdicts(answer: Answer, words: Words) -> tuple[VerdictBlock, ...]:
    is_draft = answer.wiring_verdict != "no fault found"
    # a screen reader skips the banner in the margin
    draft = f" {words('This report is a draft: do not energise.')}" if is_draft else ""
    return (
        VerdictBlock(
            heading=words("Fit for the use"),
            sign=USE_SIGN[answer.use_verdict],
            word=words(answer.use_verdict),
            sentence=words.said(answer.use_sentence),
            rules=_rules_text(words("use"), answer.assessment.use_rules, words),
        ),
        VerdictBlock(
            heading=words("Wiring and protection"),
            sign=WIRING_SIGN[answer.wiring_verdict],
            word=words(answer.wiring_verdict),
            sentence=words.said(answer.wiring_sentence),
            rules=_rules_text(words("wiring"), answer.assessment.wiring_rules, words) + draft,
        ),
    )


def _rules_text(name: str, rules: RuleCount, words: Words) -> str:
    counted = {"name": name, "checked": rules.checked_count, "total": rules.total_count}
    if not rules.open_rules:
        return words("{name}: {checked} of {total} rules checked.", **counted)
    shown = ", ".join(words.rule(rule) for rule in rules.open_rules[:OPEN_RULES_SHOWN])
    more = len(rules.open_rules) - OPEN_RULES_SHOWN
    if more > 0:
        shown = words("{listed} and {count} more", listed=shown, count=more)
    return words("{name}: {checked} of {total} rules checked; open: {rules}.", **counted, rules=shown)


def _run_out_heading(run_out: RunOut, words: Words) -> str:
    what = words("Runs out first") if run_out.runs_out else words("Comes nearest to running out")
    text = f"{what}: {run_out.subject}"
    if run_out.day_count:
        text += words(", day {day}", day=run_out.day_count)
    return text + (words(" at {clock}", clock=run_out.clock) if run_out.clock else "")


def _run_out_text(run_out: RunOut, words: Words) -> str:
    size = words.percent(abs(run_out.margin_frac))
    margin = words("Short by {size}.", size=size)
    if run_out.margin_frac >= 0.0:
        margin = words("Margin {size}.", size=size)
    return f"{words.said(run_out.message)} {margin}"


def _outlook(answer: Answer, words: Words) -> tuple[str, ...]:
    """Return how sure and how long, a sentence a line."""
    said: list[str] = []
    if answer.chance is not None:
        said += [chance_sentence(answer.chance), customer_sentence(answer.chance)]
        said.append(first_failure_sentence(answer.chance))
        said += contents_sentences(answer.assessment.design, answer.chance)
    if answer.real_years is not None:
        said += [real_years_sentences(answer.real_years)[0], *weeks_sentences(answer.real_years)]
    if answer.outlook is not None:
        days = answer.assessment.energy.day_count
        said += [*endurance_sentences(answer.outlook), *source_sentences(answer.outlook, day_count=days)]
    return tuple(words.said(one) for one in said if one)


def _change(change: Change, words: Words) -> ChangeLine:
    then = words(
        "Then: {use}; wiring: {wiring}.", use=words(change.use_verdict), wiring=words(change.wiring_verdict)
    )
    parts = ["" if change.is_cure else words("Not enough alone."), then]
    if change.cures:
        parts.append(words("Mends: {rules}.", rules=", ".join(words.rule(rule) for rule in change.cures)))
    return ChangeLine(
        description=words.said(change.description),
        cost=f"EUR{UNIT_SPACE}{words.number(change.cost_eur)}" if change.cost_eur else words("no parts"),
        result=" ".join(part for part in parts if part),
        caution=words.said(short_caution(change.caution, words)),
    )


def _changes_note(answer: Answer, words: Words) -> str:
    if not answer.changes:
        return words("No change is needed or none was found.")
    note = words("Each is taken alone; prices are of parts, without labour.")
    left_out = len(answer.changes) - CHANGES_SHOWN
    return f"{note} {words('{count} more in the full answer.', count=left_out)}" if left_out > 0 else note


def _questions_note(answer: Answer) -> str:
    if answer.questions:
        is_moved = any(question.turns_at is not None for question in answer.questions)
        return (
            noted("Unknown amounts that move the verdicts most.")
            if is_moved
            else noted("None alone changes a verdict.")
        )
    if answer.unknown_count == 0:
        return noted("No amount is unknown.")
    return noted("No unknown amount moves a verdict.")


def _findings_that_matter(answer: Answer, words: Words) -> tuple[FindingLine, ...]:
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
    return tuple(_finding(finding, note, answer=answer, words=words) for finding, note in lines)


def _finding(finding: Finding, note: str, *, answer: Answer, words: Words) -> FindingLine:
    about = answer.assessment.design.job.job
    is_whole_job = finding.subject == about.id
    return FindingLine(
        sign=FINDING_SIGN[finding.severity],
        severity=words(WEIGHTS[finding.severity]),
        rule=words.rule(finding.rule),
        is_whole_job=is_whole_job,
        subject=words("whole job") if is_whole_job else words.said(finding.subject),
        language=words.language_of(finding.message),
        message=words.said(finding.message),
        caution=words.said(short_caution(finding.caution, words)),
        figures=_figures(finding, about.units, words),
        source=words.source(finding.source) if finding.source else "",
        way_out=words.said(finding.way_out),
        note=words(note) if note else "",
    )


def _figures(finding: Finding, units: UnitSystem, words: Words) -> tuple[str, ...]:
    lines: list[str] = []
    if finding.value is not None:
        lines.append(words("found {value}", value=words.quantity(finding.value, finding.unit, units=units)))
    if finding.limit is not None:
        limit = words.quantity(finding.limit, finding.unit, units=units)
        lines.append(
            words("at most {limit}", limit=limit)
            if finding.at_most
            else words("at least {limit}", limit=limit)
        )
    if finding.margin_frac is not None:
        is_far = finding.margin_frac < FAR_BEYOND_FRAC
        lines.append(
            words("far beyond it")
            if is_far
            else words("margin {margin}", margin=words.percent(finding.margin_frac))
        )
    return tuple(lines)


def _passes(assessment: Assessment, words: Words) -> str:
    counts = Counter(f.rule for f in assessment.findings if f.severity is Severity.PASS)
    if not counts:
        return words("No rule passed.")
    each = ", ".join(
        words.rule(rule) if count == 1 else f"{words.rule(rule)} {count}"
        for rule, count in sorted(counts.items())
    )
    total = sum(counts.values())
    if total == 1:
        return words("1 check passed: {rules}.", rules=each)
    return words("{count} checks passed: {rules}.", count=total, rules=each)


def _cautions(answer: Answer, words: Words) -> tuple[str, ...]:
    own = [f.caution for f in answer.assessment.findings if f.caution and f.severity is Severity.PASS]
    own += [IDLING for change in answer.changes[:CHANGES_SHOWN] if change.caution == IDLING]
    own += [IDLING for found in answer.assessment.findings if found.caution == IDLING]
    said = [words(IDLING) if text == IDLING else words.said(text) for text in own]
    return tuple(dict.fromkeys((*hazards(answer.assessment.design, words), *said)))

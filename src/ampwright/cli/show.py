"""The answer on a terminal of 80 columns, and as JSON."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

from rich.console import Console
from rich.text import Text

from ampwright.assessment.added_mass import mass_sentence
from ampwright.assessment.charging import IDLING
from ampwright.assessment.result import Assessment, RuleCount
from ampwright.documents.cautions import hazards, short_caution
from ampwright.documents.electrician import electrician_list
from ampwright.documents.energy_view import ledger_lines
from ampwright.documents.plain import plain_answer
from ampwright.documents.quantity_text import day_count_text
from ampwright.documents.words.words import english
from ampwright.findings import Finding, Group, Severity
from ampwright.sizing.chance import SHARE_NAMES, Chance, LoadChance
from ampwright.sizing.contents_words import contents_sentences
from ampwright.sizing.interval import plain_chance
from ampwright.sizing.outlook import Outlook
from ampwright.sizing.outlook_words import (
    band_sentence,
    customer_sentence,
    endurance_sentences,
    first_failure_sentence,
    lowest_sentence,
    missing_sentence,
    source_sentences,
)
from ampwright.sizing.real_years import real_years_sentences
from ampwright.sizing.result import Answer
from ampwright.sizing.sureness import chance_sentence

__all__ = ["shown", "shown_json"]

MARK = {
    Severity.FAIL: ("FAIL", "bold red"),
    Severity.CONDITION: ("CONDITION", "yellow"),
    Severity.NOT_CHECKED: ("NOT CHECKED", "magenta"),
    Severity.ADVICE: ("ADVICE", "cyan"),
    Severity.PASS: ("PASS", "green"),
}
VERDICT_STYLE = {
    "suits": "bold green",
    "suits with conditions": "bold yellow",
    "does not suit": "bold red",
    "no fault found": "bold green",
    "not fully checked": "bold magenta",
    "do not energise": "bold red",
}

MOST_FAILING = 3
LEAST_SHARE = 0.05
"""Smaller shares of the spread are not worth a word."""
NO_CERTIFICATE = (
    "This is no certificate. The local code and licensed practice decide; mains voltage belongs to a "
    "licensed electrician."
)


def shown_json(answer: Answer) -> str:
    """Return the answer as JSON text."""
    return json.dumps(plain_answer(answer), indent=2, ensure_ascii=False, allow_nan=False)


def shown(answer: Answer, *, every: bool, report: Path | None) -> None:
    """Print the answer: verdicts first, then what runs out, changes, questions and findings."""
    console = Console(highlight=False, soft_wrap=False)
    about = answer.assessment.design.job.job
    title = Text(f"{about.title}  ({about.id}, revision {about.revision})", style="bold")
    _indented(console, title, column_count=0)
    console.print()
    found = answer.assessment
    _verdict(console, "FIT FOR THE USE", answer.use_verdict, (answer.use_sentence, found.use_rules))
    _verdict(
        console, "WIRING AND PROTECTION", answer.wiring_verdict, (answer.wiring_sentence, found.wiring_rules)
    )
    _overrides(console, answer)
    _block(console, "First to run out", answer.assessment.run_out.message)
    if answer.chance is not None:
        _sureness(console, answer.chance, answer.assessment)
    if answer.real_years is not None:
        _list(console, "Real years", real_years_sentences(answer.real_years))
    if answer.outlook is not None:
        _outlook(console, answer.outlook, answer.assessment)
    _block(console, "Mass", f"This system {mass_sentence(found.design, found.mass)}.")
    _changes(console, answer)
    if answer.questions:
        console.print(Text("Questions that move the verdict most", style="bold"))
        for number, question in enumerate(answer.questions, start=1):
            _indented(console, Text(f"{number}. {question.message}"))
        console.print()
    _findings(console, answer, every=every)
    _electrician(console, answer)
    _list(console, "Cautions", _cautions(answer))
    _indented(console, Text(NO_CERTIFICATE, style="dim"), column_count=0)
    if report is not None:
        console.print(f"Report: {report}", markup=False, soft_wrap=True)


def _cautions(answer: Answer) -> tuple[str, ...]:
    """Return what is dangerous in this job; idling also where only a change or a finding speaks of it."""
    told = hazards(answer.assessment.design, english())
    said = {change.caution for change in answer.changes}
    said.update(finding.caution for finding in (*answer.assessment.findings, *answer.worst.findings))
    return (*told, IDLING) if IDLING in said and IDLING not in told else told


def _verdict(console: Console, title: str, verdict: str, said: tuple[str, RuleCount]) -> None:
    sentence, count = said
    line = Text(f"{title:<23}")
    line.append(verdict.upper(), style=VERDICT_STYLE[verdict])
    console.print(line)
    checked = f"{count.checked_count} of {count.total_count} rules checked"
    if count.open_rules:
        checked += f"; open: {', '.join(count.open_rules)}"
    _indented(console, Text(sentence))
    _indented(console, Text(f"{checked}."))
    console.print()


def _overrides(console: Console, answer: Answer) -> None:
    """Print who took what on, before anything else is said of the job."""
    if not answer.overridden:
        return
    console.print(Text(f"Overrides in force on {answer.assessment.on}", style="bold yellow"))
    for finding in answer.overridden:
        held = finding.override
        if held is not None:
            said = f"{finding.rule} of {finding.subject}, {held.was} without it. {held.sentence}"
            _indented(console, Text(said))
    console.print()


def _block(console: Console, title: str, text: str) -> None:
    console.print(Text(title, style="bold"))
    _indented(console, Text(text))
    console.print()


def _electrician(console: Console, answer: Answer) -> None:
    """Print what is for the licensed electrician: facts in one line, then the points."""
    sheet = electrician_list(answer.assessment)
    if sheet is not None:
        count = f"{len(sheet.points)} point{'' if len(sheet.points) == 1 else 's'}"
        _list(
            console, f"For the licensed electrician: {count}", (f"{'; '.join(sheet.facts)}.", *sheet.points)
        )


def _list(console: Console, title: str, entries: tuple[str, ...]) -> None:
    if not entries:
        return
    console.print(Text(title, style="bold"))
    for entry in entries:
        for number, line in enumerate(Text(entry).wrap(console, console.width - 4)):
            line.rstrip()
            console.print(Text("  - " if number == 0 else "    ").append_text(line), soft_wrap=True)
    console.print()


def _sureness(console: Console, chance: Chance, found: Assessment) -> None:
    """Print how often what fails over the runs, how low the battery gets, and where the spread comes from."""
    console.print(Text(f"How sure: {chance.run_count} runs of weather and doubt", style="bold"))
    _indented(console, Text(chance_sentence(chance)))
    _indented(console, Text(customer_sentence(chance)))
    failing = sorted((one for one in chance.loads if one.failed_count), key=_failures, reverse=True)
    for one in failing[:MOST_FAILING]:
        kind = "" if one.is_essential else " (comfort)"
        text = (
            f"{one.name}{kind}: fails {plain_chance(one.failed_count, chance.run_count)}, "
            f"{one.missing_wh:,.0f} Wh missing in the mean, {one.worst_missing_wh:,.0f} Wh in its worst run."
        )
        _indented(console, Text(text))
    for sentence in (
        first_failure_sentence(chance),
        lowest_sentence(chance),
        band_sentence(chance),
        *contents_sentences(found.design, chance),
    ):
        if sentence:
            _indented(console, Text(sentence))
    shares = [
        f"{SHARE_NAMES[name]} {100 * share:.0f} %"
        for name, share in chance.shares_frac.items()
        if share >= LEAST_SHARE
    ]
    if shares:
        _indented(console, Text(f"The spread comes from {', '.join(shares)}."))
    console.print()


def _outlook(console: Console, outlook: Outlook, found: Assessment) -> None:
    """Print how long it lasts, what charges, what is to spare or missing, and the books of the use."""
    console.print(Text("How long, and what is to spare", style="bold"))
    days = found.energy.day_count
    said = (
        *endurance_sentences(outlook),
        *source_sentences(outlook, day_count=days),
        missing_sentence(outlook),
    )
    for sentence in said:
        if sentence:
            _indented(console, Text(sentence))
    console.print()
    console.print(Text(f"Energy a day, mean of {day_count_text(days)}", style="bold"))
    for line in ledger_lines(found, english()):
        if line.kind == "heading":
            _indented(console, Text(line.name))
        else:
            style = "bold" if line.kind == "sum" else ""
            _indented(
                console,
                Text(f"{line.name:<46.46}{line.energy:>9} Wh  {line.share:>6}".rstrip(), style=style),
                column_count=4,
            )
    console.print()


def _failures(one: LoadChance) -> int:
    return one.failed_count


def _indented(console: Console, text: Text, *, column_count: int = 2) -> None:
    """Print a text wrapped and set in, without blanks at the ends of its lines."""
    for line in text.wrap(console, console.width - column_count):
        line.rstrip()
        console.print(Text(" " * column_count).append_text(line), soft_wrap=True)


def _changes(console: Console, answer: Answer) -> None:
    if not answer.changes:
        return
    cures = any(change.is_cure for change in answer.changes)
    title = (
        "Smallest single changes, cheapest first" if cures else "No single change mends it; what helps most"
    )
    console.print(Text(title, style="bold"))
    for change in answer.changes:
        cost = f"{change.cost_eur:,.0f} EUR" if change.cost_eur else "no parts"
        text = Text(f"{cost:>10}  {change.description}")
        if change.held_count is not None and answer.chance is not None:
            text.append(f" (holds in {change.held_count} of {answer.chance.run_count} runs)")
        if not change.is_cure and cures:
            text.append(" (helps, does not mend it)")
        if change.caution:
            text.append(f" CAUTION: {short_caution(change.caution, english())}", style="yellow")
        _indented(console, text)
    console.print()


def _findings(console: Console, answer: Answer, *, every: bool) -> None:
    findings = answer.assessment.findings
    for group in (Group.USE, Group.WIRING):
        own = [finding for finding in findings if finding.group == group]
        counts = Counter(finding.severity for finding in own)
        said = ", ".join(
            f"{counts[severity]} {MARK[severity][0].lower()}" for severity in MARK if counts[severity]
        )
        _indented(console, Text(f"Findings: {group} ({said})", style="bold"), column_count=0)
        for finding in own:
            if every or finding.severity != Severity.PASS:
                _finding(console, finding)
        console.print()
        if group == Group.USE:
            _findings_at_worst(console, answer)


def _heavy_counts(findings: tuple[Finding, ...]) -> Counter[tuple[str, str, Severity]]:
    """Return how often each rule fails each subject, or makes it conditional, in the first verdict."""
    heavy = (Severity.FAIL, Severity.CONDITION)
    return Counter(
        (each.rule, each.subject, each.severity)
        for each in findings
        if each.group == Group.USE and each.severity in heavy
    )


def _findings_at_worst(console: Console, answer: Answer) -> None:
    """Print what of the first verdict breaks only at the unfavourable end of what is unknown."""
    likely = _heavy_counts(answer.assessment.findings)
    worst = _heavy_counts(answer.worst.findings)
    heavier = [
        finding
        for finding in answer.worst.findings
        if (key := (finding.rule, finding.subject, finding.severity)) in worst and worst[key] > likely[key]
    ]
    if not heavier:
        return
    console.print(Text("At the unfavourable end of what is unknown", style="bold"))
    for finding in heavier:
        _finding(console, finding)
    console.print()


def _finding(console: Console, finding: Finding) -> None:
    mark, style = MARK[finding.severity]
    head = Text("  ")
    head.append(f"{mark:<12}", style=style)
    head.append(finding.rule, style="bold")
    console.print(head)
    body = Text(finding.message)
    if finding.way_out:
        body.append(f" {finding.way_out}")
    if finding.caution:
        body.append(f" CAUTION: {short_caution(finding.caution, english())}", style="yellow")
    if finding.source is not None and finding.severity != Severity.PASS:
        body.append(f" [{finding.source}]", style="dim")
    _indented(console, body, column_count=14)

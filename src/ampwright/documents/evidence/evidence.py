"""Evidence report: every finding with inputs, source, value, limit and margin; assumptions, overrides, what was not checked.

Told in full is what does not pass, and of each rule the tightest pass, or all where they are few; the other passes are gathered with their figures, so
that a large job stays readable and nothing is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from ampwright.assessment.rules import RULES
from ampwright.documents.evidence.evidence_records import Evidence, Heading, Line, RuleBlock
from ampwright.documents.override_view import override_sentence
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.sheet.sheet import LICENSED, sheet_of, sheet_pdf
from ampwright.documents.words.words import Words, noted
from ampwright.findings import Finding, Group, Severity

__all__ = ["evidence", "evidence_report"]

TITLE = noted("Evidence report")
FEW_COUNT = 3
"""Up to so many passes of a rule are all told in full, of more only the tightest (docs/choices.md#evidence-gathered)."""
WEIGHTS = {
    Severity.FAIL: noted("fails"),
    Severity.CONDITION: noted("condition"),
    Severity.NOT_CHECKED: noted("not checked"),
    Severity.ADVICE: noted("advice"),
    Severity.PASS: noted("passes"),
}
GROUPS = {Group.USE: noted("Fit for the use"), Group.WIRING: noted("Wiring and protection")}


class _Sources:
    """Numbers the sources in the order in which they are first named."""

    def __init__(self, words: Words) -> None:
        self.numbers: dict[str, int] = {}
        self._words = words

    def number(self, finding: Finding) -> str:
        """Return the number of a finding's source; empty without one."""
        if finding.source is None:
            return ""
        return str(self.numbers.setdefault(self._words.source(finding.source), len(self.numbers) + 1))


def evidence_report(material: Material) -> Evidence:
    """Return what the report prints."""
    words, found = material.words, material.found
    sources = _Sources(words)
    groups = tuple(
        (
            words(title),
            tuple(_blocks(material, [each for each in found.findings if each.group == group], sources)),
        )
        for group, title in GROUPS.items()
    )
    applied = {finding.rule for finding in found.findings}
    without = [rule.name for rule in RULES if rule.name not in applied]
    return Evidence(
        facts=_facts(material),
        before=tuple(_before(material)),
        heads=(
            words("weight"),
            words("subject"),
            words("found, with its inputs"),
            words("value"),
            words("limit"),
            words("margin left"),
            words("source"),
        ),
        groups=tuple((title, blocks) for title, blocks in groups if blocks),
        after=(
            Heading(
                title=words("Rules that found nothing to judge in this job"),
                items=(", ".join(words.rule(name) for name in without) or words("none"),),
            ),
            Heading(
                title=words("Sources"),
                items=tuple(f"[{number}] {text}" for text, number in sources.numbers.items())
                or (words("none"),),
            ),
        ),
        end=words(LICENSED),
    )


def _facts(material: Material) -> tuple[tuple[str, str], ...]:
    words, answer, about = material.words, material.answer, material.about
    found = material.found
    return (
        (
            words("job"),
            words(
                "{id}, revision {revision}, {date}",
                id=about.id,
                revision=about.revision,
                date=about.date.isoformat(),
            ),
        ),
        (words("job file"), words("SHA-256 begins with {hash}", hash=answer.job_hash)),
        (words("program"), f"Ampwright {answer.program_version}"),
        (
            words("use"),
            words(
                "{verdict}. {sentence}",
                verdict=words(answer.use_verdict),
                sentence=words.said(answer.use_sentence),
            ),
        ),
        (
            words("wiring and protection"),
            words(
                "{verdict}. {sentence}",
                verdict=words(answer.wiring_verdict),
                sentence=words.said(answer.wiring_sentence),
            ),
        ),
        (
            words("rules"),
            words(
                "use: {use} of {use_all} checked; wiring: {wiring} of {wiring_all} checked",
                use=found.use_rules.checked_count,
                use_all=found.use_rules.total_count,
                wiring=found.wiring_rules.checked_count,
                wiring_all=found.wiring_rules.total_count,
            ),
        ),
        (
            words("values"),
            words("at the likely values; {count} inputs are not known exactly", count=answer.unknown_count),
        ),
    )


def _before(material: Material) -> Iterator[Heading]:
    words, answer, found = material.words, material.answer, material.found
    still_open = [each for each in found.findings if _is_open(each)]
    texts = tuple(
        f"{words.rule(rule)}: {', '.join(subjects)}" for rule, subjects in _by_rule(still_open).items()
    )
    yield Heading(title=words("Not checked"), items=texts or (words("everything that applies was checked"),))
    if answer.overridden:
        yield Heading(
            title=words("Overrides"),
            items=tuple(
                f"{words.rule(each.rule)}, {each.subject}: {override_sentence(each.override, words)}"
                for each in answer.overridden
                if each.override is not None
            ),
        )
    if answer.assumptions:
        yield Heading(
            title=words("Assumptions"), items=tuple(words.said(text) for text in answer.assumptions)
        )


def _by_rule(findings: Iterable[Finding]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for finding in findings:
        found.setdefault(finding.rule, []).append(finding.subject)
    return found


def _is_open(finding: Finding) -> bool:
    was = finding.severity if finding.override is None else finding.override.was
    return was == Severity.NOT_CHECKED


def _blocks(material: Material, findings: list[Finding], sources: _Sources) -> Iterator[RuleBlock]:
    words = material.words
    order = {rule.name: number for number, rule in enumerate(RULES)}
    asks = {rule.name: rule.asks for rule in RULES}
    ordered = sorted(findings, key=lambda each: (order.get(each.rule, len(order)), each.rule))
    for rule, grouped in groupby(ordered, key=lambda each: each.rule):
        every = tuple(grouped)
        troubles = [each for each in every if each.severity != Severity.PASS]
        passes = sorted((each for each in every if each.severity == Severity.PASS), key=_tightness)
        told = passes if len(passes) <= FEW_COUNT else passes[:1]
        gathered = passes[len(told) :]
        yield RuleBlock(
            name=words.rule(rule),
            id="" if words.language == "en" else rule,
            asks=words(asks.get(rule, "")),
            counts=_counts(words, every),
            lines=tuple(_line(words, each, sources) for each in (*troubles, *told)),
            gathered=_gathered(words, gathered, sources),
        )


def _tightness(finding: Finding) -> tuple[float, str]:
    margin = finding.margin_frac
    return (float("inf") if margin is None else margin, finding.subject)


def _counts(words: Words, findings: tuple[Finding, ...]) -> str:
    counted = {weight: sum(each.severity == weight for each in findings) for weight in WEIGHTS}
    return ", ".join(f"{count} {words(WEIGHTS[weight])}" for weight, count in counted.items() if count)


def _line(words: Words, finding: Finding, sources: _Sources) -> Line:
    override = finding.override
    parts = (
        words.said(finding.message),
        words.said(finding.way_out),
        words.said(finding.caution),
        override_sentence(override, words) if override is not None else "",
        words("Without the override: {was}.", was=words(WEIGHTS[override.was]))
        if override is not None
        else "",
    )
    return Line(
        severity=words(WEIGHTS[finding.severity]),
        subject=words.said(finding.subject),
        language=words.language_of(finding.message),
        message=" ".join(part for part in parts if part),
        value=_figure(words, finding.value, finding.unit),
        limit=_limit(words, finding),
        margin=_margin(words, finding),
        source=sources.number(finding),
        is_trouble=finding.severity != Severity.PASS,
    )


def _figure(words: Words, value: float | None, unit: str) -> str:
    return "" if value is None else words.quantity(value, unit)


def _limit(words: Words, finding: Finding) -> str:
    if finding.limit is None:
        return ""
    return f"{'≤' if finding.at_most else '≥'}{UNIT_SPACE}{words.quantity(finding.limit, finding.unit)}"


def _margin(words: Words, finding: Finding) -> str:
    margin = finding.margin_frac
    return "" if margin is None else words.percent(margin)


def _gathered(words: Words, findings: list[Finding], sources: _Sources) -> str:
    """Return the other passes: those with the same source and figures together."""
    by_source: dict[str, dict[str, list[str]]] = {}
    for each in findings:
        figures = " ".join(
            text for text in (_figure(words, each.value, each.unit), _limit(words, each)) if text
        )
        by_source.setdefault(sources.number(each), {}).setdefault(figures, []).append(each.subject)
    return ". ".join(
        "; ".join(_same(figures, subjects) for figures, subjects in by_figures.items())
        + (f" [{number}]" if number else "")
        for number, by_figures in by_source.items()
    )


def _same(figures: str, subjects: list[str]) -> str:
    counted = {subject: subjects.count(subject) for subject in dict.fromkeys(subjects)}
    names = ", ".join(name if count == 1 else f"{name} ({count})" for name, count in counted.items())
    return f"{names}: {figures}" if figures else names


def evidence(material: Material) -> Iterator[PackFile]:
    """Make the report."""
    content = sheet_pdf("evidence/evidence.typ", sheet_of(material, TITLE), evidence_report(material))
    yield PackFile(name="evidence.pdf", content=content)

"""Findings -> two verdicts and the count of rules behind each."""

from __future__ import annotations

from ampwright.assessment.result import RuleCount, UseVerdict, WiringVerdict
from ampwright.findings import Finding, Group, Severity

__all__ = ["by_weight", "rule_count", "use_verdict", "wiring_verdict"]

WEIGHT = {
    Severity.FAIL: 0,
    Severity.CONDITION: 1,
    Severity.NOT_CHECKED: 2,
    Severity.ADVICE: 3,
    Severity.PASS: 4,
}


def by_weight(findings: list[Finding]) -> tuple[Finding, ...]:
    """Return the findings, heaviest first, otherwise in the order of the rules."""
    return tuple(sorted(findings, key=_weight))


def _weight(finding: Finding) -> int:
    return WEIGHT[finding.severity]


def use_verdict(findings: tuple[Finding, ...]) -> UseVerdict:
    """Return the verdict on the use: one failure and it does not suit."""
    severities = {finding.severity for finding in findings if finding.group == Group.USE}
    if Severity.FAIL in severities:
        return "does not suit"
    if severities & {Severity.CONDITION, Severity.NOT_CHECKED}:
        return "suits with conditions"
    return "suits"


def wiring_verdict(findings: tuple[Finding, ...]) -> WiringVerdict:
    """Return the verdict on wiring and protection: nothing unchecked or overridden reads as no fault."""
    severities = {finding.severity for finding in findings if finding.group == Group.WIRING}
    if Severity.FAIL in severities:
        return "do not energise"
    if Severity.NOT_CHECKED in severities or not severities:
        return "not fully checked"
    if any(finding.override is not None for finding in findings if finding.group == Group.WIRING):
        return "not fully checked"
    return "no fault found"


def rule_count(findings: tuple[Finding, ...], group: Group) -> RuleCount:
    """Return how many of the rules that apply were evaluated for every subject."""
    applied = dict.fromkeys(finding.rule for finding in findings if finding.group == group)
    still_open = dict.fromkeys(
        finding.rule for finding in findings if finding.group == group and _is_open(finding)
    )
    return RuleCount(
        checked_count=len(applied) - len(still_open),
        total_count=len(applied),
        open_rules=tuple(still_open),
    )


def _is_open(finding: Finding) -> bool:
    """Say whether it could not be checked; an override answers nothing."""
    was = finding.severity if finding.override is None else finding.override.was
    return was == Severity.NOT_CHECKED

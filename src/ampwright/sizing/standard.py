"""Tells whether a changed design is worse than the present one in anything that was found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ampwright.findings import Finding, Group, Severity

__all__ = ["Standard", "standard_of", "worse"]

Standard = Mapping[tuple[str, str, bool], tuple[int, float]]
"""Weight and doubt of the heaviest finding, by rule, subject and whether it is one that was not checked."""
WEIGHT = {Severity.NOT_CHECKED: 1, Severity.CONDITION: 1, Severity.FAIL: 2}
USE_FRAC = 0.01
"""A margin of the use may fall by so much (docs/choices.md#cable-set)."""
WIRING_FRAC = 1e-6
"""A margin of the wiring may not fall; this is the rounding of the network's solution."""


def _key(finding: Finding) -> tuple[str, str, bool]:
    return finding.rule, finding.subject, finding.severity == Severity.NOT_CHECKED


def _level(finding: Finding) -> tuple[int, float]:
    """Return the weight, then how far the value is beyond its limit; 0 where there are no figures."""
    margin = finding.margin_frac
    return WEIGHT[finding.severity], 0.0 if margin is None or margin != margin else -margin  # noqa: PLR0124 - NaN


def standard_of(findings: Iterable[Finding]) -> Standard:
    """Return what may be found again without being worse."""
    standard: dict[tuple[str, str, bool], tuple[int, float]] = {}
    for finding in findings:
        if finding.severity in WEIGHT:
            level = _level(finding)
            standard[_key(finding)] = max(level, standard.get(_key(finding), level))
    return standard


def worse(findings: Iterable[Finding], standard: Standard) -> tuple[Finding, ...]:
    """Return what is new, heavier or further beyond its limit than the standard has it; neither passes nor advice."""
    return tuple(each for each in findings if each.severity in WEIGHT and _is_worse(each, standard))


def _is_worse(finding: Finding, standard: Standard) -> bool:
    before = standard.get(_key(finding))
    if before is None:
        return True
    weight, beyond = _level(finding)
    slack = USE_FRAC if finding.group == Group.USE else WIRING_FRAC
    return weight > before[0] or (weight == before[0] and beyond > before[1] + slack)

"""Which findings are new, gone, heavier, lighter or moved between two lists of findings."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.fold import WEIGHT
from ampwright.documents.comparison.records import FindingChange, FindingKind
from ampwright.findings import Finding

__all__ = ["finding_changes"]

SAME_FRAC = 1e-6
"""Figures this close are the same: rounding of the calculation alone (own choice)."""
KINDS: tuple[FindingKind, ...] = ("new", "heavier", "gone", "lighter", "moved")

Pair = tuple[Finding | None, Finding | None]


def finding_changes(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[FindingChange, ...]:
    """Return what is not alike, what weighs most first."""
    found = [_change(*pair) for pair in _pairs(before, after)]
    return tuple(sorted((each for each in found if each is not None), key=_weight))


def _weight(change: FindingChange) -> tuple[int, int]:
    weights = [WEIGHT[each] for each in (change.was, change.now) if each is not None]
    return min(weights), KINDS.index(change.kind)


def _pairs(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> Iterator[Pair]:
    """Pair the findings of one rule and subject: the same ones first, the rest in their order."""
    old, new = _by_subject(before), _by_subject(after)
    for key in dict.fromkeys((*new, *old)):
        was, now = list(old.get(key, ())), list(new.get(key, ()))
        for finding in tuple(now):
            same = next((each for each in was if _is_same(each, finding)), None)
            if same is not None:
                was.remove(same)
                now.remove(finding)
        for index in range(max(len(was), len(now))):
            yield (was[index] if index < len(was) else None), (now[index] if index < len(now) else None)


def _by_subject(findings: tuple[Finding, ...]) -> dict[tuple[str, str], list[Finding]]:
    found: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        found.setdefault((finding.rule, finding.subject), []).append(finding)
    return found


def _is_same(before: Finding, after: Finding) -> bool:
    """Say whether two findings weigh the same and have the same figures, or the same words without figures."""
    if before.severity != after.severity or before.override != after.override:
        return False
    if before.value is None or after.value is None:
        return before.message == after.message
    return _is_close(before.value, after.value) and _is_close(before.limit, after.limit)


def _is_close(before: float | None, after: float | None) -> bool:
    if before is None or after is None:
        return before is after
    return math.isclose(before, after, rel_tol=SAME_FRAC, abs_tol=SAME_FRAC)


def _change(before: Finding | None, after: Finding | None) -> FindingChange | None:
    shown = after or before
    if shown is None:
        return None
    return FindingChange(
        kind=_kind(before, after),
        group=shown.group,
        rule=shown.rule,
        subject=shown.subject,
        was=None if before is None else before.severity,
        now=None if after is None else after.severity,
        before=None if before is None else before.value,
        after=None if after is None else after.value,
        limit=shown.limit,
        unit=shown.unit,
        margin_before_frac=None if before is None else before.margin_frac,
        margin_after_frac=None if after is None else after.margin_frac,
        message=shown.message,
        way_out="" if after is None else after.way_out,
        caution="" if after is None else after.caution,
    )


def _kind(before: Finding | None, after: Finding | None) -> FindingKind:
    if before is None:
        return "new"
    if after is None:
        return "gone"
    change = WEIGHT[after.severity] - WEIGHT[before.severity]
    if change == 0:
        return "moved"
    return "heavier" if change < 0 else "lighter"

"""The verdict over the range of what is unknown, and the questions that move it most."""

from __future__ import annotations

from collections.abc import Iterable

from ampwright.assessment.result import Assessment, UseVerdict, WiringVerdict
from ampwright.findings import Finding, Group, Severity
from ampwright.job.unknowns import Path, UnknownInput
from ampwright.records import record
from ampwright.said import Said, said, said_together
from ampwright.sizing.bench import Bench, Meter
from ampwright.sizing.result import Question

__all__ = ["USE_RANK", "RangeResult", "badness", "over_range", "rules_text"]

USE_RANK: dict[UseVerdict, int] = {"suits": 0, "suits with conditions": 1, "does not suit": 2}
WIRING_RANK: dict[WiringVerdict, int] = {"no fault found": 0, "not fully checked": 1, "do not energise": 2}
HALVINGS = 7
"""Bisection steps for the value where a verdict turns: 1/128 of the range."""
MOST_QUESTIONS = 3
LEAST_SWING_FRAC = 0.005
"""What moves no verdict and the margin by less, "0 points", is no question worth a walk to the vehicle."""


@record
class RangeResult:
    """Verdicts over the range."""

    worst: Assessment
    """The worst of all that was assessed."""
    combined: Assessment
    """With every unknown amount at its worse end."""
    worst_values: dict[Path, float]
    """The worse end of each unknown amount."""
    use_verdict: UseVerdict
    """First verdict over the range."""
    wiring_verdict: WiringVerdict
    """Second verdict over the range."""
    questions: tuple[Question, ...]
    """Unknown amounts that matter most."""


def badness(assessment: Assessment) -> tuple[int, int, int, float]:
    """Return a key that grows as an assessment gets worse: verdicts, failures, then the margin."""
    failures = sum(finding.severity == Severity.FAIL for finding in assessment.findings)
    return (
        USE_RANK[assessment.use_verdict],
        WIRING_RANK[assessment.wiring_verdict],
        failures,
        -assessment.run_out.margin_frac,
    )


def over_range(
    bench: Bench, likely: Assessment, unknowns: tuple[UnknownInput, ...], meter: Meter
) -> RangeResult:
    """Return the verdicts taken over all unknown amounts.

    One at a time for the questions; all at their worse ends together for the verdict, which is sound where
    each amount pushes in one direction whatever the others are.
    """
    ends: list[tuple[Assessment, Assessment]] = []
    for unknown in unknowns:
        ends.append((bench.at({unknown.path: unknown.low}), bench.at({unknown.path: unknown.high})))
        meter.step(2)
    combined = likely
    worse: dict[Path, float] = {}
    if unknowns:
        worse = {
            unknown.path: unknown.low if badness(low) >= badness(high) else unknown.high
            for unknown, (low, high) in zip(unknowns, ends, strict=True)
        }
        combined = bench.at(worse)
        meter.step()
    seen = [likely, combined, *(end for pair in ends for end in pair)]
    moving = [
        entry for entry in zip(unknowns, ends, strict=True) if _importance(entry) >= (0, 0, LEAST_SWING_FRAC)
    ]
    ranked = sorted(moving, key=_importance, reverse=True)[:MOST_QUESTIONS]
    return RangeResult(
        worst=max(seen, key=badness),
        combined=combined,
        worst_values=worse,
        use_verdict=_use_over(likely, seen),
        wiring_verdict=_wiring_over(likely, seen),
        questions=tuple(_question(bench, unknown, pair, meter) for unknown, pair in ranked),
    )


def _importance(entry: tuple[UnknownInput, tuple[Assessment, Assessment]]) -> tuple[int, int, float]:
    low, high = entry[1]
    return (
        abs(USE_RANK[low.use_verdict] - USE_RANK[high.use_verdict]),
        abs(WIRING_RANK[low.wiring_verdict] - WIRING_RANK[high.wiring_verdict]),
        abs(low.run_out.margin_frac - high.run_out.margin_frac),
    )


def _use_over(likely: Assessment, seen: list[Assessment]) -> UseVerdict:
    """Return the first verdict: a job that may fail somewhere suits on condition that it lies elsewhere."""
    worst = max(USE_RANK[each.use_verdict] for each in seen)
    if likely.use_verdict == "does not suit":
        return "does not suit"
    return "suits" if worst == 0 else "suits with conditions"


def _wiring_over(likely: Assessment, seen: list[Assessment]) -> WiringVerdict:
    worst = max(WIRING_RANK[each.wiring_verdict] for each in seen)
    if likely.wiring_verdict == "do not energise":
        return "do not energise"
    return "no fault found" if worst == 0 else "not fully checked"


def _question(
    bench: Bench, unknown: UnknownInput, ends: tuple[Assessment, Assessment], meter: Meter
) -> Question:
    low, high = ends
    turns = low.use_verdict != high.use_verdict or low.wiring_verdict != high.wiring_verdict
    turns_at = _turning_value(bench, unknown, ends, meter) if turns else None
    swing = abs(low.run_out.margin_frac - high.run_out.margin_frac)
    return Question(
        input=unknown,
        use_at_low=low.use_verdict,
        use_at_high=high.use_verdict,
        wiring_at_low=low.wiring_verdict,
        wiring_at_high=high.wiring_verdict,
        margin_swing_frac=swing,
        turns_at=turns_at,
        message=said_together((_message(unknown, ends, turns_at), _ask(unknown))),
        turning=_message(unknown, ends, turns_at),
    )


def _turning_value(
    bench: Bench, unknown: UnknownInput, ends: tuple[Assessment, Assessment], meter: Meter
) -> float:
    """Return the value where the verdict of the lower end gives way, on the side of the better verdict."""
    low, high = unknown.low, unknown.high
    first = (ends[0].use_verdict, ends[0].wiring_verdict)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        found = bench.at({unknown.path: middle})
        if (found.use_verdict, found.wiring_verdict) == first:
            low = middle
        else:
            high = middle
        meter.step()
    return high if badness(ends[0]) > badness(ends[1]) else low


def _amount(value: float, unit: str) -> Said:
    return said("{value:.3g} {unit}", value=value, unit=unit) if unit else said("{value:.3g}", value=value)


def _message(
    unknown: UnknownInput,
    ends: tuple[Assessment, Assessment],
    turns_at: float | None,
) -> Said:
    low, high = ends
    between = said(
        "{what}, {low} to {high}",
        what=unknown.label,
        low=_amount(unknown.low, unknown.unit),
        high=_amount(unknown.high, unknown.unit),
    )
    if turns_at is None:
        swing = abs(low.run_out.margin_frac - high.run_out.margin_frac)
        return said(
            "{between}: no verdict changes; the margin moves by {points:.0f} points.",
            between=between,
            points=100 * swing,
        )
    better_is_high = badness(low) > badness(high)
    better, worse = (high, low) if better_is_high else (low, high)
    turn = _amount(turns_at, unknown.unit)
    parts: list[Said] = []
    if better.use_verdict != worse.use_verdict:
        which = (
            said("{better} at {turn} or more, else {worse}", **_turn(better, worse, turn))
            if better_is_high
            else said("{better} at {turn} or less, else {worse}", **_turn(better, worse, turn))
        )
        parts.append(which)
    if better.wiring_verdict != worse.wiring_verdict:
        failing = [
            finding
            for finding in worse.findings
            if finding.group == Group.WIRING and finding.severity == Severity.FAIL
        ]
        parts.append(
            said(
                "wiring: {verdict} beyond {turn} ({rules})",
                verdict=Said(worse.wiring_verdict, {}),
                turn=turn,
                rules=rules_text(failing),
            )
        )
    return said("{between}: {what}.", between=between, what=said_together(parts, between="; "))


def _turn(better: Assessment, worse: Assessment, turn: Said) -> dict[str, object]:
    return {"better": Said(better.use_verdict, {}), "worse": Said(worse.use_verdict, {}), "turn": turn}


def _ask(unknown: UnknownInput) -> str:
    """Return how to find out, as the job says it; empty where it says nothing."""
    if not unknown.ask:
        return ""
    ask = unknown.ask.rstrip(".")
    return said("Find out: {how}", how=ask if ask.endswith("?") else f"{ask}.")


def rules_text(findings: Iterable[Finding]) -> Said:
    """Return the rules of some findings, each once."""
    return said_together(
        (Said(rule, {}) for rule in dict.fromkeys(each.rule for each in findings)), between=", "
    )

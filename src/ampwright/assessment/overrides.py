"""What an override does: the finding stays with its figures, becomes a condition and carries the name.

It never makes a pass. Answers which overrides hold on a day, and what is said of those that do not. How they
are written is checked in `job.override`.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, OverrideInForce, Severity
from ampwright.job.design import Design
from ampwright.job.override import Override
from ampwright.said import said, said_together
from ampwright.sources import own_choice

__all__ = ["OVERRIDE", "overridden", "subject_text"]

RULE = "override"
OPEN = (Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED)
WEIGHTS_THAT_NEED_NONE = (Severity.PASS, Severity.ADVICE)


def subject_text(override: Override) -> str:
    """Return the subject of a finding about an override."""
    return said("{rule} of {subject}", rule=override.rule, subject=override.subject)


def is_in_force(override: Override, on: dt.date) -> bool:
    """Say whether an override holds on a day; its first and last day count."""
    return override.granted <= on <= override.expires


def _dates(design: Design, studies: Studies) -> Iterator[Finding]:
    """Say of each override whether it holds on the day of the check."""
    for each in design.job.override:
        make = partial(
            Finding,
            rule=RULE,
            group=Group.WIRING,
            subject=subject_text(each),
            source=own_choice("override-term"),
        )
        if is_in_force(each, studies.on):
            yield make(
                severity=Severity.PASS,
                message=said(
                    "{subject}: in force until {expires}.", subject=subject_text(each), expires=each.expires
                ),
            )
            continue
        is_over = each.expires < studies.on
        told = (
            said("expired on {expires}", expires=each.expires)
            if is_over
            else said("is granted from {granted} only", granted=each.granted)
        )
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "The override of {subject} by {by} {told}; the finding stands as if it were not there.",
                subject=subject_text(each),
                by=each.by,
                told=told,
            ),
            way_out=said("Mend the fault; or have a named person decide anew, with a reason and an end.")
            if is_over
            else said("Wait for that day, or mend the fault."),
        )


def overridden(
    findings: list[Finding], overrides: tuple[Override, ...], *, on: dt.date, rules: tuple[Rule, ...]
) -> list[Finding]:
    """Return the findings with overrides applied, and what is said of overrides without effect.

    Parameters
    ----------
    on : day on which an override must be in force
    rules : all rules, for those that nobody may override
    """
    held = {(each.rule, each.subject): each for each in overrides if is_in_force(each, on)}
    if not held:
        return findings
    locks = {rule.name: rule.no_override for rule in rules if rule.no_override}
    findings = [
        dataclasses.replace(finding, no_override=said(locks[finding.rule]))
        if finding.rule in locks
        else finding
        for finding in findings
    ]
    result = [_under(finding, held.get((finding.rule, finding.subject))) for finding in findings]
    for each in held.values():
        result += _without_effect(each, [f for f in findings if f.rule == each.rule])
    return result


def _under(finding: Finding, override: Override | None) -> Finding:
    """Return a finding as a condition that carries its override; unchanged where nothing weighs or nobody may."""
    if override is None or finding.severity not in OPEN or finding.no_override:
        return finding
    carried = OverrideInForce(
        by=override.by,
        reason=override.reason.strip(),
        granted=override.granted,
        expires=override.expires,
        was=finding.severity,
    )
    return dataclasses.replace(
        finding,
        severity=Severity.CONDITION,
        override=carried,
        message=said("{message} {text}", message=finding.message, text=carried.sentence),
    )


def _without_effect(override: Override, of_rule: list[Finding]) -> Iterator[Finding]:
    """Say why an override in force changes nothing, where it does not."""
    own = [finding for finding in of_rule if finding.subject == override.subject]
    make = partial(
        Finding,
        rule=RULE,
        group=Group.WIRING,
        subject=subject_text(override),
        source=own_choice("override-locked"),
    )
    if not own:
        known = said_together(sorted({finding.subject for finding in of_rule})[:8], between=", ") or said(
            "none in this job"
        )
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "The override of {subject} matches no finding; subjects of this rule: {known}.",
                subject=subject_text(override),
                known=known,
            ),
            way_out=said("Write the subject as the finding names it, or take the override out."),
        )
    elif all(finding.severity in WEIGHTS_THAT_NEED_NONE for finding in own):
        yield make(
            severity=Severity.ADVICE,
            message=said(
                "The override of {subject} is not needed at these values: nothing fails there.",
                subject=subject_text(override),
            ),
            way_out=said(
                "Take it out, so that it does not cover a later fault, unless the range of an unknown "
                "amount needs it."
            ),
        )
    reasons = dict.fromkeys(f.no_override for f in own if f.no_override and f.severity in OPEN)
    for reason in reasons:
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "The override of {subject} by {by} has no effect: nobody may override it. {reason}",
                subject=subject_text(override),
                by=override.by,
                reason=reason,
            ),
            way_out=said("Mend the fault."),
        )


OVERRIDE = Rule(
    name=RULE,
    group=Group.WIRING,
    asks="Is each override in force, and does it stand for a finding?",
    check=_dates,
)

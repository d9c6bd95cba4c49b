"""An override keeps the finding and its figures, never makes a pass, and ends on its day."""

from __future__ import annotations

import datetime as dt
from functools import cache
from typing import Any

import base_jobs
import planted
import pytest

from ampwright.assessment.assess import assess
from ampwright.assessment.override_names import check_override_names
from ampwright.assessment.result import Assessment
from ampwright.assessment.rules import RULES
from ampwright.errors import JobError
from ampwright.findings import Finding, Severity
from ampwright.job.load import LoadedJob
from ampwright.job.records import Job
from ampwright.validation import validated

FIRST, LAST = dt.date(2026, 1, 10), dt.date(2026, 6, 30)
HELD = {
    "rule": "device-at-source",
    "subject": "W6",
    "by": "A. Person",
    "reason": "steel tube up to the breaker, seen on the bench.",
    "granted": FIRST,
    "expires": LAST,
}
FAR = {"run/W6/device/Q6/distance_m": 0.3}


@cache
def found(*, on: dt.date | None = None, is_far: bool = True, **change: Any) -> Assessment:
    raw = base_jobs.job(change=FAR if is_far else {}, add={"override": [{**HELD, **change}]})
    design = planted.design_from(raw)
    return assess(design, planted.sun_of(design, planted.HERE), on=on)


@cache
def plain() -> Assessment:
    return base_jobs.studied(change=FAR)


def of(answer: Assessment, rule: str = "device-at-source", subject: str = "W6") -> Finding:
    (finding,) = [f for f in answer.findings if (f.rule, f.subject) == (rule, subject)]
    return finding


def said(answer: Assessment) -> list[tuple[Severity, str]]:
    return [(f.severity, f.message) for f in answer.findings if f.rule == "override"]


def test_the_finding_stays_with_its_figures_as_a_condition() -> None:
    before, after = of(plain()), of(found())
    assert (before.severity, after.severity) == (Severity.FAIL, Severity.CONDITION)
    assert (after.value, after.limit, after.unit, after.source) == (0.3, before.limit, "m", before.source)
    assert (after.way_out, after.caution) == (before.way_out, before.caution)
    assert after.message == (
        f"{before.message} Overridden by A. Person until 2026-06-30: steel tube up to the breaker, seen on the bench."
    )
    assert after.override is not None
    assert after.override.was == Severity.FAIL


def test_wiring_that_rests_on_an_override_is_not_fully_checked() -> None:
    assert plain().wiring_verdict == "do not energise"
    assert found().wiring_verdict == "not fully checked"
    assert [f.rule for f in found().overridden] == ["device-at-source"]


def test_no_override_makes_a_pass() -> None:
    rank = {
        Severity.PASS: 0,
        Severity.ADVICE: 1,
        Severity.NOT_CHECKED: 2,
        Severity.CONDITION: 3,
        Severity.FAIL: 4,
    }
    before = {(f.rule, f.subject, f.value, f.limit): f.severity for f in plain().findings}
    for finding in found().findings:
        if finding.rule != "override":
            severity = before[finding.rule, finding.subject, finding.value, finding.limit]
            assert finding.severity == severity or (
                severity == Severity.FAIL and finding.severity == Severity.CONDITION
            )
            assert rank[finding.severity] >= min(rank[severity], 3)


@pytest.mark.parametrize(("day", "severity"), [(FIRST, "condition"), (LAST, "condition")])
def test_first_and_last_day_count(day: dt.date, severity: str) -> None:
    assert of(found(on=day)).severity == severity


def test_the_jobs_date_is_the_day_where_none_is_given() -> None:
    assert found().on == dt.date(2026, 1, 15)
    assert of(found()).severity == Severity.CONDITION


def test_an_expired_one_leaves_the_finding_as_it_was_and_says_so() -> None:
    late = found(on=LAST + dt.timedelta(days=1))
    assert of(late) == of(plain())
    assert late.wiring_verdict == "do not energise"
    assert late.overridden == ()
    ((severity, message),) = said(late)
    assert severity == Severity.CONDITION
    assert "by A. Person expired on 2026-06-30; the finding stands" in message


def test_one_not_yet_granted_has_no_effect() -> None:
    early = found(on=FIRST - dt.timedelta(days=1))
    assert of(early) == of(plain())
    ((severity, message),) = said(early)
    assert severity == Severity.CONDITION
    assert "is granted from 2026-01-10 only" in message


def test_a_subject_that_matches_nothing_is_told() -> None:
    answer = found(subject="W66")
    assert of(answer).severity == Severity.FAIL
    (told,) = [message for severity, message in said(answer) if severity == Severity.CONDITION]
    assert "matches no finding; subjects of this rule: W1, W2, W3" in told


def test_one_that_is_not_needed_is_advice_and_leaves_the_pass() -> None:
    answer = found(is_far=False)
    assert of(answer).severity == Severity.PASS
    assert of(answer).override is None
    assert any(
        severity == Severity.ADVICE and "is not needed" in message for severity, message in said(answer)
    )


def test_what_was_not_checked_stays_open_when_overridden() -> None:
    raw = base_jobs.job(
        remove=["vehicle/alternator/clamps_load_dump"],
        add={"override": [{**HELD, "rule": "load-dump", "subject": "charger"}]},
    )
    answer = planted.assessed(raw)
    finding = of(answer, "load-dump", "charger")
    assert finding.severity == Severity.CONDITION
    assert "load-dump" in answer.wiring_rules.open_rules
    # load-dump less, the override rule itself more
    assert answer.wiring_rules.checked_count == of_base().wiring_rules.checked_count
    assert answer.wiring_verdict == "not fully checked"


@cache
def of_base() -> Assessment:
    return base_jobs.studied()


def test_a_cable_without_any_device_cannot_be_overridden() -> None:
    raw = base_jobs.job(
        remove=["run/W1/device"],
        add={"override": [{**HELD, "rule": "device-against-cable", "subject": "W1"}]},
    )
    answer = planted.assessed(raw)
    assert of(answer, "device-against-cable", "W1").severity == Severity.FAIL
    assert answer.wiring_verdict == "do not energise"
    assert any("has no effect: nobody may override it." in message for _, message in said(answer))


def test_a_panel_above_extra_low_voltage_cannot_be_overridden() -> None:
    raw = base_jobs.job(
        change={"part/panel/in_series": 6},  # 6 x 24.6 V x 1.056 = 155.9 V, above 120 V
        add={"override": [{**HELD, "rule": "panel-touch-voltage", "subject": "panel"}]},
    )
    answer = planted.assessed(raw)
    assert of(answer, "panel-touch-voltage", "panel").severity == Severity.FAIL
    assert any("has no effect" in message for _, message in said(answer))


LOCKED = {
    "battery-gas",
    "breaking-capacity",
    "charge-voltage",
    "cold-charging",
    "device-voltage",
    "mains-described",
    "neutral-earth-link",
    "residual-current-device",
    "outside-certificate",
}


def loaded(**change: Any) -> LoadedJob:
    raw = base_jobs.job(add={"override": [{**HELD, **change}]})
    return LoadedJob(job=validated(Job, raw), file=planted.HERE / "job.toml", text="", raw=raw, sha256="")


def test_the_locked_rules_are_these() -> None:
    assert {rule.name for rule in RULES if rule.no_override} >= LOCKED


@pytest.mark.parametrize("rule", sorted({rule.name for rule in RULES if rule.no_override}))
def test_a_locked_rule_is_refused_before_anything_is_calculated(rule: str) -> None:
    with pytest.raises(JobError) as refused:
        check_override_names(loaded(rule=rule))
    (problem,) = refused.value.problems
    assert f"nobody may override '{rule}'." in problem.message


def test_a_locked_rule_has_no_effect_even_where_it_was_not_refused() -> None:
    raw = base_jobs.job(
        change={"season/coldest_degc": -20.0},
        add={"override": [{**HELD, "rule": "cold-charging", "subject": "battery"}]},
    )
    answer = planted.assessed(raw)
    own = [f for f in answer.findings if f.rule == "cold-charging"]
    assert own
    assert all(f.override is None for f in own)


def test_an_unknown_rule_is_refused_with_the_nearest() -> None:
    with pytest.raises(JobError) as refused:
        check_override_names(loaded(rule="device-at-sorce"))
    assert "no rule 'device-at-sorce'; did you mean 'device-at-source'" in refused.value.problems[0].message


def test_overriding_the_override_rule_is_refused() -> None:
    with pytest.raises(JobError):
        check_override_names(loaded(rule="override"))

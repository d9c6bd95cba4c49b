import pytest

from ampwright.assessment.fold import by_weight, rule_count, use_verdict, wiring_verdict
from ampwright.findings import Finding, Group, Severity


def finding(rule: str, severity: Severity, group: Group = Group.WIRING, subject: str = "W1") -> Finding:
    return Finding(rule=rule, group=group, severity=severity, subject=subject, message="said")


@pytest.mark.parametrize(
    ("severities", "verdict"),
    [
        ([], "not fully checked"),
        ([Severity.PASS], "no fault found"),
        ([Severity.PASS, Severity.ADVICE], "no fault found"),
        ([Severity.PASS, Severity.CONDITION], "no fault found"),
        ([Severity.PASS, Severity.CONDITION, Severity.NOT_CHECKED], "not fully checked"),
        ([Severity.NOT_CHECKED, Severity.FAIL], "do not energise"),
    ],
)
def test_wiring_verdict(severities: list[Severity], verdict: str) -> None:
    findings = tuple(finding(f"r{i}", severity) for i, severity in enumerate(severities))
    assert wiring_verdict(findings) == verdict


@pytest.mark.parametrize(
    ("severities", "verdict"),
    [
        ([], "suits"),
        ([Severity.PASS, Severity.ADVICE], "suits"),
        ([Severity.CONDITION], "suits with conditions"),
        ([Severity.NOT_CHECKED], "suits with conditions"),
        ([Severity.CONDITION, Severity.FAIL], "does not suit"),
    ],
)
def test_use_verdict(severities: list[Severity], verdict: str) -> None:
    findings = tuple(finding(f"r{i}", severity, Group.USE) for i, severity in enumerate(severities))
    assert use_verdict(findings) == verdict


def test_each_verdict_reads_its_own_group_only() -> None:
    wiring = (finding("a", Severity.FAIL, Group.WIRING), finding("b", Severity.PASS, Group.USE))
    assert use_verdict(wiring) == "suits"
    use = (finding("a", Severity.FAIL, Group.USE), finding("b", Severity.PASS, Group.WIRING))
    assert wiring_verdict(use) == "no fault found"


def test_findings_are_shown_heaviest_first_and_otherwise_in_order() -> None:
    given = [
        finding("pass", Severity.PASS),
        finding("advice", Severity.ADVICE),
        finding("open", Severity.NOT_CHECKED),
        finding("condition", Severity.CONDITION),
        finding("fail 1", Severity.FAIL),
        finding("fail 2", Severity.FAIL),
    ]
    shown = [each.rule for each in by_weight(given)]
    assert shown == ["fail 1", "fail 2", "condition", "open", "advice", "pass"]


def test_rule_count_takes_a_rule_as_open_when_one_subject_is() -> None:
    findings = (
        finding("capacity", Severity.PASS, subject="W1"),
        finding("capacity", Severity.NOT_CHECKED, subject="W2"),
        finding("plug", Severity.FAIL),
        finding("reserve", Severity.NOT_CHECKED, Group.USE),
    )
    count = rule_count(findings, Group.WIRING)
    assert (count.checked_count, count.total_count, count.open_rules) == (1, 2, ("capacity",))
    assert rule_count((), Group.USE).total_count == 0

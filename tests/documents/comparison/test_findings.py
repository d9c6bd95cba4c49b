"""Findings of two answers are paired by rule and subject, and told by what changed."""

import dataclasses

import pytest

from ampwright.documents.comparison.findings import finding_changes
from ampwright.findings import Finding, Group, Severity

ONE = Finding(
    rule="voltage-drop",
    group=Group.USE,
    severity=Severity.PASS,
    subject="W1",
    message="2 % of 3 %",
    value=2.0,
    limit=3.0,
    unit="%",
)


def made(**words):
    return dataclasses.replace(ONE, **words)


def test_the_same_findings_in_another_order_are_no_change():
    other = made(subject="W2", value=1.0)
    assert finding_changes((ONE, other), (other, ONE)) == ()


def test_rounding_of_the_calculation_is_no_change():
    assert finding_changes((ONE,), (made(value=2.0 + 1e-9, message="2.0 % of 3 %"),)) == ()


@pytest.mark.parametrize(
    ("was", "now", "kind"),
    [
        (Severity.PASS, Severity.FAIL, "heavier"),
        (Severity.NOT_CHECKED, Severity.CONDITION, "heavier"),
        (Severity.FAIL, Severity.ADVICE, "lighter"),
    ],
)
def test_another_weight_is_heavier_or_lighter(was, now, kind):
    (change,) = finding_changes((made(severity=was),), (made(severity=now),))
    assert (change.kind, change.was, change.now) == (kind, was, now)
    assert change.matters


def test_a_moved_figure_has_both_margins():
    (change,) = finding_changes((ONE,), (made(value=2.4),))
    assert change.kind == "moved"
    assert (change.before, change.after, change.limit) == (2.0, 2.4, 3.0)
    assert change.margin_before_frac == pytest.approx(1 / 3)
    assert change.margin_after_frac == pytest.approx(0.2)
    assert not change.matters


def test_what_comes_and_goes_is_told_heaviest_first():
    gone, new = made(subject="W9"), made(subject="W7", severity=Severity.FAIL, way_out="Use 6 mm².")
    changes = finding_changes((ONE, gone), (ONE, new))
    assert [(each.kind, each.subject) for each in changes] == [("new", "W7"), ("gone", "W9")]
    assert [each.way_out for each in changes] == ["Use 6 mm².", ""]


def test_one_of_two_findings_of_a_subject_changes_alone():
    second = made(message="at night", value=1.0)
    (change,) = finding_changes((ONE, second), (ONE, made(message="at night", value=1.5)))
    assert (change.before, change.after) == (1.0, 1.5)


def test_an_override_that_ends_is_told():
    found = made(severity=Severity.CONDITION, value=None, message="as it is")
    (change,) = finding_changes((found,), (made(severity=Severity.FAIL, value=None, message="as it is"),))
    assert (change.kind, change.was) == ("heavier", Severity.CONDITION)

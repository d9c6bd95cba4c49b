"""What counts as worse."""

import pytest

from ampwright.findings import Finding, Group, Severity
from ampwright.sizing.standard import standard_of, worse


def finding(severity, value=None, *, group=Group.WIRING, rule="lowest-voltage"):
    return Finding(
        rule=rule,
        group=group,
        severity=severity,
        subject="W1",
        message="",
        value=value,
        limit=10.0,
        at_most=False,
    )


FAIL, CONDITION, NOT_CHECKED = Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED


@pytest.mark.parametrize(
    ("before", "after", "is_worse"),
    [
        (None, finding(CONDITION, 9.0), True),
        (None, finding(Severity.ADVICE, 9.0), False),
        (finding(CONDITION, 9.0), finding(CONDITION, 9.0), False),
        (finding(CONDITION, 9.0), finding(CONDITION, 8.99), True),
        (finding(CONDITION, 9.0), finding(FAIL, 9.0), True),
        (finding(FAIL, 9.0), finding(CONDITION, 9.0), False),
        (finding(CONDITION, 9.0), finding(NOT_CHECKED, 9.0), True),
        (finding(NOT_CHECKED), finding(NOT_CHECKED), False),
        (finding(NOT_CHECKED, 9.0), finding(NOT_CHECKED, 8.0), True),
        (finding(CONDITION, 9.0, group=Group.USE), finding(CONDITION, 8.95, group=Group.USE), False),
        (finding(CONDITION, 9.0, group=Group.USE), finding(CONDITION, 8.85, group=Group.USE), True),
    ],
)
def test_new_heavier_or_further_beyond_its_limit_is_worse(before, after, is_worse):
    standard = standard_of([before] if before else [])
    assert bool(worse([after], standard)) == is_worse

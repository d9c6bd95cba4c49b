"""Everything wrong with how an override is written is told, with its place."""

import datetime as dt

import pytest
from job_files import design_of, problems_of, saved, starting

from ampwright.job.override import LONGEST_DAYS, MOST_OVERRIDES

GOOD = {
    "rule": "device-at-source",
    "subject": "W3",
    "by": "A. Person",
    "reason": "sleeved in steel tube up to the breaker",
    "granted": dt.date(2026, 1, 10),
    "expires": dt.date(2026, 6, 30),
}
CASES = {
    "no subject": ({"subject": "  "}, "subject", "name the one subject; a rule is never overridden as a whole"),
    "no name": ({"by": " - "}, "by", "give the name of the person"),
    "long name": ({"by": "x" * 61}, "by", "61 letters; a name has at most 60"),
    "no reason": ({"reason": ""}, "reason", "say why in at least 4 words"),
    "short reason": ({"reason": "it is fine"}, "reason", "say why in at least 4 words"),
    "signs are no words": ({"reason": "ok - - 1 2 3"}, "reason", "say why in at least 4 words"),
    "long reason": ({"reason": "word " * 49}, "reason", "it stands on every page"),
    "ends first": ({"expires": dt.date(2026, 1, 9)}, "expires", "2026-01-09 is before it is granted, 2026-01-10"),
    "too long": ({"expires": dt.date(2027, 1, 12)}, "expires", "367 days after 2026-01-10; at most 366"),
}  # fmt: skip


def with_overrides(*overrides):
    return starting() | {"override": list(overrides)}


def test_a_good_one_is_taken(tmp_path):
    (held,) = design_of(saved(tmp_path, with_overrides(GOOD))).job.override
    assert (held.by, held.expires) == ("A. Person", dt.date(2026, 6, 30))


def test_a_year_and_a_day_of_leap_is_the_longest(tmp_path):
    last = GOOD["granted"] + dt.timedelta(days=LONGEST_DAYS)
    assert design_of(saved(tmp_path, with_overrides(GOOD | {"expires": last}))).job.override


@pytest.mark.parametrize("name", CASES)
def test_each_fault_is_told(tmp_path, name):
    change, field, words = CASES[name]
    (problem,), _ = problems_of(saved(tmp_path, with_overrides(GOOD | change)))
    assert problem.path.endswith(f"> {field}")
    assert words in problem.message
    assert problem.line is not None


def test_all_faults_at_once(tmp_path):
    wrong = GOOD | {"by": "", "reason": "no", "subject": ""}
    problems, _ = problems_of(saved(tmp_path, with_overrides(wrong)))
    assert len(problems) == 3


def test_the_same_finding_twice_is_refused(tmp_path):
    (problem,), _ = problems_of(saved(tmp_path, with_overrides(GOOD, GOOD | {"by": "B. Person"})))
    assert "'device-at-source' of 'W3' is overridden twice" in problem.message


def test_too_many_are_refused(tmp_path):
    many = [GOOD | {"subject": f"W{number}"} for number in range(MOST_OVERRIDES + 1)]
    (problem,), _ = problems_of(saved(tmp_path, with_overrides(*many)))
    assert "13 overrides; at most 12" in problem.message


@pytest.mark.parametrize("field", ["rule", "subject", "by", "reason", "granted", "expires"])
def test_nothing_of_it_may_be_left_out(tmp_path, field):
    less = {key: value for key, value in GOOD.items() if key != field}
    problems, _ = problems_of(saved(tmp_path, with_overrides(less)))
    assert any(field in problem.path or field in problem.message for problem in problems)

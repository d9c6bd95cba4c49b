"""Cold and hot spells in demonstration jobs: what fails, how cold the cells get, what refrigerators take."""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.conftest import EXAMPLES

from ampwright import api
from ampwright.errors import JobError
from ampwright.findings import Severity


def text_of(name, *swaps, extra=""):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    return text + extra


@cache
def findings(name, extra, *swaps):
    """Return the findings on spells of a demonstration job."""
    path = EXAMPLES / f"{name}.toml"
    answer = api.answer(api.load_text(text_of(name, *swaps, extra=extra), path))
    return {(one.rule, one.subject): one for one in answer.assessment.findings if one.rule.endswith("-spell")}


COLD = "\n[season.cold_spell]\nnight_degc = -12\nday_count = 5\n"
COLDER_SEASON = ("coldest_degc = -5", "coldest_degc = -15")


def test_cold_nights_keep_an_unheated_battery_from_charging():
    found = findings("night-survey-van", COLD, COLDER_SEASON)
    loads, cells = found["cold-spell", "loads"], found["cold-spell", "pm.battery"]
    assert loads.message.startswith("Cold spell, -12 °C at night and ")
    assert "by day for 5 days, from day " in loads.message
    assert cells.severity == Severity.ADVICE
    assert -12.0 < cells.value < cells.limit == 0.0  # the lined body and its own heat keep it above the air
    hours = float(re.search(r"for (\d+) h a charger could give", cells.message)[1])
    assert 0.0 < hours <= 5 * 24
    # two hours of road and the sun of five October days are refused: something must go short
    assert loads.severity == Severity.FAIL
    assert "fails on day" in loads.message


def test_changes_are_held_against_the_spell_as_well():
    text = text_of("night-survey-van", COLDER_SEASON, extra=COLD)
    answer = api.answer(api.load_text(text, EXAMPLES / "night-survey-van.toml"))
    limits = next(one for one in answer.changes if one.kind == "setting")
    assert limits.use_verdict == "does not suit"  # a lower output limit warms no battery
    assert not limits.is_cure


def test_a_mild_spell_passes_and_says_how_cold_it_got():
    found = findings("night-survey-van", COLD.replace("-12", "3"))
    assert {one.severity for one in found.values()} == {Severity.PASS}
    assert found["cold-spell", "pm.battery"].value > 3.0


def test_a_spell_by_how_rare_it_is_is_told_with_its_share():
    found = findings("night-survey-van", "\n[season.hot_spell]\nworse_frac = 0.1\nday_count = 3\n")
    assert "10 % of the runs have a worse one" in found["hot-spell", "loads"].message
    fridge = found["hot-spell", "fridge"].message
    more, mean = (
        float(each) for each in re.search(r"takes (\d+) Wh a day instead of (\d+) Wh", fridge).groups()
    )
    assert more > mean


def test_a_rare_spell_beyond_the_stated_limit_is_a_condition():
    found = findings(
        "night-survey-van",
        "\n[season.cold_spell]\nworse_frac = 0.1\n",
        ("coldest_degc = -5", "coldest_degc = 4"),
    )
    beyond = found["cold-spell", "season"]
    assert beyond.severity == Severity.CONDITION
    assert beyond.value < beyond.limit == 4.0
    assert "coldest_degc" in beyond.way_out


def test_a_hot_spell_is_held_against_contents_and_cells():
    extra = "\n[season.hot_spell]\nafternoon_degc = 45\nday_count = 6\n"
    found = findings("vaccine-outreach", extra, ("hottest_degc = 30", "hottest_degc = 45"))
    contents, cells = found["hot-spell", "vaccine-fridge"], found["hot-spell", "battery"]
    assert contents.severity == Severity.FAIL
    assert "allowed 2 °C to 8 °C" in contents.message
    assert contents.caution
    assert cells.value > cells.limit == 50.0
    assert "fails on day" in found["hot-spell", "loads"].message


def test_what_fails_anyway_is_not_laid_to_the_spell():
    found = findings("bicycle-repair-truck", "\n[season.hot_spell]\nafternoon_degc = 25\n")
    assert "no essential load fails that does not fail without it" in found["hot-spell", "loads"].message


def test_without_runs_a_rare_spell_is_not_checked():
    found = findings("night-survey-van", "\n[season.cold_spell]\nworse_frac = 0.1\n[doubt]\nruns = 0\n")
    (one,) = found.values()
    assert one.severity == Severity.NOT_CHECKED


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ("cold_spell]\nday_count = 3", "give night_degc, or worse_frac without temperatures"),
        ("cold_spell]\nafternoon_degc = 3", "give night_degc, or worse_frac"),
        ("hot_spell]\nafternoon_degc = 29\nworse_frac = 0.1", "give afternoon_degc, or worse_frac"),
        ("cold_spell]\nnight_degc = -9", "-9 °C is colder than coldest_degc, -5 °C"),
        ("hot_spell]\nafternoon_degc = 39", "39 °C is hotter than hottest_degc, 30 °C"),
        ("hot_spell]\nnight_degc = 29\nafternoon_degc = 20", "29 °C is warmer than afternoon_degc, 20 °C"),
    ],
)
def test_spells_that_cannot_be_meant_are_refused(extra, said):
    with pytest.raises(JobError) as caught:
        api.load_text(
            text_of("night-survey-van", extra=f"\n[season.{extra}\n"), EXAMPLES / "night-survey-van.toml"
        )
    (problem,) = caught.value.problems
    assert said in problem.message

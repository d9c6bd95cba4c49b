"""What a use leaves in hand: figures of one job against sums made here, and the sentences."""

import dataclasses
import json
import math

import numpy as np
import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.cli.show import shown_json
from ampwright.sizing.outlook import FirstFailure, LoadEnergy, dull_day, outlook_of
from ampwright.sizing.outlook_words import (
    band_sentence,
    customer_sentence,
    endurance_sentences,
    first_failure_sentence,
    missing_sentence,
    source_sentences,
)


@pytest.fixture(scope="module")
def loaded(examples):
    return api.load(examples / "vaccine-outreach.toml")


@pytest.fixture(scope="module")
def weather(loaded):
    return api.weather_of(loaded.design, loaded.source.file.parent)


@pytest.fixture(scope="module")
def found(loaded):
    return assess(loaded.design, loaded.sun)


@pytest.fixture(scope="module")
def outlook(found, loaded, weather):
    return outlook_of(found, loaded.sun, weather)


@pytest.fixture(scope="module")
def answered(examples):
    return api.check(examples / "bicycle-repair-truck.toml")


def test_one_day_in_twenty_is_duller_than_the_dull_day(weather, loaded):
    day = dull_day(weather, loaded.design.job.season)
    kwh_m2 = day.ghi_w_m2.sum() * 24.0 / day.steps_per_day / 1000.0
    share = (weather.daily.irradiation_kwh_m2_day < kwh_m2).mean()
    assert share == pytest.approx(0.05, abs=2.0 / weather.daily.irradiation_kwh_m2_day.size)


def test_dull_days_last_longer_than_none(outlook):
    assert 24.0 < outlook.autonomy_h < outlook.dull_autonomy_h


def test_dull_days_may_end_where_the_mean_day_carries(examples):
    outlook = api.check(examples / "night-survey-van.toml").outlook
    assert 24.0 < outlook.autonomy_h < outlook.dull_autonomy_h < math.inf


def test_without_runs_of_weather_no_dull_day_is_told(found, loaded):
    plain = outlook_of(found, loaded.sun, None)
    assert plain.dull_autonomy_h is None
    assert len(endurance_sentences(plain)) == 3


def test_hours_of_the_states_are_those_of_the_plans(outlook, loaded):
    hours = 0.0
    for plan in loaded.design.days:
        for period in loaded.design.plans[plan].periods:
            if period.state == "road":
                hours += ((period.end_min - period.start_min) % 1440) / 60.0
    assert outlook.road_h == pytest.approx(hours)
    assert outlook.idle_h == outlook.mains_h == outlook.mains_charging_h == 0.0
    assert 0.0 < outlook.engine_charging_h <= hours + 0.25 * 2 * len(loaded.design.days)


def test_panels_could_give_at_least_what_is_taken(outlook, found):
    taken_wh = found.energy.ledger.panel_wh
    assert outlook.panel_possible_wh >= taken_wh
    assert outlook.panel_surplus_factor == pytest.approx(outlook.panel_possible_wh / taken_wh)
    text = source_sentences(outlook, day_count=found.energy.day_count)[0]
    assert f"{outlook.panel_surplus_factor:.1f} times what is used" in text


def test_a_panel_that_is_used_up_is_not_told_as_too_large(outlook):
    tight = dataclasses.replace(outlook, panel_surplus_factor=1.25)
    assert source_sentences(tight, day_count=1)[0].endswith("80 % of it is used.")


def test_nothing_fails_and_nothing_is_missing_in_a_use_that_suits(outlook):
    assert outlook.first_failure is None
    assert missing_sentence(outlook) == ""


def test_what_is_missing_is_named_by_load_largest_first(outlook):
    loads = tuple(
        LoadEnergy(load=name, name=name, is_essential=True, given_wh=1.0, missing_wh=wh)
        for name, wh in (
            ("a", 10.0),
            ("b", 30.0),
            ("c", 0.0),
            ("d", 20.0),
            ("e", 5.0),
            ("f", 2.0),
            ("g", 3.0),
        )
    )
    text = missing_sentence(dataclasses.replace(outlook, loads=loads))
    assert text == "Not served over the use: b 30 Wh, d 20 Wh, a 10 Wh, e 5 Wh, 2 more 5 Wh."


def test_first_failure_is_an_essential_load_at_its_first_gap(answered):
    first = answered.outlook.first_failure
    assert isinstance(first, FirstFailure)
    energy = answered.assessment.energy
    load = answered.assessment.design.loads[
        [each.id for each in answered.assessment.design.loads].index(first.load)
    ]
    assert load.is_essential
    step = int(np.argmax(energy.is_unserved.any(axis=1)))
    assert (first.day, first.clock) == (int(energy.day_of_step[step]) + 1, "15:00")
    assert energy.is_unserved[step, load.index]


def test_words_for_the_runs(answered):
    chance = dataclasses.replace(answered.chance, held_count=45, first_failure_day=(4, 2, 2, 9, 3))
    assert customer_sentence(chance) == "For the customer: something essential fails in about 1 trip in 10."
    assert first_failure_sentence(chance).startswith(
        "First failure in the 5 runs that fail: day 2 to 9, half of them by day 3."
    )
    held = dataclasses.replace(chance, held_count=50, first_failure_day=())
    assert customer_sentence(held) == "For the customer: no failure seen in 50 trips reckoned."
    assert first_failure_sentence(held) == ""


def test_band_names_ten_days_of_a_long_use(answered):
    lows = np.linspace(0.2, 0.8, 5)[:, None] + np.zeros(40)
    text = band_sentence(dataclasses.replace(answered.chance, daily_low_frac=lows))
    assert text.count("20-80 %") == 10
    assert "day 1 " in text
    assert "day 40 " in text


def test_json_carries_the_outlook_and_books_that_close(answered):
    told = json.loads(shown_json(answered))
    outlook, books = told["outlook"], told["ledger_wh"]
    assert outlook["autonomy_h"] == answered.outlook.autonomy_h
    assert outlook["first_failure"]["day"] == answered.outlook.first_failure.day
    assert set(books["load_wh"]) == {load.id for load in answered.assessment.design.loads}
    came_in = sum(books["source_wh"].values())
    out = (
        sum(books["load_wh"].values())
        + sum(books[name] for name in books if name.endswith("_loss_wh") and name != "charger_loss_wh")
        + books["standby_wh"]
        + books["heater_wh"]
        + books["self_discharge_wh"]
        + books["stored_change_wh"]
    )
    assert came_in == pytest.approx(out, rel=1e-6)

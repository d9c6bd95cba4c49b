"""Real years begun in other weeks: years are counted, not starts, and only those that are whole for every start."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from tests.climate.hour_files import stamps, table

from ampwright import api
from ampwright.job.surroundings import real_years_of
from ampwright.sizing.other_weeks import other_weeks, other_weeks_sentence

YEARS = ("2006", "2007", "2008")


def test_years_are_counted_and_not_starts():
    found = other_weeks(
        [
            (YEARS, (True, True, True)),
            (YEARS, (True, False, True)),
            (("2006", "2007"), (True, True)),  # 2008 has a gap there
        ]
    )
    assert found.labels == ("2006", "2007")
    assert found.held_counts == (3, 2)
    assert found.always_count == 1
    # 1 of 2, Clopper and Pearson: 1.3 to 98.7 %; five of six starts would have said 36 to 99.6 %
    assert other_weeks_sentence(found, ", ".join) == (
        "Begun one or two weeks earlier or later as well: 5 of 6 starts hold; whatever the week, in 1 of 2 years (1-99 %), "
        "not in 2007."
    )


def test_all_starts_that_hold_are_said_without_a_list():
    found = other_weeks([(YEARS, (True,) * 3)] * 5)
    # 3 of 3: 0.025 ** (1 / 3) = 29 %
    assert other_weeks_sentence(found, ", ".join) == (
        "Begun one or two weeks earlier or later as well: 15 of 15 starts hold; whatever the week, in 3 of 3 years (29-100 %)."
    )


def test_no_year_whole_for_all_starts_is_no_answer():
    assert other_weeks([(("2006",), (True,)), (("2007",), (True,))]) is None


@pytest.fixture(scope="module")
def folder(tmp_path_factory, examples):
    """Return a folder with the outreach job and a file whose irradiance counts the days from 1 January 2006."""
    made = tmp_path_factory.mktemp("weeks")
    times = stamps("2006-01-01", 24 * (365 + 365 + 366))
    day = np.arange(len(times)) // 24
    (made / "years.csv").write_text(table(times, day.astype(float), np.full(len(times), 20.0)))
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    (made / "job.toml").write_text(text.replace("[place]\n", '[place]\nyear_files = ["years.csv"]\n'))
    return made


def first_day(weather, member):
    """Return the day since 1 January 2006 with which a run begins: an hour of sun at its noon holds it."""
    noon = weather.ensemble.steps_per_day // 2
    return weather.ensemble.ghi_w_m2[member, noon]


def test_a_use_begun_later_has_the_days_of_then(folder):
    loaded = api.load(folder / "job.toml")
    made = real_years_of(loaded.design, folder)
    # 15 days around 15 July: from 8 July, the 188th day counted from 0; the sun of an hour is laid out in it, so a few per cent
    assert made().labels == made(7).labels == YEARS
    assert first_day(made(), 0) == pytest.approx(188, rel=0.05)
    assert first_day(made(7), 0) == pytest.approx(first_day(made(), 0) * 195 / 188, rel=0.01)
    assert first_day(made(-14), 1) == pytest.approx(
        first_day(made(), 1) * (365 + 174) / (365 + 188), rel=0.01
    )


def test_a_start_before_new_year_counts_for_the_year_it_was_meant_for(folder):
    loaded = api.load(folder / "job.toml")
    season = dataclasses.replace(loaded.design.job.season, month=1, first_day=3)
    design = dataclasses.replace(loaded.design, job=dataclasses.replace(loaded.design.job, season=season))
    made = real_years_of(design, folder)
    assert made().labels == YEARS
    # 14 days before 3 January is 20 December of the year before, the 353rd day counted from 0: 2006 has none in the file, and
    # what begins in December 2008 goes on beyond it
    assert made(-14).labels == ("2007", "2008")
    assert first_day(made(-14), 0) == pytest.approx(353, rel=0.05)


def test_a_use_of_more_than_a_month_is_not_moved(folder):
    text = (folder / "job.toml").read_text().replace('"11 x post"', '"30 x post"')
    (folder / "long.toml").write_text(text)
    assert api.check(folder / "long.toml").real_years.other_weeks is None

"""Real years beside and in place of the drawn ones: the same use, counted year by year."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from tests.climate.hour_files import stamps, table

from ampwright import api
from ampwright.climate.sources import load_typical_day
from ampwright.documents.plain import plain_answer
from ampwright.findings import Severity
from ampwright.sizing.real_years import YEARS_RULE, real_years_finding, real_years_sentences

FACTORS = {2006: 1.0, 2007: 0.9, 2008: 0.0, 2009: 1.0}
EVEN = "fridge_draw_frac = 0\nhours_frac = 0\nshade_frac = 0\nforget_frac = 0\nbattery_frac = 0\nalternator_frac = 0\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory, examples, loaded_example):
    """Return a folder with the outreach job and four years of its typical July days, 2008 all but dark."""
    site = loaded_example("vaccine-outreach").design.site
    day = load_typical_day(site, 7, step_minutes=60)
    made = tmp_path_factory.mktemp("years")
    for year, factor in FACTORS.items():
        times = stamps(f"{year}-01-01", 24 * (366 if year == 2008 else 365))
        count = len(times) // 24
        ghi, dhi = (np.tile(factor * values, count) for values in (day.ghi_w_m2, day.dhi_w_m2))
        (made / f"{year}.csv").write_text(table(times, ghi, np.tile(day.ambient_degc, count), dhi))
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    names = ", ".join(f'"{year}.csv"' for year in FACTORS)
    text = text.replace('"11 x post"', '"16 x post"')
    (made / "job.toml").write_text(text.replace("[place]\n", f"[place]\nyear_files = [{names}]\n"))
    return made


@pytest.fixture(scope="module")
def answered(folder):
    return api.check(folder / "job.toml")


def test_the_year_without_sun_is_the_one_that_fails(answered):
    years = answered.real_years
    assert years.labels == ("2006", "2007", "2008", "2009")
    assert years.is_held == (True, True, False, True)
    assert years.margin_frac[0] == pytest.approx(years.margin_frac[3], abs=1e-9)
    assert years.sun_kwh_m2_day[1] == pytest.approx(0.9 * years.sun_kwh_m2_day[0], rel=1e-3)
    said = real_years_sentences(years)
    # 3 of 4: Clopper and Pearson, 19 to 99 %
    assert said[0] == (
        "Real years 2006-2009, all else at its likely value: essential loads hold in 3 of 4 (19-99 %), not in 2008."
    )
    assert said[1].startswith("Worst is 2008: The contents of ")
    # the typical July day stands all the year in these files, and 2008 is dark all the year
    assert said[2] == (
        "Begun one or two weeks earlier or later as well: 15 of 20 starts hold; whatever the week, in 3 of 4 years (19-99 %), "
        "not in 2008."
    )


def test_it_is_a_condition_of_the_first_verdict_and_stands_in_the_answer(answered):
    (finding,) = [one for one in answered.assessment.findings if one.rule == YEARS_RULE]
    assert finding.severity == Severity.CONDITION
    assert (finding.value, finding.limit) == (75.0, 100.0)
    plain = plain_answer(answered)["real_years"]
    assert plain["held_count"] == 3
    assert plain["held_low_frac"] == pytest.approx(0.194, abs=5e-4)
    assert plain["other_weeks"] == {
        "labels": ["2006", "2007", "2008", "2009"],
        "held_counts": [5, 5, 0, 5],
        "start_count": 5,
    }
    assert any("2006.csv, 2007.csv" in one for one in answered.assumptions)


def test_all_held_passes_and_few_held_fails(answered):
    years = answered.real_years
    all_held = dataclasses.replace(years, is_held=(True,) * 4)
    assert real_years_finding(all_held).severity == Severity.PASS
    assert "Nearest to failing is 2008" in real_years_sentences(all_held)[0]
    assert real_years_finding(dataclasses.replace(years, is_held=(False,) * 4)).severity == Severity.FAIL


def test_what_was_left_out_is_said(answered):
    gaps = dataclasses.replace(answered.real_years, left_out=("2010: 3 h missing",), notes=("a.csv: odd",))
    assert real_years_sentences(gaps)[3:] == (
        "Left out for gaps, never filled: 2010: 3 h missing.",
        "a.csv: odd.",
    )


def test_runs_may_take_the_real_years_by_turns(folder):
    text = (folder / "job.toml").read_text()
    doubt = f'[doubt]\nruns = 8\nweather_from = "real-years"\n{EVEN}'
    (folder / "turns.toml").write_text(f"{text}\n{doubt}")
    answer = api.check(folder / "turns.toml")
    assert answer.chance.run_count == 8
    assert answer.chance.held_count == 6  # 2008 comes twice
    turned = answer.chance.margin_frac.reshape(2, 4)
    # the refrigerator's draw, unknown from 1 to 1.15 times, is still drawn and moves the time its contents are too warm
    assert turned[0] == pytest.approx(turned[1], abs=0.03)
    assert turned[0] == pytest.approx(answer.real_years.margin_frac, abs=0.03)
    assert answer.chance.shares_frac["weather"] > 0.99
    assert "real years by turns" in " ".join(answer.assumptions)


def test_real_years_alone_name_the_place(folder):
    text = (folder / "job.toml").read_text()
    start, end = text.index("[place]"), text.index("[season]")
    place = text[start:end]
    names = next(line for line in place.split("\n") if line.startswith("year_files"))
    spot = "latitude_deg = 9.0\nlongitude_deg = 38.7\nutc_offset_h = 3\n"
    (folder / "alone.toml").write_text(f"{text[:start]}[place]\n{names}\n{spot}{text[end:]}")
    loaded = api.load(folder / "alone.toml")
    mean = sum(FACTORS.values()) / 4
    assert loaded.design.site is None
    typical = api.load(folder / "job.toml").sun
    assert loaded.sun.ghi_w_m2.sum() == pytest.approx(mean * typical.ghi_w_m2.sum(), rel=1e-3)

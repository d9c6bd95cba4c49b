from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.orbit import DAYS_IN_MONTH, day_of_year
from ampwright.climate.series import SERIES_ARRAYS
from ampwright.climate.sources import read_tmy3
from ampwright.climate.weather import monthly_figures, monthly_site, real_days
from ampwright.errors import ClimateError

DATA = Path(pvlib.__file__).parent / "data"


@cache
def greensboro():
    return read_tmy3(DATA / "723170TYA.CSV")


@settings(max_examples=25, deadline=None)
@given(
    month=st.integers(1, 12),
    day=st.integers(1, 28),
    day_count=st.integers(1, 40),
    step_minutes=st.sampled_from((5, 15, 30, 60)),
)
def test_energy_of_every_hour_is_kept(month, day, day_count, step_minutes):
    year = greensboro()
    series = real_days(year, first_month=month, first_day=day, day_count=day_count, step_minutes=step_minutes)
    start = 24 * (day_of_year(month, day) - 1)
    hours = (start + np.arange(24 * day_count)) % 8760
    per_hour = 60 // step_minutes
    assert series.ghi_w_m2.reshape(-1, per_hour).mean(axis=1) == pytest.approx(year.ghi_w_m2[hours], abs=1e-9)
    assert series.start_day == day_of_year(month, day)
    assert series.ghi_w_m2.shape == (day_count * 24 * per_hour,)


def test_year_closes_and_stays_physical():
    year = greensboro()
    series = real_days(year, first_month=1, first_day=1, day_count=365)
    beam = series.dni_w_m2 * np.sin(np.radians(series.sun_elevation_deg))
    assert series.ghi_w_m2 == pytest.approx(beam + series.dhi_w_m2, abs=1e-9)
    for name in SERIES_ARRAYS:
        assert np.isfinite(getattr(series, name)).all()
    assert series.dhi_w_m2.min() >= 0.0
    assert (series.dni_w_m2 <= series.extra_normal_w_m2).all()
    assert series.dhi_w_m2.sum() / 4.0 == pytest.approx(year.dhi_w_m2.sum(), rel=0.01)


def test_beam_agrees_with_the_beam_of_the_file():
    frame, _ = pvlib.iotools.read_tmy3(DATA / "723170TYA.CSV", coerce_year=2023)
    series = real_days(greensboro(), first_month=1, first_day=1, day_count=365, step_minutes=60)
    ours, theirs = series.dni_w_m2, frame["dni"].to_numpy()
    assert ours.sum() == pytest.approx(theirs.sum(), rel=0.03)
    assert np.corrcoef(ours, theirs)[0, 1] > 0.98


def test_light_follows_the_sun_inside_the_hour():
    series = real_days(greensboro(), first_month=6, first_day=1, day_count=1)
    morning = series.ghi_w_m2.reshape(24, 4)[7]
    assert (np.diff(morning) > 0.0).all()


def test_temperature_passes_through_the_hours_of_the_file():
    year = greensboro()
    series = real_days(year, first_month=1, first_day=2, day_count=1, step_minutes=30)
    ends = year.ambient_degc[23:48]
    middles = series.ambient_degc.reshape(24, 2).mean(axis=1)
    assert middles == pytest.approx((ends[:-1] + ends[1:]) / 2.0)


def test_the_year_begins_anew_after_december():
    turn = real_days(greensboro(), first_month=12, first_day=31, day_count=2)
    first = real_days(greensboro(), first_month=1, first_day=1, day_count=1)
    for name in SERIES_ARRAYS:
        assert getattr(turn, name)[96:] == pytest.approx(getattr(first, name), abs=1e-9)


def test_light_without_a_sun_is_spread_evenly_and_diffuse():
    dark = greensboro()
    night = dark.ghi_w_m2.copy()
    night[1] = 8.0
    series = real_days(replace(dark, ghi_w_m2=night), first_month=1, first_day=1, day_count=1)
    assert series.ghi_w_m2[4:8].tolist() == [8.0] * 4
    assert series.dhi_w_m2[4:8].tolist() == [8.0] * 4
    assert not series.dni_w_m2[4:8].any()


def test_monthly_site_takes_the_means_of_the_hours():
    year = greensboro()
    hours = np.split(year.ghi_w_m2, np.cumsum(DAYS_IN_MONTH)[:-1] * 24)
    expected = [month.sum() / 1000.0 / days for month, days in zip(hours, DAYS_IN_MONTH, strict=True)]
    assert monthly_site(year).ghi_kwh_m2_day == pytest.approx(expected)
    brighter = replace(year, ghi_w_m2=1.1 * year.ghi_w_m2, ambient_degc=year.ambient_degc + 2.0)
    site = monthly_site(brighter)
    assert site.ghi_kwh_m2_day == pytest.approx([1.1 * value for value in expected])
    assert site.max_degc == pytest.approx([value + 2.0 for value in year.site.max_degc])


def test_monthly_figures_of_a_plain_year():
    ambient = np.tile(np.linspace(0.0, 23.0, 24), 365)
    ghi, high, low = monthly_figures(np.full(8760, 100.0), ambient)
    assert ghi == pytest.approx((2.4,) * 12)
    assert high == (23.0,) * 12
    assert low == (0.0,) * 12


@pytest.mark.parametrize(
    ("first_month", "first_day", "day_count"),
    [(2, 29, 1), (0, 1, 1), (13, 1, 1), (4, 31, 1), (1, 1, 0), (1, 1, 9999)],
)
def test_days_that_do_not_exist_are_refused(first_month, first_day, day_count):
    with pytest.raises(ClimateError, match=r"first_month|day_count"):
        real_days(greensboro(), first_month=first_month, first_day=first_day, day_count=day_count)


def test_a_year_of_other_length_is_refused():
    with pytest.raises(ClimateError, match="8760"):
        replace(greensboro(), ghi_w_m2=np.zeros(8784))

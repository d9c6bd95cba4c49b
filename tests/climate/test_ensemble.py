from __future__ import annotations

import numpy as np
import pytest

from ampwright.climate.ensemble import synthetic_weather
from ampwright.climate.orbit import extraterrestrial_kwh_m2_day, monthly_extraterrestrial_kwh_m2_day
from ampwright.climate.sources import load_sun_angles, shipped_site
from ampwright.climate.sun import sun_angles, typical_day

SITE = shipped_site("potsdam-de")
WINDOW = {"start_day": 274, "day_count": 14}
ANGLES = sun_angles(SITE, steps_per_day=96, **WINDOW)


def runs(count=40, seed=1):
    return synthetic_weather(SITE, ANGLES, member_count=count, seed=seed, **WINDOW)


def test_the_parts_of_the_sun_close_in_every_step_and_the_days_keep_their_sums():
    weather = runs()
    sine = np.maximum(np.sin(np.deg2rad(ANGLES.elevation_deg)), 0.0)
    for series in weather.members():
        assert series.dhi_w_m2 + series.dni_w_m2 * sine == pytest.approx(series.ghi_w_m2, abs=1e-9)
        assert (series.dni_w_m2 <= series.extra_normal_w_m2 + 1e-9).all()
        assert min(series.ghi_w_m2.min(), series.dni_w_m2.min(), series.dhi_w_m2.min()) >= 0.0
    daily = weather.ghi_w_m2.reshape(40, 14, 96).sum(axis=2) * 0.25 / 1000
    assert daily == pytest.approx(weather.daily.irradiation_kwh_m2_day, rel=1e-12)


def test_the_sun_stands_where_it_does_on_a_typical_day():
    typical = typical_day(SITE, 10)
    one = runs(1).member(0)
    fourteenth = slice(13 * 96, 14 * 96)  # 14 October; the typical day is the 15th
    assert one.sun_elevation_deg[fourteenth] == pytest.approx(typical.sun_elevation_deg, abs=0.6)


def test_the_mean_over_the_runs_is_the_months_clearness_of_these_days():
    weather = runs(400)
    clearness = SITE.ghi_kwh_m2_day[9] / monthly_extraterrestrial_kwh_m2_day(SITE.latitude_deg, 10)
    outside = extraterrestrial_kwh_m2_day(SITE.latitude_deg, np.arange(274, 288)).mean()
    runs_mean = weather.ghi_w_m2.mean(axis=1) * 24 / 1000
    error = runs_mean.std() / 20
    assert runs_mean.mean() == pytest.approx(clearness * outside, abs=4 * error)


def test_the_air_stays_between_the_days_extremes():
    weather = runs()
    high, low = weather.daily.max_degc.max(axis=1), weather.daily.min_degc.min(axis=1)
    assert (weather.ambient_degc.max(axis=1) <= high + 1e-9).all()
    assert (weather.ambient_degc.min(axis=1) >= low - 1e-9).all()
    jumps = np.abs(np.diff(weather.ambient_degc, axis=1))
    assert jumps.max() < 2.0


def test_the_same_seed_gives_the_same_run_however_many_are_made():
    few, many = runs(2, seed=5), runs(6, seed=5)
    assert (few.ghi_w_m2 == many.ghi_w_m2[:2]).all()
    assert (few.ambient_degc == many.ambient_degc[:2]).all()
    assert (few.ghi_w_m2 != runs(2, seed=6).ghi_w_m2).any()


def test_angles_come_from_the_cache_the_second_time(tmp_path, monkeypatch):
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(tmp_path))
    first = load_sun_angles(SITE, start_day=300, day_count=2)
    [file] = tmp_path.glob("angles-*.npz")
    again = load_sun_angles(SITE, start_day=300, day_count=2)
    assert (again.elevation_deg == first.elevation_deg).all()
    file.write_bytes(b"damaged")
    mended = load_sun_angles(SITE, start_day=300, day_count=2)
    assert (mended.azimuth_deg == first.azimuth_deg).all()

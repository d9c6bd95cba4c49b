from __future__ import annotations

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.hourly_sun import clouded_ghi_w_m2, erbs_diffuse_frac, hourly_clearness

HOUR = np.arange(24)
SINE = np.maximum(np.sin(np.pi * (HOUR - 5.5) / 13), 0.0) * (HOUR > 5) * (HOUR < 19)


def test_diffuse_share_is_that_of_the_reference_library():
    zenith = np.full(180, 40.0)
    extra = pvlib.irradiance.get_extra_radiation(100)
    clearness = np.linspace(0.0, 0.9, 180)
    ghi = clearness * extra * np.cos(np.deg2rad(40.0))
    wanted = pvlib.irradiance.erbs(ghi, zenith, 100)
    share = np.divide(wanted["dhi"], ghi, out=np.ones_like(ghi), where=ghi > 0)
    assert erbs_diffuse_frac(clearness) == pytest.approx(share, abs=1e-9)


def test_without_scatter_the_hours_follow_the_printed_trend():
    # K = 0.5, sun at noon: -0.19 + 0.56 + 0.24 exp(-4) + 0.32 exp(-0.44375) = 0.37440 + 0.20533
    day = np.array([[0.5]])
    noon = np.zeros((1, 24))
    noon[0, 12] = 1.0
    found = hourly_clearness(day, noon, np.zeros((1, 1, 24)))
    assert found[0, 0, 12] == pytest.approx(0.37440 + 0.20533, abs=1e-4)
    assert found[0, 0, :12].max() == 0.0


def test_what_is_left_goes_on_from_hour_to_hour():
    generator = np.random.default_rng(3)
    day = np.full((400, 10), 0.45)
    found = hourly_clearness(day, np.tile(SINE, (10, 1)), generator.standard_normal((400, 10, 24)))
    ten, eleven = found[:, :, 10].ravel(), found[:, :, 11].ravel()
    # 0.38 + 0.06 cos(7.4 K - 2.5) at K = 0.45
    assert np.corrcoef(ten, eleven)[0, 1] == pytest.approx(0.38 + 0.06 * np.cos(0.83), abs=0.03)


@settings(deadline=None)
@given(day=st.floats(0.03, 0.78), seed=st.integers(0, 10_000))
def test_every_day_keeps_its_sum_and_no_step_is_negative(day, seed):
    steps = 96
    when = (np.arange(steps) + 0.5) / 4
    outside = (1361 * np.maximum(np.sin(np.pi * (when - 6) / 12), 0.0))[None]
    sine = np.maximum(np.sin(np.pi * (HOUR + 0.5 - 6) / 12), 0.0)[None]
    hourly = hourly_clearness(
        np.array([[day]]), sine, np.random.default_rng(seed).standard_normal((1, 1, 24))
    )
    wanted = np.array([[day * outside.sum() * 0.25 / 1000]])
    ghi = clouded_ghi_w_m2(hourly, outside, wanted)
    assert ghi.sum() * 0.25 / 1000 == pytest.approx(wanted[0, 0], rel=1e-12)
    assert (ghi >= 0).all()
    assert (ghi[0, 0][outside[0] == 0] == 0).all()
    assert ghi.max() <= 0.9 * outside.max()


def test_a_night_without_end_has_no_sun():
    nothing = clouded_ghi_w_m2(np.zeros((2, 3, 24)), np.zeros((3, 96)), np.zeros((2, 3)))
    assert nothing.shape == (2, 3, 96)
    assert not nothing.any()

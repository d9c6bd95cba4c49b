from __future__ import annotations

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.plane import cell_degc, plane_w_m2
from ampwright.climate.sources import shipped_site
from ampwright.climate.sun import typical_day
from ampwright.errors import ClimateError

DAYS = tuple(
    typical_day(shipped_site(site_id), month)
    for site_id, month in (("hamburg-de", 12), ("phoenix-us", 6), ("wagga-wagga-au", 1), ("northway-us", 6))
)


@settings(max_examples=60, deadline=None)
@given(
    day=st.sampled_from(DAYS),
    tilt_deg=st.floats(0.0, 90.0),
    azimuth_deg=st.floats(0.0, 360.0),
    albedo_frac=st.floats(0.0, 1.0),
)
def test_hay_davies_equals_pvlib(day, tilt_deg, azimuth_deg, albedo_frac):
    expected = pvlib.irradiance.get_total_irradiance(
        tilt_deg,
        azimuth_deg,
        90.0 - day.sun_elevation_deg,
        day.sun_azimuth_deg,
        day.dni_w_m2,
        day.ghi_w_m2,
        day.dhi_w_m2,
        dni_extra=day.extra_normal_w_m2,
        albedo=albedo_frac,
        model="haydavies",
    )["poa_global"]
    ours = plane_w_m2(day, tilt_deg=tilt_deg, azimuth_deg=azimuth_deg, albedo_frac=albedo_frac)
    assert ours == pytest.approx(np.asarray(expected), abs=1e-9)


@pytest.mark.parametrize("day", DAYS)
def test_a_flat_plane_sees_the_global_irradiance(day):
    flat = plane_w_m2(day, tilt_deg=0.0, azimuth_deg=123.0)
    high = day.sun_elevation_deg > 1.0
    assert flat[high] == pytest.approx(day.ghi_w_m2[high], abs=1e-9)
    assert (flat <= day.ghi_w_m2 + 1e-9).all()


def test_facing_the_equator_pays_in_winter():
    winter = typical_day(shipped_site("phoenix-us"), 12)
    south = plane_w_m2(winter, tilt_deg=60.0, azimuth_deg=180.0).sum()
    north = plane_w_m2(winter, tilt_deg=60.0, azimuth_deg=0.0).sum()
    assert south > 1.2 * winter.ghi_w_m2.sum() > winter.ghi_w_m2.sum() > north


@pytest.mark.parametrize(("tilt_deg", "albedo_frac"), [(-1.0, 0.2), (91.0, 0.2), (10.0, 1.5)])
def test_impossible_planes_are_refused(tilt_deg, albedo_frac):
    with pytest.raises(ClimateError, match="must lie between"):
        plane_w_m2(DAYS[0], tilt_deg=tilt_deg, azimuth_deg=0.0, albedo_frac=albedo_frac)


@pytest.mark.parametrize("wind_m_s", [0.0, 1.0, 6.0])
def test_open_rack_equals_faiman_of_pvlib(wind_m_s):
    irradiance, ambient = np.linspace(0.0, 1200.0, 7), np.linspace(-20.0, 45.0, 7)
    ours = cell_degc(irradiance, ambient, mounting="open-rack", wind_m_s=wind_m_s)
    assert ours == pytest.approx(pvlib.temperature.faiman(irradiance, ambient, wind_m_s), abs=1e-12)


def test_less_air_behind_is_hotter():
    irradiance, ambient = np.array([1000.0]), np.array([25.0])
    rack = cell_degc(irradiance, ambient, mounting="open-rack")[0]
    gap = cell_degc(irradiance, ambient)[0]
    bonded = cell_degc(irradiance, ambient, mounting="roof-bonded")[0]
    assert 25.0 < rack < gap < bonded < 100.0

"""Light on panels: against pvlib end to end, and by hand."""

import dataclasses

import numpy as np
import pandas as pd
import pvlib
import pytest

from ampwright.climate.sources import load_typical_day, shipped_site
from ampwright.energy.frame import frame_of
from ampwright.energy.panels import panel_rows
from ampwright.energy.sunlight import aims, sunlight_w_m2
from ampwright.errors import JobError

SUN = """
[[part]]
id = "bank"
part = "lfp-200"
[[part]]
id = "roof"
part = "{panel}"
{more}
[[part]]
id = "sun"
part = "solar-mp-20"
[[run]]
id = "w1"
start = "roof"
end = "sun.in"
cable = "cable-4"
length_m = 4.0
[[run]]
id = "w2"
start = "bank"
end = "sun.out"
cable = "cable-6"
length_m = 1.5
"""
USE = """
[use]
days = ["rest"]
[[day]]
id = "rest"
"""


@pytest.fixture(scope="module")
def summer():
    return load_typical_day(shipped_site("hamburg-de"), 6)


def framed(design_of, sun, *, panel="panel-200", more="", use=USE, season=""):
    design = design_of(SUN.format(panel=panel, more=more), use=season + use)
    return frame_of(design, sun, np.zeros(len(design.nodes)))


def possible_w(frame):
    (row,) = panel_rows(frame, rest_v=13.0)
    return row.available_w


def by_pvlib(sun, *, tilt, azimuth, watts, loss):
    """Power of a panel by pvlib's functions alone."""
    index = pd.date_range("2021-06-11", periods=sun.ghi_w_m2.size, freq="15min")
    zenith = 90.0 - sun.sun_elevation_deg
    plane = pvlib.irradiance.get_total_irradiance(
        tilt, azimuth, zenith, sun.sun_azimuth_deg, sun.dni_w_m2, sun.ghi_w_m2, sun.dhi_w_m2,
        dni_extra=sun.extra_normal_w_m2, model="haydavies", albedo=0.2,
    )["poa_global"]  # fmt: skip
    plane = np.asarray(plane)
    cell = pvlib.temperature.faiman(plane, sun.ambient_degc, wind_speed=1.0, u0=loss[0], u1=loss[1])
    power = pvlib.pvsystem.pvwatts_dc(plane, cell, watts, -0.0036)
    return np.nan_to_num(np.asarray(pd.Series(power, index=index)))


@pytest.mark.parametrize(
    ("mounting", "loss"),
    [("open-rack", (25.0, 6.84)), ("roof-gap", (19.3, 0.9)), ("roof-bonded", (16.6, 0.8))],
)
def test_a_day_of_a_tilted_panel_agrees_with_pvlib(design_of, summer, mounting, loss):
    frame = framed(
        design_of, summer, more=f'tilt_deg = 20.0\nazimuth_deg = 90.0\npanel = {{ mounting = "{mounting}" }}'
    )
    expected = by_pvlib(summer, tilt=20.0, azimuth=90.0, watts=200.0, loss=loss) * 0.95 * 0.96
    assert possible_w(frame).sum() == pytest.approx(expected.sum(), rel=0.004)


def test_a_bonded_panel_is_hotter_and_gives_less(design_of, summer):
    gap = possible_w(framed(design_of, summer)).sum()
    bonded = possible_w(framed(design_of, summer, more='panel = { mounting = "roof-bonded" }')).sum()
    assert 0.95 * gap < bonded < gap


def test_an_aimed_panel_gets_what_pvlib_says_of_its_aims(design_of, summer):
    frame = framed(design_of, summer, panel="panel-120-portable", more="panel = { aimed_count = 3 }")
    placed = next(part for part in frame.design.parts if part.id == "roof")
    tilt, azimuth = aims(summer, 3)
    expected = by_pvlib(summer, tilt=tilt, azimuth=azimuth, watts=1000.0, loss=(1e9, 0.0))
    warm = 1.0 - 0.0036 * (summer.ambient_degc - 25.0)
    assert sunlight_w_m2(frame, placed) == pytest.approx(expected / warm, abs=2.0)
    assert len(set(zip(tilt[tilt > 0], azimuth[tilt > 0], strict=True))) == 3


def test_aiming_more_often_gains_more(design_of, summer):
    sums = [
        possible_w(
            framed(design_of, summer, panel="panel-120-portable", more=f"panel = {{ aimed_count = {count} }}")
        ).sum()
        for count in (1, 3, 12)
    ]
    assert sums == sorted(sums)
    assert sums[2] > 1.04 * sums[0]


def test_only_a_portable_panel_is_aimed(design_of, summer):
    with pytest.raises(JobError) as told:
        framed(design_of, summer, more="panel = { aimed_count = 3 }")
    assert "only a portable panel" in str(told.value.problems)


def test_place_of_a_panel_on_something_else_is_refused(design_of):
    with pytest.raises(JobError) as told:
        design_of(SUN.format(panel="panel-200", more="").replace('"lfp-200"', '"lfp-200"\npanel = {}'))
    assert "is no panel" in str(told.value.problems)


SHADY = """
[use]
days = ["rest"]
[[day]]
id = "rest"
shade_frac = 0.5
shade = [
  {{ start = "12:00", end = "18:00", shade_frac = 0.8 }},
  {{ start = "22:00", end = "03:00" }},
]
"""


def test_shade_by_the_hour_comes_on_top_of_that_of_the_day(design_of, sun_of):
    sun = sun_of(5.0)
    bright, shady = framed(design_of, sun), framed(design_of, sun, use=SHADY)
    roof = next(part for part in bright.design.parts if part.id == "roof")
    plain, left = sunlight_w_m2(bright, roof), sunlight_w_m2(shady, roof)
    assert left[40:48] == pytest.approx(0.5 * plain[40:48])
    assert left[48:72] == pytest.approx(0.5 * 0.2 * plain[48:72])


def test_a_panel_put_up_in_the_open_keeps_its_sun(design_of, sun_of):
    sun = sun_of(5.0)
    more = "panel = { is_out_of_shade = true }"
    free = framed(design_of, sun, panel="panel-120-portable", more=more, use=SHADY)
    bare = framed(design_of, sun, panel="panel-120-portable")
    assert possible_w(free) == pytest.approx(possible_w(bare))


def with_season(frame, **changed):
    job = frame.design.job
    job = dataclasses.replace(job, season=dataclasses.replace(job.season, **changed))
    return dataclasses.replace(frame, design=dataclasses.replace(frame.design, job=job))


def test_dirt_of_the_month_counts(design_of, sun_of):
    frame = framed(design_of, sun_of(5.0))  # day 80: March
    dusty = with_season(frame, soiling_frac=(0.0, 0.0, 0.2, *[0.0] * 9))
    noon = 48
    # the light on the cells falls, their heat does not
    ratio = possible_w(dusty)[noon] / possible_w(frame)[noon]
    assert ratio == pytest.approx(0.8 * 0.98 / 0.95, rel=1e-6)


def test_snow_lies_on_cold_days_and_not_on_portable_panels(design_of, sun_of):
    sun = sun_of(5.0, low_degc=-6.0, high_degc=2.0)
    cold = {"snow_below_degc": -1.0, "snow_lost_frac": 0.9}
    roof = framed(design_of, sun)
    folding = framed(design_of, sun, panel="panel-120-portable")
    assert possible_w(with_season(roof, **cold)).sum() == pytest.approx(
        0.1 * possible_w(roof).sum(), rel=1e-6
    )
    assert possible_w(with_season(roof, snow_below_degc=-3.0)).sum() == possible_w(roof).sum()
    assert possible_w(with_season(folding, **cold)).sum() == possible_w(folding).sum()


TWO = """
[[part]]
id = "bank"
part = "lfp-200"
[[part]]
id = "east"
part = "panel-200"
tilt_deg = 30.0
azimuth_deg = 90.0
[[part]]
id = "west"
part = "panel-200"
tilt_deg = 30.0
azimuth_deg = 270.0
[[part]]
id = "sun-a"
part = "solar-mp-20"
[[part]]
id = "sun-b"
part = "solar-mp-20"
[[run]]
id = "w1"
start = "east"
end = "sun-a.in"
cable = "cable-4"
length_m = 4.0
[[run]]
id = "w2"
start = "west"
end = "{west}.in"
cable = "cable-4"
length_m = 4.0
[[run]]
id = "w3"
start = "bank"
end = "sun-a.out"
cable = "cable-6"
length_m = 1.5
[[run]]
id = "w4"
start = "bank"
end = "sun-b.out"
cable = "cable-6"
length_m = 1.5
"""


def test_two_controllers_give_what_one_with_both_panels_gives(design_of, summer):
    apart = design_of(TWO.format(west="sun-b"), use=USE)
    rows = panel_rows(frame_of(apart, summer, np.zeros(len(apart.nodes))), rest_v=13.0)
    assert {row.label for row in rows} == {"sun-a", "sun-b"}
    together = design_of(TWO.format(west="sun-a"), use=USE)
    frame = frame_of(together, summer, np.zeros(len(together.nodes)))
    whole = sum(row.available_w for row in panel_rows(frame, rest_v=13.0))
    assert sum(row.available_w for row in rows) == pytest.approx(whole)
    assert rows[0].available_w[:48].sum() > rows[1].available_w[:48].sum()

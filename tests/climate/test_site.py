from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.climate.orbit import monthly_extraterrestrial_kwh_m2_day
from ampwright.climate.site import Site, site_problems, site_warnings


def typed_site(latitude_deg=-42.0, longitude_deg=172.0, clearness=0.5, **changes):
    ghi = tuple(
        clearness * monthly_extraterrestrial_kwh_m2_day(latitude_deg, month) for month in range(1, 13)
    )
    site = Site(
        id="my-camp",
        name="My camp",
        country="NZL",
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        ghi_kwh_m2_day=ghi,
        max_degc=(20.0,) * 12,
        min_degc=(10.0,) * 12,
        source="typed",
    )
    return replace(site, **changes)


def month_changed(values, month, value):
    return (*values[: month - 1], value, *values[month:])


def test_a_sound_typed_site_has_neither_problems_nor_warnings():
    site = typed_site()
    assert site_problems(site) == ()
    assert site_warnings(site) == ()


@pytest.mark.parametrize(
    ("longitude_deg", "offset_h"), [(172.0, 11.0), (-0.1, 0.0), (7.6, 1.0), (-180.0, -12.0)]
)
def test_clock_offset_follows_the_longitude_unless_given(longitude_deg, offset_h):
    assert typed_site(longitude_deg=longitude_deg).clock_offset_h == offset_h
    assert typed_site(longitude_deg=longitude_deg, utc_offset_h=5.5).clock_offset_h == 5.5


def test_more_sun_than_reaches_the_air_is_impossible_and_the_limit_is_said():
    site = typed_site(latitude_deg=60.0, longitude_deg=10.0)
    limit = monthly_extraterrestrial_kwh_m2_day(60.0, 12)
    site = replace(site, ghi_kwh_m2_day=month_changed(site.ghi_kwh_m2_day, 12, 3.2))
    (problem,) = site_problems(site)
    assert "December" in problem
    assert "3.2" in problem
    assert f"{limit:.2f}" in problem


def test_polar_night_allows_no_sunshine():
    dark = typed_site(latitude_deg=80.0, longitude_deg=15.0)
    assert site_problems(dark) == ()
    lit = replace(dark, ghi_kwh_m2_day=month_changed(dark.ghi_kwh_m2_day, 12, 0.1))
    assert "December" in site_problems(lit)[0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"id": "My Camp"}, "lower case"),
        ({"id": "camp--1"}, "lower case"),
        ({"latitude_deg": 91.0}, "latitude_deg"),
        ({"longitude_deg": 200.0}, "longitude_deg"),
        ({"longitude_deg": float("nan"), "utc_offset_h": 0.0}, "longitude_deg"),
        ({"elevation_m": 12_000.0}, "elevation_m"),
        ({"utc_offset_h": 24.0}, "utc_offset_h"),
        ({"ghi_kwh_m2_day": (1.0,) * 11}, "11 numbers"),
        ({"max_degc": ()}, "0 numbers"),
        ({"min_degc": (float("nan"),) * 12}, "not finite"),
        ({"ghi_kwh_m2_day": (-1.0,) + (2.0,) * 11}, "negative"),
        ({"max_degc": (5.0,) + (20.0,) * 11}, "below min_degc"),
        ({"max_degc": (75.0,) + (20.0,) * 11}, "degrees Celsius"),
    ],
)
def test_each_impossible_figure_is_named(changes, words):
    problems = site_problems(typed_site(**changes))
    assert any(words in problem for problem in problems)


def test_all_months_are_reported_at_once():
    site = typed_site(ghi_kwh_m2_day=(99.0,) * 12)
    assert len(site_problems(site)) == 12


@pytest.mark.parametrize("clearness", [0.05, 0.9])
def test_odd_clearness_is_a_warning_not_a_problem(clearness):
    site = typed_site(clearness=clearness)
    assert site_problems(site) == ()
    assert sum("ghi_kwh_m2_day" in text for text in site_warnings(site)) == 12


def test_figures_of_the_other_hemisphere_are_noticed():
    south = typed_site(latitude_deg=-42.0)
    mirrored = replace(south, latitude_deg=42.0, ghi_kwh_m2_day=tuple(0.4 * g for g in south.ghi_kwh_m2_day))
    assert any("hemisphere" in text for text in site_warnings(mirrored))


def test_a_longitude_with_the_wrong_sign_is_noticed():
    assert any(
        "longitude" in text for text in site_warnings(typed_site(longitude_deg=-172.0, utc_offset_h=12.0))
    )


@given(latitude_deg=st.floats(-90.0, 90.0), clearness=st.floats(0.11, 0.84))
def test_any_latitude_can_be_typed(latitude_deg, clearness):
    site = typed_site(latitude_deg=latitude_deg, longitude_deg=0.0, clearness=clearness)
    assert site_problems(site) == ()
    assert site_warnings(site) == ()

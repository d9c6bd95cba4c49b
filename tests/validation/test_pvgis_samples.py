"""Hourly series as PVGIS gave them out, short samples.

PVGIS (c) European Union, 2001-2021, reuse with the source named; the samples as distributed in the tests of pvlib (BSD-3):
pvgis_hourly_Timeseries_45.000_8.000_SA_30deg_0deg_2016_2016.csv and pvgis_hourly_Timeseries_45.000_8.000_CM_10kWp_CIS_5_2a_2013_2014.json
(its first hours; its explanations in "meta" left out). Expected values are read off the samples.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from ampwright.climate.pvgis_text import looks_like_pvgis, pvgis_rows
from ampwright.climate.sources import read_year_files
from ampwright.errors import JobError

CSV = Path(__file__).parent / "data" / "pvgis_hourly_2016.csv"
TWO_AXIS = Path(__file__).parent / "data" / "pvgis_hourly_two_axis_2013.json"


def level(text):
    """Return the sample with the plane level: nothing else of the layout depends on it."""
    return text.replace("Slope: 30 deg.", "Slope: 0 deg.")


def test_a_published_series_is_read_with_its_own_minute_and_marks():
    text = level(CSV.read_text(encoding="utf-8"))
    assert looks_like_pvgis(text)
    rows = pvgis_rows(text, CSV.name)
    assert (rows.spot.latitude_deg, rows.spot.longitude_deg, rows.spot.elevation_m) == (45.0, 8.0, 250.0)
    assert rows.is_utc
    assert rows.middle[0] == np.datetime64("2016-01-01T00:10:00")
    assert rows.middle[-1] == np.datetime64("2016-01-01T13:10:00")
    assert rows.ghi_w_m2[8] == pytest.approx(26.71 + 8.28)
    assert rows.dhi_w_m2[[8, 12]].tolist() == [8.28, 1.88]
    assert rows.ambient_degc[[0, 13]].tolist() == [3.44, 7.43]
    lines = text.split("\n")
    assert lines[rows.lines[8] - 1].startswith("20160101:0810,26.71")
    assert rows.notes == (f"{CSV.name}: 5 hours of sun were reconstructed by PVGIS-SARAH",)


def test_a_series_of_a_few_hours_lies_in_its_year_on_the_clock_of_the_place(tmp_path):
    file = tmp_path / "year.csv"
    file.write_text(level(CSV.read_text(encoding="utf-8")), encoding="utf-8")
    (hours,) = read_year_files((file,), None)
    # 00:10 UTC is 01:10 by the clock of 8 deg E (an hour ahead); days are counted in years of 365
    assert hours.first_day == 2016 * 365
    assert hours.middle_h == pytest.approx(1 + 10 / 60)
    assert hours.ghi_w_m2.size == 14


def test_line_ends_of_other_systems_are_read(tmp_path):
    file = tmp_path / "year.csv"
    file.write_bytes(level(CSV.read_text(encoding="utf-8")).replace("\n", "\r\n").encode())
    (hours,) = read_year_files((file,), None)
    assert hours.ghi_w_m2[12] == pytest.approx(4.25 + 1.88)


def test_the_sloped_plane_of_the_published_series_is_refused():
    with pytest.raises(JobError) as caught:
        pvgis_rows(CSV.read_text(encoding="utf-8"), CSV.name)
    assert "a plane of 30 deg; download the hourly data with slope 0" in caught.value.problems[0].message


def test_a_published_series_of_a_tracker_is_refused():
    text = TWO_AXIS.read_text(encoding="utf-8")
    assert looks_like_pvgis(text)
    with pytest.raises(JobError) as caught:
        pvgis_rows(text, TWO_AXIS.name)
    assert (
        "it names no slope of a fixed plane; download the hourly data with slope 0"
        in caught.value.problems[0].message
    )


def test_the_same_series_of_a_fixed_plane_is_read_with_its_power_ignored():
    raw = json.loads(TWO_AXIS.read_text(encoding="utf-8"))
    raw["inputs"]["mounting_system"] = {"fixed": {"slope": {"value": 0, "optimal": False}}}
    rows = pvgis_rows(json.dumps(raw), "x.json")
    assert rows.middle[0] == np.datetime64("2013-01-01T00:55:00")
    assert rows.ghi_w_m2[7:9] == pytest.approx([270.35 + 91.27, 80.76 + 83.95])
    assert rows.notes == ()

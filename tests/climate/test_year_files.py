"""Hourly files of many years become runs of weather: held against the reader of single years and by hand."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path

import numpy as np
import pvlib
import pytest
from tests.climate.hour_files import pvgis_csv, pvgis_json, stamps, table

from ampwright.climate.hour_rows import Spot
from ampwright.climate.hourly import site_of_hours
from ampwright.climate.orbit import day_of_year
from ampwright.climate.real_years import cycled, real_weather
from ampwright.climate.sources import load_sun_angles, read_tmy3, read_year_files
from ampwright.climate.weather import real_days
from ampwright.errors import ClimateError, JobError

TMY3 = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
GREENSBORO = Spot(36.1, -79.95, 273.0, -5.0)
NO_WEATHER = (
    "d.csv: cannot be used as weather: it is no hourly series of PVGIS or NSRDB, no EPW, no TMY3 and no table with a column "
    "time. See docs/climate.md for the columns of a plain table."
)
WINDOW = {"start_day": day_of_year(7, 1), "day_count": 14}


@cache
def greensboro():
    return read_tmy3(TMY3)


@pytest.fixture(autouse=True)
def no_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(tmp_path / "cache"))


@pytest.fixture
def written(tmp_path):
    def write(**texts):
        for name, text in texts.items():
            (tmp_path / name.replace("_", ".")).write_text(text, encoding="utf-8")
        return tuple(tmp_path / name.replace("_", ".") for name in texts)

    return write


def hours_of(years, *, scale=(1.0,)):
    """Return the hours of a typical year laid over years on end, each scaled, 29 February doubled from the 28th."""
    ghi, dhi, air = [], [], []
    for position, year in enumerate(years):
        factor = scale[position % len(scale)]
        rows = np.arange(8760)
        if year % 4 == 0:
            rows = np.concatenate([rows[: 59 * 24], rows[58 * 24 : 59 * 24], rows[59 * 24 :]])
        ghi.append(factor * greensboro().ghi_w_m2[rows])
        dhi.append(factor * greensboro().dhi_w_m2[rows])
        air.append(greensboro().ambient_degc[rows])
    return np.concatenate(ghi), np.concatenate(dhi), np.concatenate(air)


def weather(files, spot=GREENSBORO, window=WINDOW):
    hours = read_year_files(files, spot)
    site = site_of_hours(hours)
    return real_weather(hours, site, load_sun_angles(site, **window), **window)


def single(window=WINDOW):
    return real_days(greensboro(), first_month=7, first_day=1, day_count=window["day_count"])


def test_three_years_of_pvgis_are_three_runs_with_the_suns_of_their_years(written):
    # the same hours as the TMY3 file, its year scaled by 0.5 and 0.75: the reader of single years is the reference
    ghi, dhi, air = hours_of((2015, 2016, 2017), scale=(1.0, 0.5, 0.75))
    times = stamps("2015-01-01T05:30", ghi.size)  # 0:30 at UTC-5
    found = weather(written(years_csv=pvgis_csv(times, ghi - dhi, dhi, air)))
    assert found.labels == ("2015", "2016", "2017")
    assert not found.left_out
    reference = single()
    for member, factor in zip(found.ensemble.members(), (1.0, 0.5, 0.75), strict=True):
        assert member.ghi_w_m2 == pytest.approx(factor * reference.ghi_w_m2, abs=1e-9)
        assert member.sun_elevation_deg == pytest.approx(reference.sun_elevation_deg, abs=1e-9)
    assert found.ensemble.member(0).dni_w_m2 == pytest.approx(reference.dni_w_m2, abs=1e-9)
    # PVGIS states the air at its time, half past; TMY3 at the end of the hour, half an hour later
    assert found.ensemble.ambient_degc[0][:-2] == pytest.approx(reference.ambient_degc[2:], abs=1e-9)


def test_daily_figures_are_those_of_the_hours(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01T05:30", ghi.size)
    found = weather(written(years_csv=pvgis_csv(times, ghi - dhi, dhi, air)))
    first = 24 * (WINDOW["start_day"] - 1)
    sums = ghi[first : first + 24 * 14].reshape(14, 24).sum(axis=1) / 1000.0
    assert found.ensemble.daily.irradiation_kwh_m2_day[0] == pytest.approx(sums, rel=1e-9)
    assert found.ensemble.daily.max_degc[0].max() <= air.max()
    assert (found.ensemble.daily.clearness_frac < 0.85).all()


def test_monthly_figures_are_means_of_the_whole_days_of_all_years(written):
    ghi, dhi, air = hours_of((2015, 2016), scale=(1.0, 0.5))
    times = stamps("2015-01-01T05:30", ghi.size)
    site = site_of_hours(
        read_year_files(written(years_csv=pvgis_csv(times, ghi - dhi, dhi, air)), GREENSBORO)
    )
    wanted = [0.75 * mean for mean in greensboro().site.ghi_kwh_m2_day]
    assert site.ghi_kwh_m2_day == pytest.approx(wanted, rel=1e-9)
    assert site.max_degc == pytest.approx(greensboro().site.max_degc, rel=1e-9)


def test_a_window_over_new_year_goes_on_into_the_next_year(written):
    ghi, dhi, air = hours_of((2015, 2016, 2017), scale=(1.0, 0.5, 0.0))
    times = stamps("2015-01-01T05:30", ghi.size)
    window = {"start_day": day_of_year(12, 31), "day_count": 2}
    found = weather(written(years_csv=pvgis_csv(times, ghi - dhi, dhi, air)), window=window)
    assert found.labels == ("2015", "2016")
    new_year = greensboro().ghi_w_m2[:24].sum() / 1000.0
    assert found.ensemble.daily.irradiation_kwh_m2_day[:, 1] == pytest.approx([0.5 * new_year, 0.0])
    assert [text.partition(":")[0] for text in found.left_out] == ["2017"]


def test_files_of_one_year_each_are_joined(written):
    parts = {}
    for year in (2015, 2016):
        ghi, dhi, air = hours_of((year,))
        times = stamps(f"{year}-01-01", ghi.size)
        parts[f"y{year}_csv"] = table(times, ghi, air, dhi)
    found = weather(written(**parts))
    assert found.labels == ("2015", "2016")
    for member in found.ensemble.members():
        assert member.ghi_w_m2 == pytest.approx(single().ghi_w_m2, abs=1e-9)


def test_a_year_between_that_is_in_no_file_is_no_gap(written):
    parts = {}
    for year in (2013, 2015):
        ghi, dhi, air = hours_of((year,))
        parts[f"y{year}_csv"] = table(stamps(f"{year}-01-01", ghi.size), ghi, air, dhi)
    found = weather(written(**parts))
    assert (found.labels, found.left_out) == (("2013", "2015"), ())


def test_a_gap_by_day_leaves_the_year_out_and_one_by_night_of_the_sun_does_not(written):
    ghi, dhi, air = hours_of((2013, 2014, 2015))
    noon, midnight = 24 * (WINDOW["start_day"] + 3) + 12, 24 * (WINDOW["start_day"] + 3)
    ghi[noon] = np.nan
    ghi[8760 + midnight] = np.nan
    air[2 * 8760 + midnight : 2 * 8760 + midnight + 3] = np.nan
    times = stamps("2013-01-01", ghi.size)
    found = weather(written(years_csv=table(times, ghi, air, dhi)))
    assert found.labels == ("2014",)
    assert found.left_out == (
        "2013: 1 h missing",
        "2015: 4 h missing",
    )  # the air also half an hour before and after
    assert np.isfinite(found.ensemble.ghi_w_m2).all()


def test_rows_that_are_not_there_are_gaps_as_well(written):
    ghi, dhi, air = hours_of((2014, 2015))
    times = stamps("2014-01-01", ghi.size)
    keep = np.ones(ghi.size, bool)
    keep[24 * WINDOW["start_day"] + 10] = False
    kept = [when for when, is_kept in zip(times, keep, strict=True) if is_kept]
    found = weather(written(years_csv=table(kept, ghi[keep], air[keep], dhi[keep])))
    assert found.labels == ("2015",)
    assert found.left_out[0].startswith("2014: ")


def test_without_a_diffuse_part_the_split_is_erbs_and_said(written):
    ghi, _, air = hours_of((2015,))
    times = stamps("2015-01-01T05:30", ghi.size)
    found = weather(written(years_json=pvgis_json(times, ghi, air)))
    assert "no diffuse part" in found.notes[0]
    member = found.ensemble.member(0)
    zenith = 90.0 - member.sun_elevation_deg
    days = np.repeat(np.arange(14) + WINDOW["start_day"], 96).astype(float)
    erbs = pvlib.irradiance.erbs(member.ghi_w_m2, zenith, days)["dni"]
    high = member.sun_elevation_deg > 10.0
    assert member.dni_w_m2[high].sum() == pytest.approx(erbs[high].sum(), rel=0.01)


def test_a_typical_year_is_one_run_named_by_its_file():
    found = weather((TMY3,))
    assert found.labels == ("723170TYA.CSV",)
    assert found.ensemble.member(0).ghi_w_m2 == pytest.approx(single().ghi_w_m2, abs=1e-9)
    assert found.ensemble.member(0).ambient_degc == pytest.approx(single().ambient_degc, abs=1e-9)


def test_half_hour_clocks_keep_the_energy(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2014-12-31T18:30", ghi.size)
    text = pvgis_csv(times, ghi - dhi, dhi, air, latitude=20.0, longitude=80.0)
    spot = Spot(20.0, 80.0, 273.0, 5.5)
    found = weather(written(years_csv=text), spot=spot)
    first = 24 * (WINDOW["start_day"] - 1)
    assert found.ensemble.ghi_w_m2.mean() == pytest.approx(ghi[first : first + 24 * 14].mean(), rel=0.002)


def test_cycled_runs_take_the_years_by_turns():
    one = weather((TMY3,)).ensemble
    assert (cycled(one, 3).ghi_w_m2 == one.ghi_w_m2).all()
    assert cycled(one, 3).member_count == 3
    assert cycled(one, 3).daily.max_degc.shape == (3, 14)


def test_semicolons_with_decimal_commas_and_remarks_are_read(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", ghi.size)
    text = "# measured on the roof\n" + table(times, ghi, air, dhi, mark=";", comma=True)
    found = weather(written(years_csv=text))
    assert found.ensemble.member(0).ghi_w_m2 == pytest.approx(single().ghi_w_m2, abs=1e-9)


def problems(files, spot=GREENSBORO):
    with pytest.raises(JobError) as caught:
        read_year_files(files, spot)
    return [str(one) for one in caught.value.problems]


def test_everything_wrong_in_all_files_is_told_at_once(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", 48)
    lines = table(times, ghi[:48], air[:48]).split("\n")
    lines[3] = lines[3].replace("T02", "T2 ")
    lines[5] = "2015-01-01T04:00:00,dark,3.0"
    lines[6] = "2015-01-01T05:00:00,1600,99"
    sloped = pvgis_csv(times, ghi[:48], dhi[:48], air[:48], slope=35)
    far = pvgis_csv(times, ghi[:48], dhi[:48], air[:48], latitude=40.0)
    said = problems(written(a_csv="\n".join(lines), b_csv=sloped, c_csv=far, d_csv="nothing\n1\n"))
    assert said == [
        "line 4: a.csv > time: '2015-01-01T2 :00:00' is no time; write it like 2015-07-31T14:00",
        "line 6: a.csv > ghi_w_m2: 'dark' is no number; leave the cell empty where it is missing",
        "line 7: a.csv > ghi_w_m2: 1600 lies outside -10 to 1500; leave it empty if it is missing",
        "line 7: a.csv > ambient_degc: 99 lies outside -90 to 70; leave it empty if it is missing",
        "b.csv > Slope: a plane of 35 deg; download the hourly data with slope 0 and the radiation components",
        NO_WEATHER,
        "c.csv: its place lies 434 km from that of the job; use a file from within 100 km",
    ]


def test_malformed_lines_of_pvgis_are_named(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", 48)
    text = pvgis_csv(times, ghi[:48], dhi[:48], air[:48]).replace("20150101:0300", "2015-01-01 3h")
    text = text.replace("20150101:0500,0.0,", "20150101:0500,n/a,")
    said = problems(written(a_csv=text))
    assert said == [
        "line 13: a.csv > time: '2015-01-01 3h' is no time like 20150731:1411; download it again",
        "line 15: a.csv > Gb(i): 'n/a' is no number; download it again",
    ]


def test_summer_time_and_uneven_minutes_are_refused(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", 48)
    twice = [*times[:30], *times[29:47]]
    (said,) = problems(written(a_csv=table(twice, ghi[:48], air[:48], dhi[:48])))
    assert said.startswith("line 32: a.csv > time: this hour stands twice")
    times[7] = times[7] + dt.timedelta(minutes=10)
    (said,) = problems(written(a_csv=table(times, ghi[:48], air[:48], dhi[:48])))
    assert said.startswith("line 9: a.csv > time: not at the same minute as the first row")


def test_many_mistakes_are_counted(written):
    times = stamps("2015-01-01", 100)
    text = table(times, np.full(100, 2000.0), np.zeros(100))
    said = problems(written(a_csv=text))
    assert len(said) == 21
    assert said[-1] == "a.csv: 80 more of this kind; mend those above first"


def test_a_table_needs_a_place_and_its_columns(written):
    times = stamps("2015-01-01", 48)
    (path,) = written(a_csv=table(times, np.zeros(48), np.zeros(48)))
    (said,) = problems((path,), spot=None)
    assert said.startswith("place: a plain table does not say where it is from")
    (said,) = problems(written(b_csv="time,ghi_w_m2\n"))
    assert said.startswith("line 1: b.csv: columns ambient_degc are missing")
    (said,) = problems(written(c_csv="time,ghi_w_m2,ambient_degc\n"))
    assert said.startswith("line 1: c.csv > time: 0 hours; at least one day is needed")


def test_a_lost_file_is_one_of_the_problems(tmp_path):
    (said,) = problems((tmp_path / "lost.csv",))
    assert said.startswith("lost.csv: cannot be used as weather")


def test_no_whole_window_and_no_whole_month_are_refused(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", 24 * 31)
    files = written(a_csv=table(times, ghi[: 24 * 31], air[: 24 * 31], dhi[: 24 * 31]))
    hours = read_year_files(files, GREENSBORO)
    with pytest.raises(ClimateError, match="no whole day in February, March"):
        site_of_hours(hours)
    site = greensboro().site
    with pytest.raises(ClimateError, match="no year has the 14 days of the use whole"):
        real_weather(hours, site, load_sun_angles(site, **WINDOW), **WINDOW)


def test_a_changed_file_is_read_again(written):
    ghi, dhi, air = hours_of((2015,))
    times = stamps("2015-01-01", ghi.size)
    files = written(a_csv=table(times, ghi, air, dhi))
    before = read_year_files(files, GREENSBORO)
    assert read_year_files(files, GREENSBORO) is before
    written(a_csv=table(times, 0.5 * ghi, air, dhi))
    assert read_year_files(files, GREENSBORO)[0].ghi_w_m2.sum() == pytest.approx(0.5 * ghi.sum())

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import numpy as np
import pvlib
import pytest

from ampwright.climate.series import SERIES_ARRAYS
from ampwright.climate.site import site_problems, site_warnings
from ampwright.climate.sources import (
    cache_directory,
    load_typical_day,
    read_epw,
    read_tmy3,
    shipped_site,
    shipped_sites,
)
from ampwright.climate.sun import typical_day
from ampwright.errors import ClimateError

DATA = Path(pvlib.__file__).parent / "data"
TMY3 = DATA / "703165TY.csv"


@pytest.fixture
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(tmp_path / "cache"))
    return tmp_path / "cache"


def epw_text(city="Sand Point", *, leap=False, first_ghi=None):
    """The hours of a TMY3 file in the columns of EPW (EnergyPlus Auxiliary Programs, EPW data dictionary)."""
    frame, header = pvlib.iotools.read_tmy3(TMY3, coerce_year=2023)
    place = (
        f"LOCATION,{city},AK,USA,TMY3,703165,{header['latitude']},{header['longitude']},{header['TZ']},7.0"
    )
    lines = [
        place,
        *(f"COMMENT {number}" for number in range(1, 7)),
        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
    ]
    columns = ("temp_air", "ghi", "dni", "dhi")
    values = [frame[name].to_numpy() for name in columns]
    stamps = [(month, day, hour) for month, day, hour in stamps_of_year(leap=leap)]
    for row, (month, day, hour) in enumerate(stamps):
        temp, ghi, dni, dhi = (column[row % 8760] for column in values)
        if row == 0 and first_ghi is not None:
            ghi = first_ghi
        fields = [
            2023 if not leap else 2024,
            month,
            day,
            hour + 1,
            60,
            "?9",
            temp,
            0.0,
            50,
            101300,
            0,
            0,
            300,
        ]
        fields += [
            ghi,
            dni,
            dhi,
            0,
            0,
            0,
            0,
            0,
            1.0,
            5,
            5,
            10.0,
            77777,
            9,
            999999999,
            0,
            0.1,
            0,
            0,
            0.2,
            0.0,
            1.0,
        ]
        lines.append(",".join(str(field) for field in fields))
    return "\n".join(lines) + "\n"


def stamps_of_year(*, leap):
    days = (31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    for month, count in enumerate(days, start=1):
        for day in range(1, count + 1):
            yield from ((month, day, hour) for hour in range(24))


def write(path, text, encoding="utf-8"):
    path.write_bytes(text.encode(encoding))
    return path


def test_every_shipped_place_is_sound():
    sites = shipped_sites()
    assert len(sites) > 100
    for site_id, site in sites.items():
        assert site.id == site_id
        assert site_problems(site) == ()
        assert site_warnings(site) == ()
        assert site.source
        assert site.licence


def test_shipped_places_lie_on_both_sides_of_the_equator():
    latitudes = [site.latitude_deg for site in shipped_sites().values()]
    assert min(latitudes) < -35.0
    assert max(latitudes) > 60.0


def test_every_licence_in_the_table_is_explained_in_its_heading():
    text = files("ampwright.climate").joinpath("data/sites.csv").read_text(encoding="utf-8")
    heading = "".join(line for line in text.splitlines(keepends=True) if line.startswith("#"))
    for name in {site.licence.partition(":")[0] for site in shipped_sites().values()}:
        assert f"#   {name} " in heading


def test_every_shipped_place_is_listed_in_the_docs():
    page = (Path(__file__).parents[2] / "docs" / "climate.md").read_text(encoding="utf-8")
    assert [site_id for site_id in shipped_sites() if f"`{site_id}`" not in page] == []


def test_the_mapping_cannot_be_changed():
    with pytest.raises(TypeError):
        shipped_sites()["new"] = shipped_site("hamburg-de")


def test_an_unknown_place_is_answered_with_the_nearest_names():
    with pytest.raises(ClimateError, match="hamburg-de"):
        shipped_site("Hamburg")
    with pytest.raises(ClimateError, match="12 monthly figures"):
        shipped_site("zzzzzz")


def test_cache_directory_is_chosen_by_the_environment(cache, monkeypatch):
    assert cache_directory() == cache
    monkeypatch.delenv("AMPWRIGHT_CACHE_DIR")
    assert "ampwright" in str(cache_directory())


def test_a_cached_day_is_the_day_itself(cache):
    site = shipped_site("kassel-de")
    fresh, made, again = typical_day(site, 4), load_typical_day(site, 4), load_typical_day(site, 4)
    assert len(list(cache.iterdir())) == 1
    for name in SERIES_ARRAYS:
        assert np.array_equal(getattr(made, name), getattr(fresh, name))
        assert np.array_equal(getattr(again, name), getattr(fresh, name))
    assert (again.start_day, again.day_count, again.steps_per_day) == (fresh.start_day, 1, 96)


def test_other_figures_are_another_cached_day(cache):
    site = shipped_site("kassel-de")
    load_typical_day(site, 4)
    warmer = replace(site, max_degc=tuple(value + 1.0 for value in site.max_degc))
    assert load_typical_day(warmer, 4).ambient_degc.max() == warmer.max_degc[3]
    load_typical_day(site, 4, step_minutes=30)
    load_typical_day(replace(site, name="renamed"), 4)
    assert len(list(cache.iterdir())) == 3


@pytest.mark.parametrize("damage", ["empty", "cut", "text", "flipped", "other arrays"])
def test_a_damaged_cache_is_made_anew(cache, damage):
    site = shipped_site("kassel-de")
    good = load_typical_day(site, 4)
    (file,) = cache.iterdir()
    content = file.read_bytes()
    if damage == "other arrays":
        np.savez(file, counts=np.array([1, 1, 96]), ghi_w_m2=np.zeros(96))
    else:
        middle = len(content) // 2
        file.write_bytes(
            {
                "empty": b"",
                "cut": content[:middle],
                "text": b"not an archive",
                "flipped": content[:middle] + bytes([content[middle] ^ 0xFF]) + content[middle + 1 :],
            }[damage]
        )
    again = load_typical_day(site, 4)
    assert np.array_equal(again.ghi_w_m2, good.ghi_w_m2)
    with np.load(file) as stored:
        assert np.array_equal(stored["ghi_w_m2"], good.ghi_w_m2)


def test_a_cache_that_cannot_be_written_costs_only_time(tmp_path, monkeypatch):
    blocker = tmp_path / "file"
    blocker.write_text("in the way")
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(blocker / "cache"))
    assert load_typical_day(shipped_site("kassel-de"), 4).day_count == 1


def test_a_cached_day_needs_neither_pvlib_nor_pandas(cache):
    load_typical_day(shipped_site("kassel-de"), 4)
    program = (
        "import json, sys\n"
        "from ampwright.climate import load_typical_day, plane_w_m2, shipped_site\n"
        "site = shipped_site('kassel-de')\n"
        "day = load_typical_day(site, 4)\n"
        "plane_w_m2(day, tilt_deg=10.0, azimuth_deg=180.0)\n"
        "heavy = [name for name in ('pvlib', 'pandas', 'scipy', 'h5py') if name in sys.modules]\n"
        "print(json.dumps(heavy))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, "AMPWRIGHT_CACHE_DIR": str(cache)},
    )
    assert json.loads(done.stdout) == []


def test_tmy3_is_read_with_its_place():
    year = read_tmy3(TMY3)
    assert (year.site.latitude_deg, year.site.longitude_deg) == (55.317, -160.517)
    assert (year.site.elevation_m, year.site.utc_offset_h) == (7.0, -9.0)
    assert year.site.name == "SAND POINT AK"
    assert site_problems(year.site) == ()


def test_epw_gives_the_year_it_was_written_from(tmp_path):
    year, origin = read_epw(write(tmp_path / "place.epw", epw_text())), read_tmy3(TMY3)
    assert year.ghi_w_m2 == pytest.approx(origin.ghi_w_m2)
    assert year.dhi_w_m2 == pytest.approx(origin.dhi_w_m2)
    assert year.ambient_degc == pytest.approx(origin.ambient_degc)
    assert year.site.ghi_kwh_m2_day == pytest.approx(origin.site.ghi_kwh_m2_day)
    assert (year.site.id, year.site.country, year.site.utc_offset_h) == ("sand-point-ak", "USA", -9.0)
    assert "place.epw" in year.site.source


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1"])
def test_accents_in_the_place_are_read_in_either_encoding(tmp_path, encoding):
    year = read_epw(write(tmp_path / "place.epw", epw_text("Málaga"), encoding))
    assert year.site.name == "Málaga AK"


def test_windows_line_ends_are_read(tmp_path):
    year = read_epw(write(tmp_path / "place.epw", epw_text().replace("\n", "\r\n")))
    assert year.site.name == "Sand Point AK"


def test_the_leap_day_is_left_out(tmp_path):
    year = read_epw(write(tmp_path / "leap.epw", epw_text(leap=True)))
    assert year.ghi_w_m2.shape == (8760,)


def bad_file(folder, kind):
    lines = epw_text().splitlines(keepends=True)
    path = folder / "weather.epw"
    content = {
        "utf-16": "".join(lines).encode("utf-16"),
        "binary": bytes(range(256)) * 40,
        "empty": b"",
        "a table of something else": b"name,price\nlamp,3\n",
        "cut in the middle of the year": "".join(lines[:5000]).encode(),
        "cut in a line": "".join(lines).encode()[:-400],
        "heading only": lines[0].encode(),
        "heading without numbers": (lines[0].replace("55.317", "north") + "".join(lines[1:])).encode(),
        "words for hours": "".join([*lines[:8], "a,b,c\n" * 8760]).encode(),
        "hours out of order": "".join([*lines[:8], *reversed(lines[8:])]).encode(),
        "a gap": epw_text(first_ghi=9999).encode(),
    }[kind]
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    "kind",
    [
        "utf-16",
        "binary",
        "empty",
        "a table of something else",
        "cut in the middle of the year",
        "cut in a line",
        "heading only",
        "heading without numbers",
        "words for hours",
        "hours out of order",
        "a gap",
    ],
)
def test_bad_files_are_refused_with_name_reason_and_remedy(tmp_path, kind):
    with pytest.raises(ClimateError, match=r"^weather\.epw: cannot be used as weather: .+\. [A-Z].+\.$"):
        read_epw(bad_file(tmp_path, kind))


def test_a_huge_file_is_refused_unread(tmp_path):
    path = tmp_path / "huge.epw"
    with path.open("wb") as stream:
        stream.truncate(100_000_000)
    with pytest.raises(ClimateError, match="100 MB"):
        read_epw(path)


def test_a_missing_file_and_a_folder_are_refused(tmp_path):
    with pytest.raises(ClimateError, match=r"none\.epw"):
        read_epw(tmp_path / "none.epw")
    with pytest.raises(ClimateError, match="permission"):
        read_tmy3(tmp_path)


def test_the_wrong_reader_is_refused(tmp_path):
    with pytest.raises(ClimateError, match="LOCATION"):
        read_epw(TMY3)
    with pytest.raises(ClimateError, match="TMY3 heading"):
        read_tmy3(write(tmp_path / "place.epw", epw_text()))


def test_a_cut_tmy3_file_is_refused(tmp_path):
    text = TMY3.read_text(encoding="utf-8")
    with pytest.raises(ClimateError, match="hours"):
        read_tmy3(write(tmp_path / "cut.csv", "".join(text.splitlines(keepends=True)[:3000])))
    with pytest.raises(ClimateError, match="malformed"):
        read_tmy3(write(tmp_path / "head.csv", "".join(text.splitlines(keepends=True)[:2])))

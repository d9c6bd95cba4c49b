"""Half-hours of the National Solar Radiation Database, PSM 4, as it gave them out; a short sample.

National Renewable Energy Laboratory, NSRDB, free to the public; first morning of test_read_psm4.csv as distributed in the tests of pvlib
(BSD-3). Expected values are read off the sample.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from ampwright.climate.nsrdb_text import looks_like_nsrdb, nsrdb_rows
from ampwright.climate.sources import read_year_files
from ampwright.errors import JobError

FILE = Path(__file__).parent / "data" / "nsrdb_psm4_2023.csv"
TEXT = FILE.read_text(encoding="utf-8")
HOURLY = "".join(line for line in TEXT.splitlines(keepends=True) if ",30," not in line[:16])


def problems_of(text):
    with pytest.raises(JobError) as caught:
        nsrdb_rows(text, "x.csv")
    return caught.value.problems


def test_half_hours_become_hours_around_the_quarter_past():
    assert looks_like_nsrdb(TEXT)
    rows = nsrdb_rows(TEXT, "x.csv")
    assert rows.spot == (40.53, -108.54, 2168.0, -7.0)
    # 08:00 and 08:30 at seven hours behind UTC
    assert rows.middle[0] == np.datetime64("2023-01-01T15:15:00")
    assert rows.ghi_w_m2.tolist() == [(13 + 33) / 2, (29 + 44) / 2, (99 + 133) / 2, (174 + 176) / 2]
    assert rows.dhi_w_m2[3] == (166 + 169) / 2
    assert rows.ambient_degc == pytest.approx([-0.3, 0.6, 1.35, 2.05])
    assert TEXT.split("\n")[rows.lines[1] - 1].startswith("2023,1,1,9,0,")
    assert rows.notes == ("x.csv: 2 values of sun were filled by the data base (Fill Flag)",)


def test_hours_keep_their_own_minute():
    rows = nsrdb_rows(HOURLY, "x.csv")
    assert rows.middle[0] == np.datetime64("2023-01-01T15:00:00")
    assert rows.ghi_w_m2.tolist() == [13.0, 29.0, 99.0, 174.0]


def test_it_is_known_among_files_of_real_years_and_lies_on_the_clock_of_the_place():
    (hours,) = read_year_files((FILE,), None)
    assert hours.first_day == 2023 * 365
    assert hours.middle_h == pytest.approx(8.25)
    assert (hours.latitude_deg, hours.utc_offset_h, hours.elevation_m) == (40.53, -7.0, 2168.0)


def test_what_is_wrong_is_named_with_its_line():
    (gone,) = problems_of(TEXT.replace(",GHI,Ozone", ",GHJ,Ozone"))
    assert (gone.line, gone.message) == (
        3,
        "no column GHI; download it again with GHI, DHI and Temperature",
    )
    (far,) = problems_of(TEXT.replace(",133,0.292", ",13300,0.292"))
    assert (far.path, far.line) == ("x.csv > GHI", 9)
    assert "13300 lies outside -10 to 1500" in far.message
    (typical,) = problems_of(
        HOURLY.replace("2023,1,1,10,", "2019,1,1,10,").replace("2023,1,1,11,", "2019,1,1,11,")
    )
    assert (typical.line, "download single years" in typical.message) == (6, True)
    (fine,) = problems_of(TEXT.replace("2023,1,1,8,30,", "2023,1,1,8,5,"))
    assert "an interval of 60 or 30 minutes" in fine.message
    (torn,) = problems_of(TEXT[: TEXT.index("\nYear") + 1])
    assert "malformed" in torn.message or "rows" in torn.message


def test_without_a_diffuse_part_the_split_is_said():
    rows = nsrdb_rows(TEXT.replace(",DHI,DNI,Fill", ",DHJ,DNI,Fill"), "x.csv")
    assert np.isnan(rows.dhi_w_m2).all()
    assert rows.notes[0] == "x.csv: no diffuse part in it; beam and diffuse by Erbs, Klein and Duffie"

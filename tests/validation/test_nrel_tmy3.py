"""Hourly typical years of the National Renewable Energy Laboratory.

S. Wilcox, W. Marion, "Users Manual for TMY3 Data Sets", NREL/TP-581-43156, May 2008; the files of Sand
Point AK (703165) and Greensboro NC (723170) as distributed with pvlib. The shipped table was averaged by
other means than the reader tested here; it prints irradiation to 0.001 and temperature to 0.01.
"""

from __future__ import annotations

from pathlib import Path

import pvlib
import pytest

from ampwright.climate.sources import read_tmy3, shipped_site

DATA = Path(pvlib.__file__).parent / "data"


@pytest.mark.parametrize(
    ("file", "site_id"), [("703165TY.csv", "sand-point-us"), ("723170TYA.CSV", "greensboro-us")]
)
def test_nrel_tmy3_monthly_means(file, site_id):
    read, shipped = read_tmy3(DATA / file).site, shipped_site(site_id)
    assert read.ghi_kwh_m2_day == pytest.approx(shipped.ghi_kwh_m2_day, abs=0.0006)
    assert read.max_degc == pytest.approx(shipped.max_degc, abs=0.006)
    assert read.min_degc == pytest.approx(shipped.min_degc, abs=0.006)
    assert (read.latitude_deg, read.longitude_deg) == (shipped.latitude_deg, shipped.longitude_deg)
    assert read.clock_offset_h == shipped.clock_offset_h


def test_nrel_tmy3_first_printed_hours():
    # Greensboro, 01/01/1988: hour ending 01:00 has 10.0 degC and no sun.
    year = read_tmy3(DATA / "723170TYA.CSV")
    assert year.ambient_degc[0] == 10.0
    assert year.ghi_w_m2[0] == 0.0

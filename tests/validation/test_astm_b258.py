"""American wire gauge: printed dimensions and resistances.

References
----------
- Wire table of solid round copper (diameter in inch, area in circular mils and square inch), as printed in
  cable tables that cite ASTM B258; three to four figures.
- NFPA 70 (National Electrical Code), chapter 9, table 8: direct-current resistance at 75 degC of stranded
  uncoated copper, ohm per 1,000 ft, three figures, and areas in circular mils.
"""

from __future__ import annotations

import math

import pytest

from ampwright.standards.astm_b258 import (
    area_mm2,
    diameter_mm,
    solid_resistance_20_ohm_per_km,
    stranded_resistance_20_ohm_per_km,
)
from ampwright.standards.iec_60228 import resistance_at_ohm_per_km

MM_PER_INCH = 25.4
M_PER_FT = 0.3048
MM2_PER_CIRCULAR_MIL = math.pi / 4 * 0.0254**2

# Size, diameter in inch, circular mils, square inch.
SOLID = """
4/0 0.4600  211600 0.1662
3/0 0.4096  167800 0.1318
2/0 0.3648  133100 0.1045
1/0 0.3249  105500 0.08289
1   0.2893  83690  0.06573
2   0.2576  66370  0.05213
3   0.2294  52630  0.04134
4   0.2043  41740  0.03278
5   0.1819  33100  0.02600
6   0.1620  26250  0.02062
7   0.1443  20820  0.01635
8   0.1285  16510  0.01297
9   0.1144  13090  0.01028
10  0.1019  10380  0.008155
11  0.09074 8234   0.006467
12  0.08081 6530   0.005129
13  0.07196 5178   0.004067
14  0.06408 4107   0.003225
15  0.05707 3257   0.002558
16  0.05082 2583   0.002028
17  0.04526 2048   0.001609
18  0.04030 1624   0.001276
"""
SOLID_ROWS = [line.split() for line in SOLID.strip().splitlines()]

# Size, ohm per 1,000 ft at 75 degC.
NFPA_TABLE_8 = [
    ("18", 7.95),
    ("16", 4.99),
    ("14", 3.14),
    ("12", 1.98),
    ("10", 1.24),
    ("8", 0.778),
    ("6", 0.491),
    ("4", 0.308),
    ("3", 0.245),
    ("2", 0.194),
    ("1", 0.154),
    ("1/0", 0.122),
    ("2/0", 0.0967),
    ("3/0", 0.0766),
    ("4/0", 0.0608),
]


def printed_rounding(text: str) -> float:
    """Return a little over half a unit of the last of four figures printed."""
    return 0.51 * 10.0 ** (math.floor(math.log10(float(text))) - 3)


@pytest.mark.parametrize(("size", "inch", "mils", "square_inch"), SOLID_ROWS)
def test_solid_wire_table(size, inch, mils, square_inch):
    assert diameter_mm(size) / MM_PER_INCH == pytest.approx(float(inch), abs=printed_rounding(inch))
    assert area_mm2(size) / MM2_PER_CIRCULAR_MIL == pytest.approx(float(mils), abs=printed_rounding(mils))
    assert area_mm2(size) / MM_PER_INCH**2 == pytest.approx(
        float(square_inch), abs=printed_rounding(square_inch)
    )


@pytest.mark.parametrize(("size", "printed_ohm"), NFPA_TABLE_8)
def test_nfpa_70_chapter_9_table_8_stranded(size, printed_ohm):
    stranded = resistance_at_ohm_per_km(stranded_resistance_20_ohm_per_km(size), conductor_degc=75.0)
    assert stranded * M_PER_FT == pytest.approx(printed_ohm, rel=0.006)


@pytest.mark.parametrize(("size", "printed_ohm"), NFPA_TABLE_8)
def test_nfpa_70_stranding_factor_is_near_two_percent(size, printed_ohm):
    solid = resistance_at_ohm_per_km(solid_resistance_20_ohm_per_km(size), conductor_degc=75.0)
    assert 1.017 <= printed_ohm / (solid * M_PER_FT) <= 1.026

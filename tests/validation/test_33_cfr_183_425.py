"""33 CFR 183.425, Table 5 with notes 1 and 2; 183.435(b); 183.455; printed tables that rest on them.

References
----------
- Code of Federal Regulations, title 33 (Navigation and Navigable Waters), part 183 (Boats and Associated
  Equipment), subpart I, section 183.425, Table 5: typed below column by column, apart from the shipped rows.
- Printed table of boat cable with 105 degC insulation: 14 sizes, 1-2 to 7-24 conductors in a bundle, outside
  and inside engine spaces, two cable makers' catalogues (no edition stated). Rounded to 0.1 A.
- Printed table of boat cable with 105 degC insulation inside engine spaces, a boat supplier's page; whole amperes.
- NFPA 70 (numbering of 2011 to 2017), Table 310.15(B)(2)(b), ambient factors on a 40 degC base, as reprinted by
  a cable distributor; Table 310.15(B)(2)(a), 46-50 degC row on a 30 degC base, from two reprints.
"""

from __future__ import annotations

import pytest

from ampwright.standards.astm_b258 import area_mm2
from ampwright.standards.cfr_33_183 import (
    allowable_current_a,
    heat_balance_factor,
    minimum_area_mm2,
    overcurrent_max_factor,
    table_5_current,
)

SIZES = ("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "0", "00", "000", "0000")
TABLE_5 = {
    60: (10, 15, 20, 25, 40, 55, 80, 105, 120, 140, 165, 195, 225, 260, 300),
    75: (10, 15, 20, 25, 40, 65, 95, 125, 145, 170, 195, 230, 265, 310, 360),
    80: (15, 20, 25, 35, 50, 70, 100, 130, 150, 175, 210, 245, 285, 330, 385),
    90: (20, 25, 30, 40, 55, 70, 100, 135, 155, 180, 210, 245, 285, 330, 385),
    105: (20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445),
    125: (25, 30, 40, 50, 70, 90, 125, 170, 195, 225, 265, 305, 355, 410, 475),
    200: (25, 35, 45, 55, 70, 100, 135, 180, 210, 240, 280, 325, 370, 430, 510),
}
CELLS = [
    (size, rating, current_a)
    for rating, column in TABLE_5.items()
    for size, current_a in zip(SIZES, column, strict=True)
]
NOTE_1 = {60: 0.58, 75: 0.75, 80: 0.78, 90: 0.82, 105: 0.85, 125: 0.89, 200: 1.00}

# Size, then pairs (outside, inside engine space) for 1-2, 3, 4-6 and 7-24 conductors.
BUNDLES = """
18   20 17      14 11.9      12 10.2     10 8.5
16   25 21.3    17.5 14.9    15 12.8     12.5 10.6
14   35 29.8    24.5 20.8    21 17.9     17.5 14.9
12   45 38.3    31.5 26.8    27 23       22.5 19.1
10   60 51      42 35.7      36 30.6     30 25.5
8    80 68      56 47.6      48 40.8     40 34
6    120 102    84 71.4      72 61.2     60 51
4    160 136    112 95.2     96 81.6     80 68
2    210 178.5  147 125      126 107.1   105 89.3
1    245 208.3  171.5 145.8  147 125     122.5 104.1
1/0  285 242.3  199.5 169.6  171 145.4   142.5 121.1
2/0  330 280.5  231 196.4    198 168.3   165 140.3
3/0  385 327.3  269.5 229.1  231 196.4   192.5 163.6
4/0  445 378.3  311.5 264.8  267 227     222.5 189.1
"""
COUNTS = ((1, 2), (3,), (4, 5, 6), (7, 24))
BUNDLE_CELLS = [
    (cells[0], count, is_engine_space, float(cells[1 + 2 * step + is_engine_space]))
    for cells in (line.split() for line in BUNDLES.strip().splitlines())
    for step, counts in enumerate(COUNTS)
    for count in counts
    for is_engine_space in (False, True)
]

# Upper end of each ambient row, then factors for 60, 75, 90, 150, 200, 250 degC on a 40 degC base.
NFPA_40_RATINGS = (60, 75, 90, 150, 200, 250)
NFPA_40 = """
10   1.58 1.36 1.26 1.13 1.09 1.07
15   1.50 1.31 1.22 1.11 1.08 1.06
20   1.41 1.25 1.18 1.09 1.06 1.05
25   1.32 1.20 1.14 1.07 1.05 1.04
30   1.22 1.13 1.10 1.04 1.03 1.02
35   1.12 1.07 1.05 1.02 1.02 1.01
40   1.00 1.00 1.00 1.00 1.00 1.00
45   0.87 0.93 0.95 0.98 0.98 0.99
50   0.71 0.85 0.89 0.95 0.97 0.98
55   0.50 0.76 0.84 0.93 0.95 0.96
60   -    0.65 0.77 0.90 0.94 0.95
65   -    0.53 0.71 0.88 0.92 0.94
70   -    0.38 0.63 0.85 0.90 0.93
75   -    -    0.55 0.83 0.88 0.91
80   -    -    0.45 0.80 0.87 0.90
90   -    -    -    0.74 0.83 0.87
100  -    -    -    0.67 0.79 0.85
110  -    -    -    0.60 0.75 0.82
120  -    -    -    0.52 0.71 0.79
130  -    -    -    0.43 0.66 0.76
140  -    -    -    0.30 0.61 0.72
160  -    -    -    -    0.50 0.65
180  -    -    -    -    0.35 0.58
200  -    -    -    -    -    0.49
225  -    -    -    -    -    0.35
"""
NFPA_40_CELLS = [
    (rating, float(cells[0]), float(cell))
    for cells in (line.split() for line in NFPA_40.strip().splitlines())
    for rating, cell in zip(NFPA_40_RATINGS, cells[1:], strict=True)
    if cell != "-"
]


def test_table_5_is_complete():
    assert len(CELLS) == 105
    assert len({(size, rating) for size, rating, _ in CELLS}) == 105


@pytest.mark.parametrize(("size", "rating", "current_a"), CELLS)
def test_table_5_cell(size, rating, current_a):
    found = table_5_current(area_mm2(size), insulation_degc=float(rating))
    assert found.current_a == current_a
    assert found.rating_degc == rating
    assert found.lower_awg == found.upper_awg
    assert found.source.standing == "read"


@pytest.mark.parametrize(("rating", "factor"), [*NOTE_1.items()])
def test_note_1_factor(rating, factor):
    found = allowable_current_a(
        area_mm2("6"),
        insulation_degc=float(rating),
        ambient_degc=50.0,
        bundle_count=1,
        is_engine_space=True,
    )
    assert found.ambient_factor == factor
    assert found.current_a == pytest.approx(TABLE_5[rating][6] * factor, abs=1e-9)


@pytest.mark.parametrize(("rating", "factor"), [(60, 0.58), (75, 0.75), (90, 0.82)])
def test_note_1_equals_nfpa_70_row_46_to_50_degc(rating, factor):
    assert NOTE_1[rating] == factor
    assert heat_balance_factor(float(rating), ambient_degc=50.0) == pytest.approx(factor, abs=0.005)


@pytest.mark.parametrize(("size", "count", "is_engine_space", "printed_a"), BUNDLE_CELLS)
def test_printed_bundle_table_105_degc(size, count, is_engine_space, printed_a):
    found = allowable_current_a(
        area_mm2(size),
        insulation_degc=105.0,
        ambient_degc=50.0 if is_engine_space else 30.0,
        bundle_count=count,
        is_engine_space=is_engine_space,
    )
    assert found.current_a == pytest.approx(printed_a, abs=0.051)


ENGINE_SPACE_WHOLE_A = (17, 21, 30, 38, 51, 68, 102, 136, 153, 178, 208, 242, 280, 327, 378)


@pytest.mark.parametrize(("size", "printed_a"), [*zip(SIZES, ENGINE_SPACE_WHOLE_A, strict=True)])
def test_printed_engine_space_column_105_degc(size, printed_a):
    found = allowable_current_a(
        area_mm2(size), insulation_degc=105.0, ambient_degc=40.0, bundle_count=1, is_engine_space=True
    )
    assert found.current_a == pytest.approx(printed_a, abs=0.51)


def test_nfpa_70_table_is_complete():
    assert len(NFPA_40_CELLS) == 10 + 13 + 15 + 21 + 23 + 25


@pytest.mark.parametrize(("rating", "ambient_degc", "printed"), NFPA_40_CELLS)
def test_heat_balance_gives_nfpa_70_ambient_factors(rating, ambient_degc, printed):
    found = heat_balance_factor(float(rating), ambient_degc=ambient_degc, base_degc=40.0)
    assert found == pytest.approx(printed, abs=0.0051)


def test_183_455_c_rating_limits():
    assert overcurrent_max_factor(12.0).max_factor == 1.5
    assert overcurrent_max_factor(49.9).max_factor == 1.5
    assert overcurrent_max_factor(50.0).max_factor == 1.0


def test_183_425_d_e_smallest_conductors():
    assert minimum_area_mm2(is_in_multiconductor_sheath=True).area_mm2 == pytest.approx(0.823, abs=5e-4)
    assert minimum_area_mm2(is_in_multiconductor_sheath=False).area_mm2 == pytest.approx(1.31, abs=5e-3)

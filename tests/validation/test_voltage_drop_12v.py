"""Cable size by voltage drop at 12 V: printed tables and worked examples of a boat supplier.

References
----------
- Boat supplier's catalogue, editions of 2021 (pp. 52-53) and 2022 (p. 52): tables of conductor size for 3 % and 10 %
  drop in a 12 V system by current and round trip; formula CM = K I L / E with K = 10.75 and L the round trip in feet.

The tables hold smaller areas than those of ASTM B258 and a few cells that break their own formula (10 ft x 20 A
prints 12, 20 ft x 10 A prints 10); agreement within one size is what they can bear out.
"""

from __future__ import annotations

import math

import pytest

from ampwright.standards.astm_b258 import area_mm2, stranded_resistance_20_ohm_per_km
from ampwright.standards.iec_60228 import resistance_at_ohm_per_km

M_PER_FT = 0.3048
SIZES = ("18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "0", "2/0", "3/0", "4/0")
CURRENTS_A = (5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100)

# Round trip in feet, then a size per current.
TABLE_3_PERCENT = """
10   18 14 12 12 10 10 8 8 6 6 6 4 4
15   16 12 10 10 8 8 6 6 4 4 4 2 2
20   14 10 10 8 6 6 6 4 4 2 2 2 2
25   12 10 8 6 4 4 4 2 2 2 2 1 1
30   12 10 8 6 6 6 4 4 2 2 2 1 1
40   10 8 6 6 4 4 2 2 1 0 0 2/0 2/0
50   10 6 6 4 4 2 2 1 0 2/0 2/0 4/0 4/0
60   10 6 6 4 2 2 1 0 2/0 3/0 3/0 4/0 4/0
70   8 6 4 2 2 1 0 2/0 3/0 3/0 4/0 4/0 -
80   8 6 4 2 2 1 0 2/0 3/0 4/0 4/0 - -
100  8 4 2 2 1 0 2/0 3/0 4/0 4/0 - - -
"""
TABLE_10_PERCENT = """
10   18 18 18 16 16 14 14 12 12 10 10 10 10
15   18 18 16 16 14 12 12 10 10 8 8 8 8
20   18 16 14 14 12 12 10 10 8 8 8 6 6
25   18 16 14 12 12 10 10 8 8 6 6 6 6
30   18 14 12 12 10 10 8 8 6 6 6 6 4
40   16 14 12 10 10 8 8 6 6 6 4 4 4
50   16 12 10 10 8 8 6 6 4 4 4 2 2
60   14 12 10 8 8 6 6 4 4 2 2 2 2
70   14 10 8 8 6 6 6 4 2 2 2 2 1
80   14 10 8 8 6 6 4 4 2 2 2 1 1
100  12 10 8 6 6 6 4 2 2 2 1 1 0
"""


def cells(table: str, drop_frac: float) -> list[tuple[float, int, int, str]]:
    """Return drop, round trip, current and printed size of each cell."""
    rows = [line.split() for line in table.strip().splitlines()]
    return [
        (drop_frac, int(row[0]), current_a, size)
        for row in rows
        for current_a, size in zip(CURRENTS_A, row[1:], strict=True)
        if size != "-"
    ]


ALL_CELLS = cells(TABLE_3_PERCENT, 0.03) + cells(TABLE_10_PERCENT, 0.10)


def drop_v(size: str, current_a: float, round_trip_ft: float) -> float:
    """Return the drop of a warm stranded conductor, out and back."""
    per_km = resistance_at_ohm_per_km(stranded_resistance_20_ohm_per_km(size), conductor_degc=25.0)
    return per_km * round_trip_ft * M_PER_FT / 1000.0 * current_a


def smallest_place(drop_frac: float, round_trip_ft: float, current_a: float) -> int:
    """Return the place in SIZES of the smallest size that keeps the drop; one past the end if none does."""
    fitting = (
        place
        for place, size in enumerate(SIZES)
        if drop_v(size, current_a, round_trip_ft) <= 12.0 * drop_frac
    )
    return next(fitting, len(SIZES))


def test_tables_are_complete():
    assert len(cells(TABLE_3_PERCENT, 0.03)) == 137
    assert len(cells(TABLE_10_PERCENT, 0.10)) == 143


@pytest.mark.parametrize(("drop_frac", "round_trip_ft", "current_a", "printed"), ALL_CELLS)
def test_printed_size_within_one(drop_frac, round_trip_ft, current_a, printed):
    assert abs(smallest_place(drop_frac, round_trip_ft, current_a) - SIZES.index(printed)) <= 1


def test_most_printed_sizes_are_met_exactly():
    same = sum(
        smallest_place(drop_frac, round_trip_ft, current_a) == SIZES.index(printed)
        for drop_frac, round_trip_ft, current_a, printed in ALL_CELLS
    )
    assert same >= 0.75 * len(ALL_CELLS)


@pytest.mark.parametrize(("drop_frac", "formula_cm", "printed"), [(0.03, 6270.8, "10"), (0.10, 1881.3, "16")])
def test_worked_examples_10_a_over_21_ft(drop_frac, formula_cm, printed):
    mm2_per_circular_mil = math.pi / 4 * 0.0254**2
    place = smallest_place(drop_frac, 21.0, 10.0)
    assert abs(place - SIZES.index(printed)) <= 1
    assert area_mm2(SIZES[place]) / mm2_per_circular_mil >= formula_cm
    assert area_mm2(SIZES[place - 1]) / mm2_per_circular_mil < formula_cm


@pytest.mark.parametrize("size", SIZES)
def test_formula_with_k_10_75_agrees_with_resistance(size):
    circular_mils = area_mm2(size) / (math.pi / 4 * 0.0254**2)
    assert 10.75 * 10.0 * 21.0 / circular_mils == pytest.approx(drop_v(size, 10.0, 21.0), rel=0.005)

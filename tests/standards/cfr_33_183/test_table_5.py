"""Look-up and interpolation in Table 5."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.astm_b258 import area_mm2
from ampwright.standards.cfr_33_183.table_5 import (
    TABLE_5_RATINGS_DEGC,
    table_5_current,
    table_5_rating_degc,
)

AREAS_MM2 = st.floats(0.823, 107.2)


@pytest.mark.parametrize(
    ("insulation_degc", "rating_degc"),
    [(60.0, 60.0), (74.9, 60.0), (85.0, 80.0), (104.0, 90.0), (150.0, 125.0), (200.0, 200.0), (260.0, 200.0)],
)
def test_rating_is_the_highest_not_above(insulation_degc, rating_degc):
    assert table_5_rating_degc(insulation_degc) == rating_degc


@pytest.mark.parametrize("insulation_degc", [59.9, -10.0, float("nan")])
def test_insulation_below_the_table_is_refused(insulation_degc):
    with pytest.raises(TableError, match="begins at 60 degC"):
        table_5_rating_degc(insulation_degc)


@pytest.mark.parametrize(
    "printed_mm2", [0.82, 1.31, 2.08, 3.31, 5.26, 8.37, 13.3, 21.2, 26.7, 33.6, 42.4, 53.5]
)
def test_areas_as_sold_are_rows_of_the_table(printed_mm2):
    found = table_5_current(printed_mm2, insulation_degc=105.0)
    assert found.lower_awg == found.upper_awg
    assert found.current_a % 5 == 0


def test_half_way_between_two_rows_is_half_way_in_current():
    middle = (area_mm2("6") + area_mm2("4")) / 2
    found = table_5_current(middle, insulation_degc=105.0)
    assert found.current_a == pytest.approx(140.0)
    assert (found.lower_awg, found.upper_awg) == ("6", "4")


@pytest.mark.parametrize("outside_mm2", [0.5, 0.75, 0.81, 108.0, 120.0, 0.0, -4.0, float("nan")])
def test_area_outside_the_table_is_refused(outside_mm2):
    with pytest.raises(TableError, match=r"18 AWG .* to 4/0 AWG"):
        table_5_current(outside_mm2, insulation_degc=105.0)


@given(AREAS_MM2, AREAS_MM2, st.sampled_from(TABLE_5_RATINGS_DEGC))
def test_current_never_falls_with_area(one_mm2, other_mm2, rating_degc):
    thin, thick = sorted((one_mm2, other_mm2))
    thin_a = table_5_current(thin, insulation_degc=rating_degc).current_a
    assert table_5_current(thick, insulation_degc=rating_degc).current_a >= thin_a


@given(AREAS_MM2, st.floats(60, 260), st.floats(60, 260))
def test_current_never_falls_with_insulation(area, one_degc, other_degc):
    worse, better = sorted((one_degc, other_degc))
    worse_a = table_5_current(area, insulation_degc=worse).current_a
    assert table_5_current(area, insulation_degc=better).current_a >= worse_a

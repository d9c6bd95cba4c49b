import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.documents.quantity_text import (
    NARROW_SPACE,
    UNIT_SPACE,
    customary,
    day_count_text,
    gauge_text,
    percent_text,
    quantity_text,
    three_figures,
)


def plain(text):
    return text.replace(NARROW_SPACE, " ").replace(UNIT_SPACE, " ")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (0.001234, "0.00123"),
        (9.996, "10.0"),
        (99.96, "100"),
        (1234.0, "1 230"),
        (1234567.0, "1 230 000"),
        (-0.5, "−0.500"),
        (math.nan, "no figure"),
        (math.inf, "no figure"),
    ],
)
def test_three_figures_are_printed(value, text):
    assert plain(three_figures(value)) == text


@given(st.floats(min_value=1e-4, max_value=1e8))
def test_three_figures_stay_within_half_a_percent(value):
    text = three_figures(value)
    assert "e" not in text
    assert float(text.replace(NARROW_SPACE, "")) == pytest.approx(value, rel=0.00501)


@pytest.mark.parametrize(
    ("part_frac", "text"),
    [
        (0.5, "50 %"),
        (-0.126, "−13 %"),
        (0.0, "0 %"),
        (-0.0001, "0 %"),
        (12.5, "1 250 %"),
        (math.nan, "no figure"),
    ],
)
def test_percentages_are_whole(part_frac, text):
    assert plain(percent_text(part_frac)) == text


def test_metric_text_has_no_brackets():
    assert plain(quantity_text(31.04, "A")) == "31.0 A"
    assert plain(quantity_text(40.0, "°C")) == "40.0 °C"
    assert plain(quantity_text(2.0, "")) == "2.00"
    assert plain(quantity_text(12.0, "%")) == "12 %"


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (40.0, "°C", "104 °F"),
        (10.0, "K", "18.0 °F of difference"),
        (3.0, "m", "9.84 ft"),
        (25.4, "mm", "1.00 in"),
        (0.45359237, "kg", "1.00 lb"),
        (5.0, "A", ""),
        (math.nan, "m", ""),
    ],
)
def test_customary_figures_stand_beside(value, unit, text):
    assert plain(customary(value, unit)) == text


@pytest.mark.parametrize(
    ("conductor_mm2", "text"),
    [
        (13.3, "6 AWG"),
        (16.0, "between 6 and 4 AWG"),
        (53.5, "1/0 AWG"),
        (0.5, "thinner than 18 AWG"),
        (150.0, "thicker than 4/0 AWG"),
        (42.0, "1 AWG"),
    ],
)
def test_gauge_is_named_only_where_it_is_one(conductor_mm2, text):
    # Areas of 6, 1/0 and 1 AWG as printed in conductor tables: 13.30, 53.49 and 42.41 mm2 (ASTM B258).
    assert plain(gauge_text(conductor_mm2)) == text


def test_area_stays_in_metric_beside_the_gauge():
    assert plain(quantity_text(13.3, "mm²", units="us")) == "13.3 mm² (6 AWG)"


def test_days_are_counted():
    assert (day_count_text(1), day_count_text(5)) == ("1 day", "5 days")

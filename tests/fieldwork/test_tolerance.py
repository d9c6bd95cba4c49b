"""How far a reading may be off: by hand, and laws that hold for any contributions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.fieldwork.tolerance import (
    CLAMP,
    MILLIAMPERE_CLAMP,
    MULTIMETER,
    Contribution,
    combined_tolerance,
    reading_half_width,
)

WIDTHS = st.lists(st.floats(0.0, 1e3), min_size=1, max_size=6)


def made(widths):
    return tuple(Contribution(cause="device", half_width=width) for width in widths)


def test_three_and_four_make_five():
    # standard uncertainties 3/sqrt3 and 4/sqrt3: root of the sum of squares 5/sqrt3, times k = 2
    assert combined_tolerance(made([3.0, 4.0])) == pytest.approx(10.0 / math.sqrt(3.0))


@pytest.mark.parametrize(
    ("instrument", "reading", "expected"),
    [
        (MULTIMETER, 12.0, 0.06 + 0.02),  # 6000 counts: 0.01 V a digit, 0.5 % and 2 digits
        (MULTIMETER, 0.2, 0.001 + 0.0002),  # 0.0001 V a digit
        (MULTIMETER, 5.9, 0.0295 + 0.002),
        (MULTIMETER, 6.1, 0.0305 + 0.02),  # one range up
        (CLAMP, 5.0, 0.10 + 0.03),  # 4000 counts: 0.01 A a digit, 2 % and 3 digits
        (CLAMP, 100.0, 2.0 + 0.3),
        (MILLIAMPERE_CLAMP, 0.1, 0.001 + 0.003),
    ],
)
def test_instruments_by_hand(instrument, reading, expected):
    assert reading_half_width(instrument, reading) == pytest.approx(expected)


@given(WIDTHS, st.floats(0.0, 1e3))
def test_tolerance_grows_with_each_contribution(widths, more):
    assert combined_tolerance(made([*widths, more])) >= combined_tolerance(made(widths)) * (1.0 - 1e-12)


@given(WIDTHS, st.floats(1.0, 10.0))
def test_tolerance_grows_with_each_half_width(widths, factor):
    wider = [factor * widths[0], *widths[1:]]
    assert combined_tolerance(made(wider)) >= combined_tolerance(made(widths)) * (1.0 - 1e-12)


@given(WIDTHS)
def test_tolerance_lies_between_the_largest_and_the_sum(widths):
    factor = 2.0 / math.sqrt(3.0)
    tolerance = combined_tolerance(made(widths))
    assert max(widths) * factor * (1.0 - 1e-12) <= tolerance <= sum(widths) * factor * (1.0 + 1e-12)


@given(st.floats(0.0, 500.0))
def test_a_reading_is_never_exact(reading):
    assert reading_half_width(MULTIMETER, reading) > MULTIMETER.reading_frac * reading

"""A quantity is declared, measured or unknown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.quantity import Measured, Unknown, likely_value, span


@pytest.mark.parametrize(
    ("amount", "likely", "ends"),
    [
        (3.0, 3.0, (3.0, 3.0)),
        (Measured(measured=5.0, how="meter", tolerance_frac=0.1), 5.0, (5.0, 5.0)),
        (Unknown(unknown=(2.0, 6.0)), 4.0, (2.0, 6.0)),
        (Unknown(unknown=(2.0, 6.0), likely=5.5), 5.5, (2.0, 6.0)),
        (Unknown(unknown=(-1.0, 2.0), likely=0.0), 0.0, (-1.0, 2.0)),
    ],
)
def test_likely_value_and_span(amount, likely, ends):
    assert likely_value(amount) == likely
    assert span(amount) == ends


@given(st.tuples(st.floats(0, 1e6), st.floats(0, 1e6)).map(sorted))
def test_the_middle_lies_in_the_range(ends):
    low, high = ends
    assert low <= likely_value(Unknown(unknown=(low, high))) <= high

"""Shares of parallel strings by hand and by ngspice's laws: Kirchhoff on the ladder."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.network.strings import string_shares_frac


def test_three_strings_tapped_diagonally():
    """R = 4, r = 1: by symmetry the outer two are alike; around the first loop 4 i1 + i1' ... gives 5 : 4 : 5.

    Loop over strings 1 and 2: R i1 + r (i1) on the negative rail = R i2 + r (1 - i1) on the positive one, so that
    5 i1 - 4 i2 = 1 - i1; with 2 i1 + i2 = 1: 14 i1 = 5.
    """
    assert string_shares_frac(np.full(3, 4.0), 1.0, "diagonal") == pytest.approx([5 / 14, 4 / 14, 5 / 14])


def test_four_strings_at_one_end_fall_off():
    """Resistance seen from the far end: 4; 4 || (4 + 2) = 2.4; 4 || 4.4 ... each share by current division."""
    tail = 4.0
    shares = []
    for _ in range(3):
        way = tail + 2.0
        shares.append(way / (4.0 + way))  # of what arrives at this string, its own part
        tail = 4.0 * way / (4.0 + way)
    first, second, third = shares[::-1]
    expected = [first, (1 - first) * second, (1 - first) * (1 - second) * third]
    expected.append(1.0 - sum(expected))
    assert string_shares_frac(np.full(4, 4.0), 1.0, "same-end") == pytest.approx(expected)


@given(
    ohms=st.lists(st.floats(0.001, 0.05), min_size=1, max_size=8),
    link=st.floats(0.0, 0.01),
    tapped=st.sampled_from(["same-end", "diagonal", "bus-bars"]),
)
def test_shares_are_positive_and_add_up(ohms, link, tapped):
    shares = string_shares_frac(np.array(ohms), link, tapped)
    assert (shares > 0.0).all()
    assert shares.sum() == pytest.approx(1.0, abs=1e-9)


@given(count=st.integers(2, 8), link=st.floats(1e-5, 0.01))
def test_one_end_is_never_more_even_than_diagonal(count, link):
    alike = np.full(count, 0.006)
    one_end, diagonal = (string_shares_frac(alike, link, way).max() for way in ("same-end", "diagonal"))
    assert one_end >= diagonal - 1e-12
    assert string_shares_frac(alike, link, "bus-bars") == pytest.approx(1.0 / count)

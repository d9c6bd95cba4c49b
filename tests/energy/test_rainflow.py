"""Laws of rainflow counting; the standard's example is in tests/validation."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from ampwright.energy.rainflow import rainflow_cycles

COURSES = st.lists(st.integers(0, 100), min_size=1, max_size=60).map(lambda values: np.array(values) / 100.0)


@given(COURSES)
def test_all_that_moves_is_counted_once(course):
    found = rainflow_cycles(course)
    moved = float(np.abs(np.diff(course)).sum())
    assert abs(2.0 * float(found.range_frac @ found.count_factor) - moved) < 1e-9


@given(COURSES)
def test_the_deepest_cycle_is_the_whole_span(course):
    found = rainflow_cycles(course)
    span = float(course.max() - course.min())
    assert abs(found.range_frac.max(initial=0.0) - span) < 1e-12


def test_nothing_moves_nothing_is_counted():
    assert rainflow_cycles(np.full(10, 0.7)).range_frac.size == 0
    assert rainflow_cycles(np.array([0.5])).range_frac.size == 0

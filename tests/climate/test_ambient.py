from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from ampwright.climate.ambient import diurnal_degc

CLOCK_H = (np.arange(96) + 0.5) / 4.0


@given(low=st.floats(-60.0, 40.0), span_k=st.floats(0.0, 30.0), shift_h=st.floats(-15.0, 15.0))
def test_maximum_and_minimum_are_hit_exactly(low, span_k, shift_h):
    course = diurnal_degc(CLOCK_H + shift_h, min_degc=low, max_degc=low + span_k)
    assert course.min() == low
    assert course.max() == low + span_k


def test_coolest_before_dawn_and_warmest_in_the_afternoon():
    course = diurnal_degc(CLOCK_H, min_degc=10.0, max_degc=25.0)
    assert 3.0 < CLOCK_H[course.argmin()] < 6.5
    assert 13.0 < CLOCK_H[course.argmax()] < 16.0


def test_course_closes_at_midnight():
    course = diurnal_degc(CLOCK_H, min_degc=10.0, max_degc=25.0)
    steps = np.abs(np.diff(np.append(course, course[0])))
    assert steps[-1] <= steps[:-1].max()

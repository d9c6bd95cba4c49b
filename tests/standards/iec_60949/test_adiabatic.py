"""Adiabatic area and endurance."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.iec_60949.adiabatic import (
    adiabatic_constant_a_s05_per_mm2,
    fault_area,
    withstand_s,
)


@given(st.floats(1, 20_000), st.floats(0.01, 5), st.floats(1.01, 3))
def test_more_current_or_time_needs_more_area(current_a, duration_s, share):
    def area(current: float, duration: float) -> float:
        return fault_area(current, duration_s=duration, start_degc=70.0, end_degc=160.0).area_mm2

    base = area(current_a, duration_s)
    assert area(current_a * share, duration_s) == pytest.approx(base * share)
    assert area(current_a, duration_s * share) == pytest.approx(base * math.sqrt(share))


@given(st.floats(0.5, 150), st.floats(1, 20_000))
def test_endurance_and_area_are_inverse(area_mm2, current_a):
    duration_s = withstand_s(area_mm2, current_a=current_a, start_degc=90.0, end_degc=250.0)
    back = fault_area(current_a, duration_s=duration_s, start_degc=90.0, end_degc=250.0)
    assert back.area_mm2 == pytest.approx(area_mm2)


def test_hotter_start_leaves_less():
    cold = adiabatic_constant_a_s05_per_mm2(start_degc=30.0, end_degc=160.0)
    assert adiabatic_constant_a_s05_per_mm2(start_degc=70.0, end_degc=160.0) < cold


@pytest.mark.parametrize(("duration_s", "has_note"), [(5.0, False), (5.1, True)])
def test_longer_than_five_seconds_is_said(duration_s, has_note):
    found = fault_area(100.0, duration_s=duration_s, start_degc=70.0, end_degc=160.0)
    assert ("safe side" in found.note) is has_note
    assert found.source.document == "IEC 60949"


def test_no_current_is_endured_for_ever():
    assert withstand_s(4.0, current_a=0.0, start_degc=70.0, end_degc=160.0) == math.inf


@pytest.mark.parametrize(("start_degc", "end_degc"), [(160.0, 160.0), (160.0, 70.0), (-300.0, 20.0)])
def test_temperatures_out_of_order_are_refused(start_degc, end_degc):
    with pytest.raises(TableError, match="the end must be above the start"):
        adiabatic_constant_a_s05_per_mm2(start_degc=start_degc, end_degc=end_degc)


@pytest.mark.parametrize(("current_a", "duration_s"), [(-1.0, 1.0), (1.0, -1.0)])
def test_negative_fault_is_refused(current_a, duration_s):
    with pytest.raises(TableError, match="neither may be negative"):
        fault_area(current_a, duration_s=duration_s, start_degc=70.0, end_degc=160.0)


@pytest.mark.parametrize(("area_mm2", "current_a"), [(0.0, 10.0), (4.0, -1.0)])
def test_endurance_refuses_nonsense(area_mm2, current_a):
    with pytest.raises(TableError, match="area above 0"):
        withstand_s(area_mm2, current_a=current_a, start_degc=70.0, end_degc=160.0)

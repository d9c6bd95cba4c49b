"""Correction of resistance to the working temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.iec_60228.temperature import TEMPERATURE_SOURCE, resistance_at_ohm_per_km


@given(st.floats(-60, 249), st.floats(0.1, 1.0))
def test_resistance_rises_with_temperature(conductor_degc, step_k):
    cold = resistance_at_ohm_per_km(3.08, conductor_degc=conductor_degc)
    assert resistance_at_ohm_per_km(3.08, conductor_degc=conductor_degc + step_k) > cold


def test_twenty_degrees_changes_nothing():
    assert resistance_at_ohm_per_km(3.08, conductor_degc=20.0) == 3.08


@pytest.mark.parametrize("conductor_degc", [-61.0, 251.0, float("nan")])
def test_outside_the_straight_line_is_refused(conductor_degc):
    with pytest.raises(TableError, match="-60 to 250 degC"):
        resistance_at_ohm_per_km(3.08, conductor_degc=conductor_degc)


def test_source_names_the_copper_standard():
    assert str(TEMPERATURE_SOURCE).startswith("IEC 60028, 1925")

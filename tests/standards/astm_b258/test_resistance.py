"""Resistance of AWG conductors at 20 degC."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.astm_b258.gauge import AWG_NAMES, area_mm2
from ampwright.standards.astm_b258.resistance import (
    area_from_resistance_mm2,
    solid_resistance_20_ohm_per_km,
    stranded_resistance_20_ohm_per_km,
)


@given(st.sampled_from(AWG_NAMES))
def test_area_comes_back_from_stranded_resistance(name):
    assert area_from_resistance_mm2(stranded_resistance_20_ohm_per_km(name)) == pytest.approx(area_mm2(name))


def test_thicker_wire_has_less_resistance_and_strands_add_two_percent():
    solid = [solid_resistance_20_ohm_per_km(name) for name in AWG_NAMES]
    stranded = [stranded_resistance_20_ohm_per_km(name) for name in AWG_NAMES]
    assert solid == sorted(solid, reverse=True)
    assert [b / a for a, b in zip(solid, stranded, strict=True)] == pytest.approx([1.02] * len(solid))


@pytest.mark.parametrize("resistance", [0.0, -1.0])
def test_area_from_resistance_refuses_nonsense(resistance):
    with pytest.raises(TableError, match="above 0"):
        area_from_resistance_mm2(resistance)

"""Exact-size look-up of conductor resistance."""

import pytest

from ampwright.errors import TableError
from ampwright.standards.iec_60228.resistance import (
    RESISTANCE_SOURCE,
    conductor_areas_mm2,
    resistance_20_ohm_per_km,
)


@pytest.mark.parametrize("area_mm2", [0.4, 3.0, 5.26, 185.0, float("nan")])
def test_only_sizes_of_the_table_are_answered(area_mm2):
    with pytest.raises(TableError, match=r"sizes are 0\.5, .*150 mm²"):
        resistance_20_ohm_per_km(area_mm2, "class-5")


def test_unknown_class_is_refused():
    with pytest.raises(TableError, match="use one of class-2, class-5, class-5-tinned"):
        resistance_20_ohm_per_km(6.0, "class-6")


@pytest.mark.parametrize("conductor_class", ["class-2", "class-5", "class-5-tinned"])
def test_resistance_falls_with_area(conductor_class):
    column = [resistance_20_ohm_per_km(area, conductor_class) for area in conductor_areas_mm2()]
    assert column == sorted(column, reverse=True)


def test_tinned_is_above_plain():
    for area in conductor_areas_mm2():
        assert resistance_20_ohm_per_km(area, "class-5-tinned") > resistance_20_ohm_per_km(area, "class-5")


def test_source_admits_its_standing():
    assert "second hand" in str(RESISTANCE_SOURCE)

"""Rating and place of overcurrent devices."""

import pytest

from ampwright.standards.cfr_33_183.overcurrent import device_distance_limit_m, overcurrent_max_factor


@pytest.mark.parametrize(
    ("is_sheathed", "is_battery_connected", "inches", "place", "standing"),
    [
        (False, False, 7, "183.455(b)(1)", "read"),
        (True, False, 40, "183.455(b)(2)", "read"),
        (False, True, 7, "183.455(b)(1)", "read"),
        (True, True, 72, "183.460", "from memory"),
    ],
)
def test_distance_limits(is_sheathed, is_battery_connected, inches, place, standing):
    found = device_distance_limit_m(is_sheathed=is_sheathed, is_battery_connected=is_battery_connected)
    assert found.limit_m == pytest.approx(inches * 0.0254)
    assert (found.source.place, found.source.standing) == (place, standing)
    assert "at the source where practical" in found.note
    assert ("enclosure all the way" in found.note) is is_sheathed
    assert ("cranking" in found.note) is is_battery_connected


@pytest.mark.parametrize(
    ("system_v", "max_factor", "place"),
    [(12.0, 1.5, "(c)(1)"), (48.0, 1.5, "(c)(1)"), (120.0, 1.0, "(c)(2)")],
)
def test_rating_limit(system_v, max_factor, place):
    found = overcurrent_max_factor(system_v)
    assert (found.max_factor, found.source.place) == (max_factor, place)
    assert bool(found.note) is (max_factor == 1.0)

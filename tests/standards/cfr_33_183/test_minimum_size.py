"""Smallest conductors."""

import pytest

from ampwright.standards.astm_b258 import area_mm2
from ampwright.standards.cfr_33_183.minimum_size import minimum_area_mm2


@pytest.mark.parametrize(("is_in_sheath", "awg", "place"), [(True, "18", "(d), (f)"), (False, "16", "(e)")])
def test_smallest_conductor(is_in_sheath, awg, place):
    found = minimum_area_mm2(is_in_multiconductor_sheath=is_in_sheath)
    assert (found.awg, found.source.place) == (awg, place)
    assert found.area_mm2 == area_mm2(awg)
    assert ("0.76 m" in found.note) is is_in_sheath

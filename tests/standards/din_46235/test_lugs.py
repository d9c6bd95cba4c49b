"""Lugs by conductor and stud, against the rows of the table as printed there."""

import pytest

from ampwright.standards.din_46235.lugs import lug_for


@pytest.mark.parametrize(
    ("area_mm2", "barrel_mm2", "stud_mm", "fits"),
    [
        (2.5, 2.5, 8.0, True),
        (2.08, 2.5, 3.0, True),
        (16.0, 16.0, 5.0, True),
        (21.15, 25.0, 5.0, False),
        (50.0, 50.0, 6.0, True),
        (67.4, 70.0, 6.0, False),
        (67.4, 70.0, 8.0, True),
        (107.2, 120.0, 8.0, True),
        (1.0, 1.0, 10.0, False),
    ],
)
def test_lug_for(area_mm2, barrel_mm2, stud_mm, fits):
    lug = lug_for(area_mm2)
    assert lug.barrel_mm2 == barrel_mm2
    assert lug.fits(stud_mm) is fits


def test_beyond_the_table_there_is_none():
    assert lug_for(300.0) is None

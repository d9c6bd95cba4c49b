"""Names, diameters and areas of the American wire gauge."""

import pytest

from ampwright.errors import TableError
from ampwright.standards.astm_b258.gauge import AWG_NAMES, area_mm2, awg_number, diameter_mm


@pytest.mark.parametrize(
    ("name", "number"),
    [
        ("18", 18),
        ("1", 1),
        ("0", 0),
        ("1/0", 0),
        ("00", -1),
        ("2/0", -1),
        ("000", -2),
        ("3/0", -2),
        ("0000", -3),
    ],
)
def test_awg_number_takes_both_spellings(name, number):
    assert awg_number(name) == number
    assert awg_number(f" {name} ") == number


@pytest.mark.parametrize("name", ["19", "5/0", "-1", "", "4 AWG", "0/1", "16 mm2", "18.0"])
def test_awg_number_refuses_other_names_and_says_what_is_right(name):
    with pytest.raises(TableError, match='use "18" to "1", then "1/0" to "4/0"'):
        awg_number(name)


def test_fixed_point_4_0_is_exact():
    assert diameter_mm("4/0") == pytest.approx(0.46 * 25.4, rel=1e-12)


def test_names_run_from_thin_to_thick():
    areas = [area_mm2(name) for name in AWG_NAMES]
    assert len(areas) == 22
    assert areas == sorted(areas)


def test_three_gauges_halve_the_area_to_one_percent():
    for thin, thick in zip(AWG_NAMES, AWG_NAMES[3:], strict=False):
        assert area_mm2(thick) / area_mm2(thin) == pytest.approx(2.0, rel=0.01)

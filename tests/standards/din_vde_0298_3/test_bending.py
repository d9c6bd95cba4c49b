import pytest

from ampwright.errors import TableError
from ampwright.standards.din_vde_0298_3 import bend_factor


def test_three_diameters_up_to_twelve_millimetres_and_four_above():
    assert [bend_factor(x) for x in (2.0, 8.0, 12.0, 12.1, 20.0, 40.0)] == [3.0, 3.0, 3.0, 4.0, 4.0, 4.0]


@pytest.mark.parametrize("outside_mm", [0.0, -1.0, 100.1])
def test_a_cable_of_no_size_is_refused(outside_mm):
    with pytest.raises(TableError):
        bend_factor(outside_mm)

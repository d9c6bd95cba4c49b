"""Shear strengths of bolts as printed in an engineering table after ČSN EN 1993-1-8, table 3.4.

Printed for one shear plane through the thread, M10 and M12, classes 4.6, 5.6, 8.8 and 10.9, in kN to one tenth,
together with A_s = 58 mm² and 84.3 mm².
"""

import pytest

from ampwright.errors import TableError
from ampwright.standards.en_1993_1_8 import bolt_shear_n

PRINTED_KN = {
    10: {"4.6": 11.1, "5.6": 13.9, "8.8": 22.3, "10.9": 23.2},
    12: {"4.6": 16.2, "5.6": 20.2, "8.8": 32.4, "10.9": 33.7},
}


@pytest.mark.parametrize("size", PRINTED_KN)
@pytest.mark.parametrize("name", ["4.6", "5.6", "8.8", "10.9"])
def test_printed_shear_strength(size, name):
    assert bolt_shear_n(size, bolt_class=name) / 1000.0 == pytest.approx(PRINTED_KN[size][name], abs=0.05)


@pytest.mark.parametrize(("size", "name"), [(16, "8.8"), (8, "12.9")])
def test_what_is_not_held_is_refused(size, name):
    with pytest.raises(TableError):
        bolt_shear_n(size, bolt_class=name)

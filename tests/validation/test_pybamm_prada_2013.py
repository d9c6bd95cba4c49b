"""Parameter set Prada2013 of PyBaMM (V. Sulzer and others, J. Open Research Software 9 (2021) 14; BSD-3), open-circuit part.

E. Prada and others, J. Electrochem. Soc. 160 (2013) A616: a lithium iron phosphate cell of 2.3 Ah, 3.6 V full, 2.0 V empty.
Positive electrode: S. Afshar and others, arXiv:1709.03970 (2017); graphite: C.-H. Chen and others, J. Electrochem. Soc. 167
(2020) 080534. PyBaMM itself would bring a solver many times the size of this program; the equilibrium of the cell needs
only its figures, which are written out here. Held to 5 to 98 % of charge, where the table is to be used.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from ampwright.energy.chemistry import open_circuit

FARADAY_C_PER_MOL = 96485.33212
AREA_M2 = 0.6 * 0.3
NEGATIVE_AH = FARADAY_C_PER_MOL * AREA_M2 * 3.4e-5 * 0.58 * 30555 / 3600
POSITIVE_AH = FARADAY_C_PER_MOL * AREA_M2 * 8e-5 * 0.374 * 22806 / 3600
NEGATIVE_FULL, POSITIVE_FULL = 0.81, 0.0038
FULL_V, EMPTY_V, RATED_AH = 3.6, 2.0, 2.3


def phosphate_v(share):
    return 3.4077 - 0.020269 * share + 0.5 * np.exp(-150 * share) - 0.9 * np.exp(-30 * (1 - share))


def graphite_v(share):
    waves = ((0.0909, 29.8538, 0.1234), (0.04478, 14.9159, 0.2769), (0.0205, 30.4444, 0.6103))
    plateau = 1.9793 * np.exp(-39.3631 * share) + 0.2482
    return plateau - sum(size * np.tanh(slope * (share - middle)) for size, slope, middle in waves)


def cell_v(taken_ah):
    """Voltage at rest after so much was taken from the cell as the set has it."""
    return phosphate_v(POSITIVE_FULL + taken_ah / POSITIVE_AH) - graphite_v(
        NEGATIVE_FULL - taken_ah / NEGATIVE_AH
    )


@pytest.fixture(scope="module")
def ends_ah():
    """Ah taken at which the cell rests at its full and its empty voltage."""
    full = brentq(lambda taken: cell_v(taken) - FULL_V, -0.1, 0.1)
    empty = brentq(lambda taken: cell_v(taken) - EMPTY_V, 2.0, 2.35)
    return full, empty


def test_the_cell_holds_its_rated_charge_between_its_voltages(ends_ah):
    full, empty = ends_ah
    assert empty - full == pytest.approx(RATED_AH, abs=0.05)


def test_every_point_of_the_table_is_the_cells(ends_ah):
    full, empty = ends_ah
    table = open_circuit("lfp")
    used = (table.soc_frac >= 0.05) & (table.soc_frac <= 0.98)
    assert np.count_nonzero(used) == 12
    wanted = cell_v(full + (1.0 - table.soc_frac[used]) * (empty - full))
    assert table.cell_v[used] == pytest.approx(wanted, abs=0.0001)


def test_straight_lines_between_the_points_miss_the_cell_by_what_the_docs_say(ends_ah):
    """Most between 10 and 20 % of charge, where 30 mV were hoped for."""
    full, empty = ends_ah
    table = open_circuit("lfp")
    charge = np.linspace(0.05, 0.98, 400)
    missed = np.interp(charge, table.soc_frac, table.cell_v) - cell_v(full + (1.0 - charge) * (empty - full))
    assert np.abs(missed).max() < 0.04
    assert 0.10 < charge[np.abs(missed).argmax()] < 0.20
    assert abs(missed.mean()) < 0.005


def test_rest_voltage_says_little_of_the_charge(ends_ah):
    """Why no state of charge is taken from it: half of the charge lies within 60 mV."""
    full, empty = ends_ah
    at_40, at_90 = (cell_v(full + (1.0 - charge) * (empty - full)) for charge in (0.4, 0.9))
    assert 0.0 < at_90 - at_40 < 0.07

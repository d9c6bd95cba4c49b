"""Cell temperature of panels close to a roof.

D. L. King, W. E. Boyson, J. A. Kratochvil, "Photovoltaic Array Performance Model", SAND2004-3535, 2004,
table 1: T = G exp(a + b w) + Ta + G/1000 dT with (a, b, dT) = (-2.98, -0.0471, 1) for close roof mount and
(-2.81, -0.0455, 0) for an insulated back, as printed in the parameter table of pvlib.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from ampwright.climate.plane import cell_degc


@pytest.mark.parametrize(
    ("mounting", "printed"),
    [("roof-gap", (-2.98, -0.0471, 1.0)), ("roof-bonded", (-2.81, -0.0455, 0.0))],
)
@pytest.mark.parametrize("irradiance_w_m2", [200.0, 600.0, 1000.0])
@pytest.mark.parametrize("wind_m_s", [0.0, 1.0, 3.0])
def test_king_2004_cell_temperature(mounting, printed, irradiance_w_m2, wind_m_s):
    a, b, extra_k = printed
    expected = irradiance_w_m2 * math.exp(a + b * wind_m_s) + 25.0 + irradiance_w_m2 / 1000.0 * extra_k
    ours = cell_degc(np.array([irradiance_w_m2]), np.array([25.0]), mounting=mounting, wind_m_s=wind_m_s)[0]
    # Two numbers replace three: half a kelvin in camp-site winds.
    assert ours == pytest.approx(expected, abs=0.5)

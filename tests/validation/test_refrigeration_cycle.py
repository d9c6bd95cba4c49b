"""Efficiency of refrigerators against the ideal vapour-compression cycle.

Coefficients of performance of a saturated cycle with isentropic compression, without superheat or subcooling,
computed with CoolProp 8.0.0 for R134a and R600a. A small machine cannot do better than that cycle; with an
isentropic efficiency of 0.6, motor and heat exchange, hermetic compressors of this size reach about half of it.
"""

from __future__ import annotations

import pytest

from ampwright.energy.physics.kernel import coefficient_of_performance
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.fridge import Fridge

FRIDGES = [part for part in shipped_catalogue().parts.values() if isinstance(part, Fridge)]


@pytest.mark.parametrize("fridge", FRIDGES, ids=lambda fridge: fridge.id)
@pytest.mark.parametrize(
    ("evaporator_degc", "condenser_degc", "r134a", "r600a"),
    [(-10.0, 45.0, 3.5163, 3.6013), (-10.0, 55.0, 2.7021, 2.7939), (-25.0, 55.0, 1.8767, 1.9353)],
)
def test_no_refrigerator_beats_the_ideal_cycle(fridge, evaporator_degc, condenser_degc, r134a, r600a):
    found = coefficient_of_performance(
        evaporator_degc + fridge.evaporator_below_k,
        condenser_degc - fridge.condenser_above_k,
        fridge.carnot_frac,
        fridge.evaporator_below_k,
        fridge.condenser_above_k,
    )
    assert 0.3 * min(r134a, r600a) < found < 0.7 * min(r134a, r600a)


def test_carnot_limit_at_the_same_temperatures():
    assert coefficient_of_performance(-10.0, 45.0, 1.0, 0.0, 0.0) == pytest.approx(4.7845, abs=5e-4)
    assert coefficient_of_performance(-10.0, 55.0, 1.0, 0.0, 0.0) == pytest.approx(4.0485, abs=5e-4)

"""J. F. Manwell and J. G. McGowan, Lead acid battery storage model for hybrid energy systems, Solar Energy 50 (1993) 399.

No worked example of the paper could be read. The figures here are an independent implementation's of its formulas
(capacity against discharge time; steps of constant current), the steps also by a Runge-Kutta integration of the two
wells that agreed to the printed six decimals. Constants are made up; c 0.315 and k 1.24/h are often quoted, from memory.
"""

import math
import runpy
from pathlib import Path

import numpy as np
import pytest

from ampwright.energy.kinetic import kinetic_capacity_frac
from ampwright.energy.physics.kernel import level_span_h

CASES = runpy.run_path(str(Path(__file__).parent.parent / "energy" / "kernel_cases.py"))

# share available, rate per hour, hours of discharge, charge taken over the whole charge
CAPACITIES = [
    (0.315, 1.24, 0.5, 0.381588),
    (0.315, 1.24, 5.0, 0.740724),
    (0.315, 1.24, 20.0, 0.919383),
    (0.25, 0.5, 1.0, 0.297547),
    (0.25, 0.5, 10.0, 0.626583),
    (0.25, 0.5, 100.0, 0.943396),
    (0.4, 1.0, 3.0, 0.677917),
    (0.6, 0.3, 8.0, 0.798353),
]
# discharge current, hours, available and bound charge after the step; start 30 and 70 Ah, c 0.3, k 0.5/h
STEPS = [
    (10.0, 1.0, 21.491429, 68.508571),
    (10.0, 1.0, 15.150312, 64.849688),
    (0.0, 2.0, 20.744382, 59.255618),
    (-8.0, 1.0, 28.832224, 59.167776),
    (15.0, 0.5, 21.399035, 59.100965),
]


@pytest.mark.parametrize(("share", "rate", "hours", "expected"), CAPACITIES)
def test_capacity_against_discharge_time(share, rate, hours, expected):
    found = kinetic_capacity_frac(hours, available_frac=share, exchange_per_h=rate)
    assert found == pytest.approx(expected, abs=5e-7)


def test_steps_of_constant_current():
    share, rate = 0.3, 0.5
    available, bound = 30.0, 70.0
    for current_a, hours, expected_available, expected_bound in STEPS:
        charge, level = available + bound, available / share
        level = charge + (level - charge) * math.exp(-rate * hours)
        level -= current_a * level_span_h(share, rate, hours)
        available = share * level
        bound = charge - current_a * hours - available
        assert available == pytest.approx(expected_available, abs=2e-6)
        assert bound == pytest.approx(expected_bound, abs=2e-6)


@pytest.mark.parametrize(("share", "rate", "hours", "expected"), CAPACITIES)
def test_the_simulation_empties_the_battery_at_that_capacity(share, rate, hours, expected):
    """Constant current until nothing is left; steps of a five-hundredth of the time."""
    current_a, step_h = 100.0 * expected / hours, hours / 500.0
    bank = CASES["bank"](curve=CASES["FLAT"], available_frac=share, exchange_per_h=rate)
    consumers = CASES["consumers"](1, kind=np.array([1]))
    steps = CASES["steps"](600, on_w=[12.0 * current_a], step_h=step_h)
    out = CASES["run"](bank, consumers, CASES["sources"](), CASES["fridges"](), steps, 100.0)
    emptied_h = float(np.argmax(out.is_unserved[:, 0])) * step_h
    assert emptied_h == pytest.approx(hours, abs=1.01 * step_h)

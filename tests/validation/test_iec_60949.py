"""Adiabatic heating: published values of k and worked examples.

References
----------
- k of copper for PVC insulation, 115 up to 300 mm2 (70 to 160 degC) and 103 above (70 to 140 degC), as published
  in an electrical engineer's article of 2014; the other k (BS 7671, tables 43.1 and 54.2 and 54.3) from memory,
  kept because an independent formula meets them.
- Examples 328 A and 120 A for 0.4 s, k = 115, from a forum thread of a professional institution; 2500 A for 0.1 s
  from an anonymous page on cable calculation.
"""

from __future__ import annotations

import pytest

from ampwright.standards.iec_60949 import adiabatic_constant_a_s05_per_mm2, fault_area, withstand_s

CONSTANTS = [
    (70.0, 160.0, 115),
    (70.0, 140.0, 103),
    (90.0, 160.0, 100),
    (90.0, 140.0, 86),
    (90.0, 250.0, 143),
    (60.0, 200.0, 141),
    (30.0, 160.0, 143),
    (30.0, 250.0, 176),
]


@pytest.mark.parametrize(("start_degc", "end_degc", "printed"), CONSTANTS)
def test_published_constants(start_degc, end_degc, printed):
    found = adiabatic_constant_a_s05_per_mm2(start_degc=start_degc, end_degc=end_degc)
    assert found == pytest.approx(printed, abs=0.51)


@pytest.mark.parametrize(
    ("current_a", "duration_s", "printed_mm2", "rounding_mm2"),
    [(328.0, 0.4, 1.80, 0.0051), (120.0, 0.4, 0.66, 0.0051), (2500.0, 0.1, 6.9, 0.051)],
)
def test_worked_examples_pvc(current_a, duration_s, printed_mm2, rounding_mm2):
    found = fault_area(current_a, duration_s=duration_s, start_degc=70.0, end_degc=160.0)
    assert found.area_mm2 == pytest.approx(printed_mm2, abs=rounding_mm2)
    assert withstand_s(found.area_mm2, current_a=current_a, start_degc=70.0, end_degc=160.0) == pytest.approx(
        duration_s
    )

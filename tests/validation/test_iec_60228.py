"""Copper conductors: printed resistances, temperature correction and millivolts per ampere and metre.

References
----------
- IEC 60228, maximum resistance of class 2 and class 5 copper at 20 degC, from two cable makers' reprints
  (editions not stated). Class 2 is typed here from the second one, which was not the source of the shipped rows.
- Factor from the measuring temperature to 20 degC, 1/(1 + a(t - 20)), printed by one of them to three decimals;
  a = 0.004 gives its figures, 0.00393 comes within 0.5 %.
- BS 7671, millivolts per ampere and metre of two-core cable, PVC 70 degC, and flexible cable at 90 degC (table 4F2,
  direct current), with four worked examples, as printed on an electrical contractor's page (edition not stated).
- Rule of thumb E = 0.0164 I L / S of a boat wiring page with its example of 0.38 V.
"""

from __future__ import annotations

import pytest

from ampwright.standards.iec_60228 import (
    conductor_areas_mm2,
    resistance_20_ohm_per_km,
    resistance_at_ohm_per_km,
)

CLASS_2_SECOND_REPRINT = {
    0.5: 36.0,
    0.75: 24.5,
    1.0: 18.1,
    1.5: 12.1,
    2.5: 7.41,
    4.0: 4.61,
    6.0: 3.08,
    10.0: 1.83,
    16.0: 1.15,
    25.0: 0.727,
    35.0: 0.524,
    50.0: 0.387,
    70.0: 0.268,
    95.0: 0.193,
    120.0: 0.153,
    150.0: 0.124,
}
CLASS_5 = {
    0.5: (39.0, 40.1),
    0.75: (26.0, 26.7),
    1.0: (19.5, 20.0),
    1.5: (13.3, 13.7),
    2.5: (7.98, 8.21),
    4.0: (4.95, 5.09),
    6.0: (3.30, 3.39),
    10.0: (1.91, 1.95),
    16.0: (1.21, 1.24),
    25.0: (0.780, 0.795),
    35.0: (0.554, 0.565),
    50.0: (0.386, 0.393),
    70.0: (0.272, 0.277),
    95.0: (0.206, 0.210),
    120.0: (0.161, 0.164),
    150.0: (0.129, 0.132),
}
PRINTED_TO_20_DEGC = {5.0: 1.064, 30.0: 0.962, 50.0: 0.893, 70.0: 0.833, 90.0: 0.781}
MV_PVC_70 = {1.0: 44, 1.5: 29, 2.5: 18, 4.0: 11, 6.0: 7.3, 10.0: 4.4, 16.0: 2.8}
MV_FLEXIBLE_90_DC = {4.0: 13.2, 6.0: 8.5, 10.0: 5.1, 16.0: 3.2}


def test_all_sizes_are_typed():
    assert conductor_areas_mm2() == tuple(CLASS_2_SECOND_REPRINT) == tuple(CLASS_5)


@pytest.mark.parametrize(("area_mm2", "printed"), [*CLASS_2_SECOND_REPRINT.items()])
def test_class_2_equals_second_reprint(area_mm2, printed):
    assert resistance_20_ohm_per_km(area_mm2, "class-2") == printed


@pytest.mark.parametrize(("area_mm2", "printed"), [*CLASS_5.items()])
def test_class_5_plain_and_tinned(area_mm2, printed):
    found = tuple(resistance_20_ohm_per_km(area_mm2, kind) for kind in ("class-5", "class-5-tinned"))
    assert found == printed


@pytest.mark.parametrize(("conductor_degc", "printed"), [*PRINTED_TO_20_DEGC.items()])
def test_printed_temperature_factors_use_rounded_coefficient(conductor_degc, printed):
    rounded = resistance_at_ohm_per_km(1.0, conductor_degc=conductor_degc, alpha_frac_per_k=0.004)
    assert 1.0 / rounded == pytest.approx(printed, abs=0.00051)
    assert 1.0 / resistance_at_ohm_per_km(1.0, conductor_degc=conductor_degc) == pytest.approx(
        printed, rel=0.005
    )


def two_core_mv(resistance_20: float, *, conductor_degc: float) -> float:
    """Return millivolts per ampere and metre of route, out and back."""
    return 2.0 * resistance_at_ohm_per_km(resistance_20, conductor_degc=conductor_degc)


@pytest.mark.parametrize(("area_mm2", "printed_mv"), [*MV_PVC_70.items()])
def test_bs_7671_pvc_70_degc(area_mm2, printed_mv):
    found = two_core_mv(resistance_20_ohm_per_km(area_mm2, "class-2"), conductor_degc=70.0)
    assert found == pytest.approx(printed_mv, rel=0.02)


@pytest.mark.parametrize(("area_mm2", "printed_mv"), [*MV_FLEXIBLE_90_DC.items()])
def test_bs_7671_flexible_90_degc(area_mm2, printed_mv):
    found = two_core_mv(resistance_20_ohm_per_km(area_mm2, "class-5-tinned"), conductor_degc=90.0)
    assert found == pytest.approx(printed_mv, rel=0.026)


@pytest.mark.parametrize(
    ("area_mm2", "current_a", "length_m", "printed_v"),
    [(4.0, 30.0, 20.0, 6.6), (6.0, 45.0, 40.0, 13.14), (10.0, 45.0, 40.0, 7.92), (1.5, 16.0, 10.0, 4.64)],
)
def test_bs_7671_worked_examples(area_mm2, current_a, length_m, printed_v):
    mv = two_core_mv(resistance_20_ohm_per_km(area_mm2, "class-2"), conductor_degc=70.0)
    assert mv * current_a * length_m / 1000.0 == pytest.approx(printed_v, rel=0.012)


def test_rule_of_thumb_flatters_the_cable():
    # 0.0164 ohm mm2/m is 5 % below pure copper at 20 degC: 1.6 A, 22 m and 1.5 mm2 print 0.38 V.
    class_2_v = resistance_20_ohm_per_km(1.5, "class-2") * 22.0 / 1000.0 * 1.6
    assert 0.38 * 17.24 / 16.4 < class_2_v < 0.38 * 1.13

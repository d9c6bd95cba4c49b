"""Current of a panel by its voltage against pvlib's single-diode model."""

import dataclasses

import numpy as np
import pvlib
import pytest

from ampwright.energy.panel_curve import (
    current_a,
    panel_curve,
    section_power_frac,
    sectioned_current_a,
)
from ampwright.parts.catalogue import shipped_catalogue

# a panel of 36 cells in pvlib's De Soto model: light current, saturation current, series and shunt resistance, a
DIODE = {"IL": 6.0, "I0": 4e-10, "Rs": 0.25, "Rsh": 250.0, "nNsVth": 36 * 1.05 * 0.025693}


def diode(light=1.0, sections=1):
    """Parameters of one of `sections` equal parts of the panel at a share of full light."""
    return {
        "photocurrent": DIODE["IL"] * light,
        "saturation_current": DIODE["I0"],
        "resistance_series": DIODE["Rs"] / sections,
        "resistance_shunt": DIODE["Rsh"] / sections / max(light, 1e-9),
        "nNsVth": DIODE["nNsVth"] / sections,
    }


@pytest.fixture(scope="module")
def panel():
    rated = pvlib.pvsystem.singlediode(**diode())
    return dataclasses.replace(
        shipped_catalogue().parts["panel-100"],
        short_circuit_a=float(rated["i_sc"]),
        open_circuit_v=float(rated["v_oc"]),
        max_power_a=float(rated["i_mp"]),
        max_power_v=float(rated["v_mp"]),
        power_w=float(rated["p_mp"]),
    )


def test_the_curve_meets_its_three_points(panel):
    at = np.array([0.0, panel.max_power_v, panel.open_circuit_v])
    got = current_a(panel, at, light_frac=np.ones(3), volt_factor=np.ones(3))
    assert got[0] == pytest.approx(panel.short_circuit_a)
    assert got[1] == pytest.approx(panel.max_power_a, rel=1e-4)
    assert got[2] == pytest.approx(0.0, abs=1e-3)
    assert 0.0 < panel_curve(panel).small_factor < 1e-3


@pytest.mark.parametrize("light", [0.2, 0.5, 1.0])
@pytest.mark.parametrize("volts", [11.0, 13.3, 14.4])
def test_current_at_battery_voltage_agrees_with_pvlib(panel, light, volts):
    expected = float(pvlib.pvsystem.i_from_v(voltage=volts, **diode(light)))
    got = current_a(panel, np.array([volts]), light_frac=np.array([light]), volt_factor=np.ones(1))
    assert got[0] == pytest.approx(expected, abs=0.03 * panel.short_circuit_a)


def sections_by_pvlib(lost):
    """Currents and voltages of a panel of sections with bypass diodes of 0.5 V, by pvlib's curves."""
    amps = np.linspace(0.0, DIODE["IL"], 4000)
    volts = np.zeros_like(amps)
    for one in lost:
        given = pvlib.pvsystem.v_from_i(current=amps, **diode(1.0 - one, len(lost)))
        volts += np.maximum(np.nan_to_num(given, nan=-0.5), -0.5)
    return amps, volts


@pytest.mark.parametrize(
    "lost", [(0.0, 0.0, 0.0), (0.0, 0.0, 0.5), (0.0, 0.0, 1.0), (0.1, 0.1, 0.2), (0.0, 0.8, 0.8), (0.0, 0.9)]
)
def test_shade_on_sections_agrees_with_a_sum_of_curves(panel, lost):
    amps, volts = sections_by_pvlib(lost)
    best_w = float((amps * volts).max())
    assert section_power_frac(panel, lost) == pytest.approx(best_w / panel.power_w, abs=0.05)


@pytest.mark.parametrize("lost", [(0.0, 0.0, 0.6), (0.2, 0.2, 0.2), (0.0, 0.0, 1.0)])
def test_a_section_in_shade_at_battery_voltage(panel, lost):
    amps, volts = sections_by_pvlib(lost)
    held = float(amps[volts >= 13.3].max(initial=0.0))
    got = sectioned_current_a(panel, np.array([13.3]), lost, light_frac=np.ones(1), volt_factor=np.ones(1))
    assert got[0] == pytest.approx(held, abs=0.08 * panel.short_circuit_a)


def test_even_shade_is_the_same_as_less_light(panel):
    assert section_power_frac(panel, (0.3, 0.3, 0.3)) == pytest.approx(0.7)


@pytest.mark.parametrize("light", [(1.0, 0.3), (0.9, 0.6), (0.5, 0.1)])
def test_parallel_strings_of_two_directions_lose_little_on_one_controller(light):
    volts = np.linspace(5.0, 23.0, 3000)
    one, other = (np.maximum(pvlib.pvsystem.i_from_v(voltage=volts, **diode(each)), 0.0) for each in light)
    together = float((volts * (one + other)).max())
    apart = float((volts * one).max()) + float((volts * other).max())
    assert together > 0.985 * apart

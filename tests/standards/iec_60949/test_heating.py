import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.cfr_33_183 import allowable_current_a
from ampwright.standards.iec_60949 import LaidConductor, cable_time_s, withstand_s
from ampwright.standards.iec_60949.heating import COPPER_BETA_K, COPPER_K

AREAS = st.sampled_from([1.0, 2.5, 6.0, 16.0, 50.0])


def laid(area_mm2, insulation_degc=105.0, ambient_degc=50.0):
    capacity = allowable_current_a(
        area_mm2,
        insulation_degc=insulation_degc,
        ambient_degc=ambient_degc,
        bundle_count=1,
        is_engine_space=False,
        system_v=12.0,
    )
    return LaidConductor(
        area_mm2=area_mm2,
        capacity_a=capacity.current_a,
        rated_degc=insulation_degc,
        ambient_degc=ambient_degc,
    )


def stepped_s(wire, current_a, start_degc, end_degc, step_s):
    """Return the same time by small steps of the heat balance, without its closed form."""
    theta, time_s = start_degc, 0.0
    store = COPPER_K**2 * wire.area_mm2**2
    leak = wire.capacity_a**2 * (COPPER_BETA_K + wire.rated_degc) / (wire.rated_degc - wire.ambient_degc)
    while theta < end_degc:
        gained = current_a**2 * (COPPER_BETA_K + theta) - leak * (theta - wire.ambient_degc)
        theta += gained / store * step_s
        time_s += step_s
        if time_s > 3600.0:
            return math.inf
    return time_s


@pytest.mark.parametrize(("area_mm2", "times"), [(1.0, 1.6), (2.5, 2.0), (16.0, 1.5), (50.0, 2.5)])
def test_closed_form_is_the_heat_balance_summed_up(area_mm2, times):
    wire = laid(area_mm2)
    current_a = times * wire.capacity_a
    exact = cable_time_s(wire, current_a=current_a, start_degc=105.0, end_degc=250.0)
    assert stepped_s(wire, current_a, 105.0, 250.0, exact / 4000.0) == pytest.approx(exact, rel=0.005)


@given(area_mm2=AREAS, current_a=st.floats(1.0, 20_000.0))
def test_never_shorter_than_adiabatic_and_equal_to_it_up_to_5_s(area_mm2, current_a):
    wire = laid(area_mm2)
    held_s = withstand_s(area_mm2, current_a=current_a, start_degc=105.0, end_degc=250.0)
    time_s = cable_time_s(wire, current_a=current_a, start_degc=105.0, end_degc=250.0)
    assert time_s >= held_s * (1.0 - 1e-9)
    if held_s <= 5.0:
        assert time_s == held_s


@pytest.mark.parametrize(
    ("area_mm2", "tolerance_frac"), [(1.0, 0.25), (2.5, 0.10), (6.0, 0.07), (16.0, 0.04), (50.0, 0.03)]
)
def test_both_models_agree_at_5_s(area_mm2, tolerance_frac):
    wire = laid(area_mm2)
    just_above_5_s = 0.999999 * withstand_current_a(area_mm2, 5.0)
    time_s = cable_time_s(wire, current_a=just_above_5_s, start_degc=105.0, end_degc=250.0)
    assert 5.0 < time_s <= 5.0 * (1.0 + tolerance_frac)


def withstand_current_a(area_mm2, duration_s):
    """Return the current endured for a time, from the time endured at 1 A."""
    return math.sqrt(withstand_s(area_mm2, current_a=1.0, start_degc=105.0, end_degc=250.0) / duration_s)


@given(area_mm2=AREAS, currents=st.tuples(st.floats(1.0, 5000.0), st.floats(1.0, 5000.0)))
def test_more_current_is_never_endured_for_longer(area_mm2, currents):
    assume(currents[0] != currents[1])
    wire = laid(area_mm2)
    less, more = (
        cable_time_s(wire, current_a=current_a, start_degc=105.0, end_degc=250.0)
        for current_a in sorted(currents)
    )
    assert more <= less


def test_its_continuous_capacity_is_endured_for_ever_and_more_leads_to_the_temperature_it_must():
    wire = laid(6.0)
    assert cable_time_s(wire, current_a=wire.capacity_a, start_degc=50.0, end_degc=105.001) == math.inf
    assert cable_time_s(wire, current_a=1.01 * wire.capacity_a, start_degc=50.0, end_degc=105.0) < math.inf
    assert cable_time_s(wire, current_a=0.0, start_degc=50.0, end_degc=105.0) == math.inf


def test_without_a_capacity_no_heat_is_given_off():
    wire = LaidConductor(area_mm2=2.5, capacity_a=0.0, rated_degc=70.0, ambient_degc=80.0)
    held_s = withstand_s(2.5, current_a=20.0, start_degc=70.0, end_degc=160.0)
    assert cable_time_s(wire, current_a=20.0, start_degc=70.0, end_degc=160.0) == held_s


def test_steady_rate_has_its_own_limit():
    # Warming and cooling alike make the rate the same at both ends.
    wire = LaidConductor(area_mm2=2.5, capacity_a=25.0, rated_degc=70.0, ambient_degc=30.0)
    even_a = 25.0 * math.sqrt((COPPER_BETA_K + 70.0) / 40.0)
    near = cable_time_s(wire, current_a=even_a * 1.0001, start_degc=70.0, end_degc=160.0)
    assert cable_time_s(wire, current_a=even_a, start_degc=70.0, end_degc=160.0) == pytest.approx(
        near, rel=0.001
    )


def test_a_capacity_in_air_hotter_than_the_insulation_is_refused():
    wire = LaidConductor(area_mm2=2.5, capacity_a=5.0, rated_degc=70.0, ambient_degc=80.0)
    with pytest.raises(TableError, match="capacity of 0"):
        cable_time_s(wire, current_a=20.0, start_degc=70.0, end_degc=160.0)

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.network.heat import enclosure_heat, output_frac, vent_w
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.validation import validated

HEAD = {
    "format": 1,
    "job": {"id": "box", "title": "Box", "date": "2026-01-15", "region": "uk-eu"},
    "vehicle": {"description": "van", "system_v": 12},
    "place": {"site": "potsdam-de"},
    "season": {"month": 7, "coldest_degc": 0, "hottest_degc": 43},
    "use": {"days": ["day"]},
    "day": [{"id": "day"}],
    "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": 43}],
}
CATALOGUE = shipped_catalogue()


def _heat(*parts, box="box-medium", load_w=0.0, ambient=43):
    raw = {**HEAD, "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": ambient}]}
    raw["part"] = [
        {"id": "battery", "part": "lfp-100", "zone": "hold"},
        {"id": "box", "part": box, "zone": "hold"},
        *({"id": f"p{n}", "part": part, "zone": "hold", "inside": "box"} for n, part in enumerate(parts)),
    ]
    if load_w:
        raw["load"] = [{"id": "ac", "name": "AC", "power_w": load_w, "through": "p0"}]
    return enclosure_heat(resolve(validated(Job, raw), CATALOGUE))


def test_an_empty_enclosure_gives_no_finding():
    assert _heat() == ()


def test_a_charger_below_its_derating_warms_the_box_by_loss_over_conductance():
    [heat] = _heat("dcdc-12-20", ambient=20)
    charger, box = CATALOGUE.find("dcdc-12-20"), CATALOGUE.find("box-medium")
    loss = charger.output_max_a * charger.charge_v * (1 / charger.efficiency_frac - 1)
    rise = loss / box.heat_loss_w_per_k
    assert heat.air_degc == pytest.approx(20 + rise) or rise > charger.derate_start_degc - 20


def test_the_fixed_point_of_a_derating_charger_meets_the_closed_form():
    [heat] = _heat("dcdc-12-60", ambient=50)
    charger, box = CATALOGUE.find("dcdc-12-60"), CATALOGUE.find("box-medium")
    full = charger.output_max_a * charger.charge_v * (1 / charger.efficiency_frac - 1)
    span = charger.derate_end_degc - charger.derate_start_degc
    # full * (end - T) / span = UA * (T - Ta), solved for T
    ua = box.heat_loss_w_per_k
    air = (full * charger.derate_end_degc / span + ua * 50) / (full / span + ua)
    assert charger.derate_start_degc < air < charger.derate_end_degc
    assert heat.air_degc == pytest.approx(air, abs=1e-9)
    assert heat.parts[0].output_frac == pytest.approx((charger.derate_end_degc - air) / span)
    assert not heat.is_cycling


def test_vents_cool_a_box():
    [closed] = _heat("dcdc-12-60", box="box-large")
    [vented] = _heat("dcdc-12-60", box="box-large-vented")
    assert vented.air_degc < closed.air_degc
    assert vented.parts[0].output_frac >= closed.parts[0].output_frac


def test_a_part_that_switches_off_by_heat_has_no_steady_point():
    [heat] = _heat("inv-3000", box="box-large", load_w=2900.0, ambient=40)
    assert heat.is_cycling
    assert heat.air_degc == pytest.approx(CATALOGUE.find("inv-3000").ambient_max_degc, abs=1e-6)


def test_an_inverter_without_load_gives_only_its_idle_heat():
    [heat] = _heat("inv-1000", ambient=20)
    assert heat.parts[0].loss_w == pytest.approx(CATALOGUE.find("inv-1000").idle_w)


@given(st.floats(0.0, 80.0), st.floats(0.0, 40.0))
def test_output_never_rises_with_heat(cool, more):
    for part_id in ("dcdc-12-40", "mains-20", "inv-2000", "solar-mp-30"):
        part = CATALOGUE.find(part_id)
        assert 0.0 <= output_frac(part, cool + more) <= output_frac(part, cool) <= 1.0


@given(st.floats(0.1, 60.0))
def test_vent_heat_grows_with_the_rise_to_the_power_of_three_halves(rise):
    one = vent_w(5000.0, height_mm=400.0, outside_degc=30.0, rise_k=rise)
    two = vent_w(5000.0, height_mm=400.0, outside_degc=30.0, rise_k=2 * rise)
    assert two / one == pytest.approx(2**1.5)
    assert math.isfinite(one)
    assert np.isclose(vent_w(10_000.0, height_mm=400.0, outside_degc=30.0, rise_k=rise), 2 * one)

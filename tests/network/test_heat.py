import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.network.heat import device_loss_w, enclosure_heat, fan_w, output_frac, sun_rise_k, vent_w
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


def test_a_fan_carries_density_times_heat_times_flow():
    # 60 m3/h = 1/60 m3/s; 1.2 * 1006 * 10 K / 60
    assert fan_w(60.0, rise_k=10.0) == pytest.approx(201.2)
    assert fan_w(60.0, rise_k=-3.0) == 0.0


def test_a_fan_holds_the_box_by_its_balance():
    [heat] = _heat("dcdc-12-20", "dcdc-12-20", box="box-large-fan", ambient=30)
    box, charger = CATALOGUE.find("box-large-fan"), CATALOGUE.find("dcdc-12-20")
    loss = 2 * charger.output_max_a * charger.charge_v * (1 / charger.efficiency_frac - 1)
    carried = box.heat_loss_w_per_k + 1.2 * 1006 * box.fan_m3_h / 3600
    assert heat.air_degc == pytest.approx(30 + loss / carried, abs=1e-6)


def test_sun_falls_on_top_and_half_of_the_largest_side():
    box = CATALOGUE.find("box-outside-dark")
    # 0.5 x 0.35 x 0.25 m: top 0.175, half a long side 0.0625, whole surface 0.775 m2
    assert sun_rise_k(box) == pytest.approx(52 * 0.2375 / 0.775)
    assert sun_rise_k(CATALOGUE.find("box-outside-pale")) == pytest.approx(26 * 0.2375 / 0.775)


def test_devices_at_a_part_in_the_box_warm_it():
    design = planted_box()
    currents = np.zeros(len(design.runs))
    currents[0] = 50.0
    inside = tuple(part for part in design.parts if part.inside >= 0)
    here = sum(device.part.resistance_ohm for device in design.runs[0].devices if device.end == "from")
    assert here > 0
    assert device_loss_w(design, currents, inside) == pytest.approx(2500 * here)
    currents[0] = math.nan
    assert device_loss_w(design, currents, inside) == 0.0


def planted_box():
    raw = {**HEAD}
    raw["part"] = [
        {"id": "box", "part": "box-medium", "zone": "hold"},
        {"id": "battery", "part": "lfp-100", "zone": "hold", "inside": "box"},
        {"id": "bar", "part": "bus-250", "zone": "hold"},
        {"id": "charger", "part": "mains-20", "zone": "hold", "inside": "box"},
    ]
    device = {"id": "F1", "part": "fuse-t-150", "distance_m": 0.1}
    raw["run"] = [
        {"id": "W1", "start": "battery", "end": "bar", "cable": "cable-35", "length_m": 1, "zones": ["hold"],
         "device": [device, {**device, "id": "F9", "end": "to"}]},
        {"id": "W2", "start": "bar", "end": "charger.out", "cable": "cable-10", "length_m": 1, "zones": ["hold"]},
        {"id": "W3", "start": "bar", "end": "lamp", "cable": "cable-10", "length_m": 1, "zones": ["hold"]},
    ]  # fmt: skip
    raw["load"] = [{"id": "lamp", "name": "Lamp", "power_w": 5}]
    return resolve(validated(Job, raw), CATALOGUE)


def test_the_battery_in_a_box_warms_it_while_it_charges():
    raw = {**HEAD, "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": 30}]}
    raw["part"] = [
        {"id": "box", "part": "box-medium", "zone": "hold"},
        {"id": "battery", "part": "lfp-100", "zone": "hold", "inside": "box"},
        {"id": "dcdc", "part": "dcdc-12-40", "zone": "hold"},
        {"id": "mains", "part": "mains-20", "zone": "hold"},
        {"id": "sun", "part": "solar-mp-30", "zone": "hold"},
        {"id": "roof", "part": "panel-100", "zone": "hold"},
    ]
    [heat] = enclosure_heat(resolve(validated(Job, raw), CATALOGUE))
    # engine running: 40 A and 100 W / 14.4 V of sun; 9 mohm and 3.9 W/K; the monitor's own 3 mA at 12 V
    current = 40 + 100 / 14.4
    lost = current**2 * 0.009 + 0.003 * 12
    assert heat.loss_w == pytest.approx(lost, abs=0.01)
    assert heat.air_degc == pytest.approx(30 + lost / 3.9, abs=0.01)


def test_a_charger_in_the_box_that_gives_less_warms_its_battery_less():
    raw = {**HEAD, "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": 50}]}
    raw["part"] = [
        {"id": "box", "part": "box-medium", "zone": "hold"},
        {"id": "battery", "part": "lfp-100", "zone": "hold", "inside": "box"},
        {"id": "dcdc", "part": "dcdc-12-40", "zone": "hold", "inside": "box"},
    ]
    [heat] = enclosure_heat(resolve(validated(Job, raw), CATALOGUE))
    share = (80 - heat.air_degc) / 30
    charger_w = 40 * share * 14.4 * (1 / 0.92 - 1)
    battery_w = (40 * share) ** 2 * 0.009
    own_w = 0.003 * 12
    assert 0 < share < 1
    assert heat.air_degc == pytest.approx(50 + (charger_w + battery_w + own_w) / 3.9, abs=0.01)


def test_a_battery_takes_no_more_than_its_charge_limit():
    raw = {**HEAD, "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": 20}]}
    raw["part"] = [
        {"id": "box", "part": "box-large-fan", "zone": "hold"},
        {"id": "battery", "part": "lfp-100", "zone": "hold", "inside": "box", "strings": 2},
        *({"id": f"d{n}", "part": "dcdc-12-60", "zone": "hold"} for n in range(4)),
    ]
    [heat] = enclosure_heat(resolve(validated(Job, raw), CATALOGUE))
    # 240 A are offered, two strings take 80 A each; their management's milliamperes are left open
    assert heat.loss_w == pytest.approx(160**2 * 0.0045, abs=0.1)


def test_an_inverter_that_charges_warms_its_box():
    part = next(part for part in CATALOGUE.parts.values() if getattr(part, "charger_max_a", 0.0) > 0.0)
    raw = {**HEAD, "zone": [{"id": "hold", "kind": "body", "ambient_max_degc": 20}]}
    raw["part"] = [
        {"id": "box", "part": "box-large-fan", "zone": "hold"},
        {"id": "battery", "part": "lfp-100", "zone": "hold"},
        {"id": "p", "part": part.id, "zone": "hold", "inside": "box"},
    ]
    [heat] = enclosure_heat(resolve(validated(Job, raw), CATALOGUE))
    inverter = next(one for one in heat.parts if one.loss_w > 10.0)
    # the full-load efficiency of its record, backwards
    hand = part.charger_max_a * part.charge_v * (1 / part.efficiency_100_frac - 1)
    assert inverter.output_frac > 0.9
    assert inverter.loss_w == pytest.approx(hand * inverter.output_frac, rel=1e-6)

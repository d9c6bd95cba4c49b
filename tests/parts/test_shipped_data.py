"""Do the shipped parts' figures hold together as a physicist and a fitter would expect?"""

import json
import math
import re
import tomllib
from importlib.resources import files

import pytest

from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.consistency import contradictions
from ampwright.parts.fridge import Fridge
from ampwright.parts.hardware import BusBar, Enclosure, Inlet, Outlet, Plug
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import KINDS
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.parts.switchgear import OutputModule, Sensor
from ampwright.parts.tables import kinds
from ampwright.validation import validated

CATALOGUE = shipped_catalogue()
PARTS = tuple(CATALOGUE.parts.values())


def each(kind):
    found = CATALOGUE.of_kind(kind)
    assert found
    return pytest.mark.parametrize("part", found, ids=[part.id for part in found])


def raw_parts():
    folder = files("ampwright.parts") / "data"
    for kind in sorted(kinds()):
        for raw in tomllib.loads((folder / f"{kind}.toml").read_text(encoding="utf-8"))["part"]:
            yield kind, raw


def test_enough_parts_of_every_kind():
    assert len(PARTS) >= 80
    assert {type(part) for part in PARTS} == set(KINDS)


def test_every_shipped_part_passes_the_validator_and_is_built_alike():
    count = 0
    for kind, raw in raw_parts():
        assert raw["kind"] == kind
        checked = validated(kinds()[kind], raw)
        built = CATALOGUE.find(raw["id"])
        assert checked == built
        assert repr(checked) == repr(built), "a whole number stands where a decimal belongs"
        count += 1
    assert count == len(PARTS), "an id stands twice"


@pytest.mark.parametrize("part", PARTS, ids=[part.id for part in PARTS])
def test_every_part_is_described(part):
    assert list(contradictions(part)) == []
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", part.id)
    assert len(part.id) <= 24
    assert "invented, realistic range" in part.source
    assert part.mass_kg > 0 or part.kind == "cable"
    assert min(part.length_mm, part.width_mm, part.height_mm) > 0 or part.kind == "cable"
    assert part.price_eur > 0 or part.kind == "cable"
    assert part.ingress_code == "" or re.fullmatch(r"IP\d\d", part.ingress_code)


@pytest.mark.parametrize("nominal_v", [12, 24])
def test_a_whole_system_can_be_built_at(nominal_v):
    def some(kind, field):
        return [part for part in CATALOGUE.of_kind(kind) if getattr(part, field) == nominal_v]

    batteries = [
        part
        for part in CATALOGUE.of_kind(Battery)
        if part.nominal_v == nominal_v or part.series_max_count > 1
    ]
    assert batteries
    assert some(AlternatorCharger, "output_nominal_v")
    assert some(MainsCharger, "output_nominal_v")
    assert some(PanelController, "output_nominal_v")
    assert some(Inverter, "input_nominal_v")
    assert some(OutputModule, "nominal_v")


@each(Battery)
def test_battery(part):
    packs = part.nominal_v / 12
    full_v = (13.4 if part.chemistry == "lfp" else 12.8) * packs
    steady_a = full_v / part.resistance_ohm
    low, high = (1.4, 1.6) if part.chemistry == "lfp" else (0.95, 1.05)
    assert low <= part.short_circuit_a / steady_a <= high
    assert part.discharge_peak_a < 0.5 * steady_a
    assert part.charge_max_a <= part.capacity_ah
    assert part.float_v < part.charge_v < part.charge_max_v
    assert part.standby_a <= 0.01
    if part.chemistry == "lfp":
        assert 10.0 <= part.cutoff_v / packs <= 11.0
        assert 14.2 <= part.charge_v / packs <= 14.4
        assert part.charge_max_v / packs == pytest.approx(14.6)
        assert part.charge_min_degc >= 0.0
        assert part.charge_efficiency_frac >= 0.97
        assert part.is_management_inside
        assert 0.7 <= part.resistance_ohm / packs * part.capacity_ah <= 1.2
        energy_wh_per_kg = part.nominal_v * 12.8 / 12 * part.capacity_ah / part.mass_kg
        assert 90 <= energy_wh_per_kg <= 150
    else:
        assert not part.is_management_inside
        assert part.usable_frac <= 0.6
        assert part.charge_max_a <= 0.3 * part.capacity_ah
        assert 35 <= part.nominal_v * part.capacity_ah / part.mass_kg <= 55
        volume_l = part.length_mm * part.width_mm * part.height_mm * 1e-6
        assert 1.5 <= part.mass_kg / volume_l <= 3.0


def test_a_hundred_ampere_hours_of_lfp_has_the_resistance_of_practice():
    battery = CATALOGUE.find("lfp-100")
    assert 0.008 <= battery.resistance_ohm <= 0.012
    assert battery.short_circuit_a > 1000


@each(Panel)
def test_panel(part):
    assert part.max_power_v * part.max_power_a == pytest.approx(part.power_w, rel=0.01)
    assert 1.18 <= part.open_circuit_v / part.max_power_v <= 1.24
    assert 1.03 <= part.short_circuit_a / part.max_power_a <= 1.10
    assert -0.0045 <= part.power_frac_per_k < part.open_circuit_v_frac_per_k < -0.002
    assert part.series_fuse_max_a >= 1.5 * part.short_circuit_a
    efficiency = part.power_w / (part.length_mm * part.width_mm * 1e-6 * 1000.0)
    assert 0.15 <= efficiency <= 0.22


@each(AlternatorCharger)
def test_alternator_charger(part):
    assert 0.85 <= part.efficiency_frac <= 0.95
    assert part.input_stop_v < part.input_start_v < part.input_max_v
    start_v = part.input_start_v / part.input_nominal_v * 12
    assert start_v < 12.4 if part.needs_run_signal else 13.0 <= start_v <= 13.4
    assert part.ambient_max_degc <= part.derate_end_degc


@each(MainsCharger)
def test_mains_charger(part):
    needed_w = part.output_max_a * part.charge_v / part.efficiency_frac
    assert needed_w <= part.input_max_w <= 1.15 * needed_w


@each(PanelController)
def test_panel_controller(part):
    assert part.output_max_a <= part.input_max_a
    assert part.input_max_v > 1.9 * part.output_nominal_v
    assert 0.93 <= part.efficiency_frac <= 0.99


def test_house_size_panel_has_a_controller_even_on_a_cold_morning():
    panel = CATALOGUE.find("panel-400")
    cold_v = panel.open_circuit_v * (1 + panel.open_circuit_v_frac_per_k * (-20 - 25))
    fitting = [part for part in CATALOGUE.of_kind(PanelController) if part.input_max_v > cold_v]
    assert {part.output_nominal_v for part in fitting} == {12.0, 24.0}


@each(Inverter)
def test_inverter(part):
    assert 0.8 <= part.efficiency_100_frac < part.efficiency_30_frac <= 0.95
    at_30_w = 0.3 * part.continuous_w
    assert part.idle_w < at_30_w * (1 / part.efficiency_30_frac - 1)
    assert part.continuous_at_40_degc_w < part.continuous_w <= part.continuous_va
    assert part.continuous_w < part.overload_w < part.surge_w
    has_charger = part.charger_max_a > 0
    assert (part.transfer_s > 0) == (part.charger_input_max_w > 0) == (part.charge_v > 0) == has_charger
    if has_charger:
        assert part.charger_input_max_w >= part.charger_max_a * part.charge_v / 0.95


@each(Fuse)
def test_fuse(part):
    assert part.rating_a <= part.holder_max_a
    assert 0.05 <= part.rating_a * part.resistance_ohm <= 0.16
    assert part.breaking_capacity_a >= 1000
    if part.family.startswith("iso"):
        assert part.rated_dc_v == 32.0


def test_fuse_series_are_complete_and_resistance_falls_with_rating():
    ratings = {}
    for fuse in CATALOGUE.of_kind(Fuse):
        ratings.setdefault(fuse.family, []).append((fuse.rating_a, fuse.resistance_ohm))
    for rows in ratings.values():
        assert rows == sorted(rows)
        assert [resistance for _, resistance in rows] == sorted((r for _, r in rows), reverse=True)
    assert [rating for rating, _ in ratings["iso-8820-3-f"]] == [3, 5, 7.5, 10, 15, 20, 25, 30]
    assert {"iso-8820-3-c", "iso-8820-3-e", "iso-8820-5-sf30", "iso-8820-5-sf51"} <= set(ratings)
    assert {"ul-248-15-t", "iec-60269-6-gpv"} <= set(ratings)


@each(Breaker)
def test_breaker(part):
    assert 0.05 <= part.rating_a * part.resistance_ohm <= 0.2
    assert part.breaking_capacity_a < 1500 or part.principle != "thermal"


@each(Isolator)
def test_isolator(part):
    assert part.rating_a**2 * part.resistance_ohm < 25


@each(OutputModule)
def test_output_module(part):
    channels = [number for group in part.outputs for number in range(group.first, group.last + 1)]
    assert channels == list(range(1, len(channels) + 1))
    single_max_a = max(group.max_a for group in part.outputs)
    assert single_max_a < part.total_max_a <= part.feed_fuse_max_a <= 1.5 * part.total_max_a
    for group in part.outputs:
        assert group.max_a**2 * group.resistance_ohm < 5.0


@each(Sensor)
def test_sensor(part):
    if part.senses == "current":
        assert part.rating_a * part.resistance_ohm == pytest.approx(0.05, rel=0.01)
    else:
        assert part.rating_a == part.resistance_ohm == 0


@each(Cable)
def test_cable(part):
    # resistivity of stranded copper, ohm mm2/km: annealed copper 17.241, class 5 and stranding up to 17 % more
    assert 17.241 <= part.resistance_ohm_per_km * part.area_mm2 <= 17.241 * 1.17
    copper_kg_per_m = part.core_count * part.area_mm2 * 8.9e-3
    assert copper_kg_per_m < part.mass_kg_per_m < 3.5 * copper_kg_per_m
    bundle_mm = math.sqrt(part.area_mm2 / 0.85 * 4 / math.pi)
    assert part.outside_mm > bundle_mm + 0.5
    assert part.short_time_degc == (250 if "cross-linked" in part.name else 160)


# IEC 60228:2004, Table 3 (class 5, plain): ohm/km at 20 degC; read in a second source
CLASS_5 = {
    1.5: 13.3,
    2.5: 7.98,
    4: 4.95,
    6: 3.30,
    10: 1.91,
    16: 1.21,
    25: 0.780,
    35: 0.554,
    50: 0.386,
    70: 0.272,
    95: 0.206,
}


def test_metric_cables_have_the_printed_resistance():
    metric = [part for part in CATALOGUE.of_kind(Cable) if part.system == "metric"]
    assert {part.area_mm2 for part in metric} == set(CLASS_5)
    for part in metric:
        assert part.resistance_ohm_per_km == CLASS_5[part.area_mm2]


def test_gauge_cables_follow_the_diameter_rule():
    """ASTM B258: gauge 36 is 0.005 in, gauge 4/0 is 0.46 in, a geometric series between."""
    gauges = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
    awg = [part for part in CATALOGUE.of_kind(Cable) if part.system == "awg"]
    assert len(awg) == 14
    for part in awg:
        text = part.sold_as.removesuffix(" AWG")
        gauge = gauges[text] if text in gauges else int(text)
        diameter_mm = 0.127 * 92 ** ((36 - gauge) / 39)
        assert part.area_mm2 == pytest.approx(math.pi / 4 * diameter_mm**2, rel=1e-3)
        assert part.resistance_ohm_per_km == pytest.approx(17.241 / part.area_mm2 * 1.02, rel=1e-3)


def test_cable_sold_by_outside_diameter_is_thinner_than_its_name():
    for part in CATALOGUE.of_kind(Cable):
        if part.sold_as.endswith("mm outside"):
            outside_mm = float(part.sold_as.split()[0])
            assert part.outside_mm == outside_mm
            assert part.area_mm2 < outside_mm
    assert CATALOGUE.find("cable-6-outside").area_mm2 == pytest.approx(4.6)


def test_gauge_cable_of_vehicles_has_less_copper():
    areas = {
        part.sold_as.split()[0]: part.area_mm2 for part in CATALOGUE.of_kind(Cable) if part.system == "awg"
    }
    reduced = [part for part in CATALOGUE.of_kind(Cable) if part.sold_as.endswith("gauge automotive")]
    assert len(reduced) == 6
    for part in reduced:
        assert 0.88 <= part.area_mm2 / areas[part.sold_as.split()[0]] <= 0.95


@each(BusBar)
def test_bus_bar(part):
    assert part.rating_a**2 * part.resistance_ohm < 15


@each(Plug)
def test_plug(part):
    assert part.rating_a**2 * part.resistance_ohm < 5
    assert part.rating_a / part.area_max_mm2 < 7


@each(Outlet)
def test_outlet(part):
    assert part.rating_a * part.resistance_ohm <= 0.25
    assert (part.rated_v > 50) == (part.supply == "ac")


def test_inlets_for_both_mains_voltages():
    assert {round(part.rated_v) for part in CATALOGUE.of_kind(Inlet)} == {125, 250}


@each(Enclosure)
def test_enclosure(part):
    sides = sorted((part.inside_length_mm, part.inside_width_mm, part.inside_height_mm))
    outside = sorted((part.length_mm, part.width_mm, part.height_mm))
    assert all(inner < outer for inner, outer in zip(sides, outside, strict=True))
    surface_m2 = 2e-6 * (sides[0] * sides[1] + sides[1] * sides[2] + sides[0] * sides[2])
    assert part.heat_loss_w_per_k == pytest.approx(5.0 * surface_m2, rel=0.05)


def mean_w_and_cop(fridge, air_degc):
    """Mean electrical power and coefficient of performance of the fridge model at steady air."""
    evaporator_k = fridge.set_degc - fridge.evaporator_below_k + 273.15
    condenser_k = air_degc + fridge.condenser_above_k + 273.15
    cop = fridge.carnot_frac * evaporator_k / (condenser_k - evaporator_k)
    leak_w = fridge.leak_w_per_k * fridge.opening_factor * (air_degc - fridge.set_degc)
    return leak_w / cop, cop


@each(Fridge)
def test_fridge(part):
    mean_w, cop = mean_w_and_cop(part, 32.0)
    assert 0.9 <= cop <= 1.8
    hot_w, _ = mean_w_and_cop(part, 43.0)
    assert hot_w < part.running_w
    assert 1.0 <= part.opening_factor <= 1.5
    assert part.restart_v - part.min_v >= 0.5
    assert part.start_a > part.running_w / 12
    if 40 <= part.volume_l <= 50 and part.set_degc > 0:
        assert 350 <= 24 * mean_w <= 750


def test_vaccine_fridge_holds_over_for_about_a_day():
    fridge = CATALOGUE.find("fridge-vaccine-30")
    leak_w = fridge.leak_w_per_k * fridge.opening_factor * (32.0 - fridge.set_degc)
    assert 20 <= fridge.cold_store_wh / leak_w <= 30


def test_no_maker_is_named():
    text = json.dumps([raw for _, raw in raw_parts()])
    assert not re.search(r"[®™©]|https?:", text)


@pytest.mark.parametrize("part", PARTS, ids=[part.id for part in PARTS])
def test_every_part_has_a_size_and_a_mass_and_no_part_is_heavier_than_lead(part):
    if isinstance(part, Cable):
        return
    sides = (part.length_mm, part.width_mm, part.height_mm)
    assert min(sides) > 0.0
    assert part.mass_kg > 0.0
    kg_per_litre = part.mass_kg * 1e6 / math.prod(sides)
    assert 0.05 < kg_per_litre < 11.3  # lead; the lightest are empty boxes


@each(Battery)
def test_energy_by_mass_and_volume_of_batteries(part):
    """Cased lithium iron phosphate 85 to 150 Wh/kg, lead-acid 30 to 50 Wh/kg (common practice, no source)."""
    energy_wh = part.capacity_ah * part.nominal_v
    low, high = (85.0, 150.0) if part.chemistry == "lfp" else (30.0, 50.0)
    assert low <= energy_wh / part.mass_kg <= high
    litres = part.length_mm * part.width_mm * part.height_mm / 1e6
    assert 60.0 <= energy_wh / litres <= 250.0


@each(Panel)
def test_power_of_panels_by_area(part):
    """100 to 230 W/m² (cell efficiencies of 14 to 23 % less frame; common practice, no source)."""
    area_m2 = part.length_mm * part.width_mm / 1e6
    assert 100.0 <= part.power_w / area_m2 <= 230.0


@pytest.mark.parametrize("part", PARTS, ids=[part.id for part in PARTS])
def test_what_gives_heat_or_shakes_loose_says_so(part):
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController | Inverter):
        assert part.air_gap_mm is not None
        assert part.air_gap_mm >= 20.0
    if isinstance(
        part, AlternatorCharger | MainsCharger | PanelController | Inverter | Battery | Fridge | Panel
    ):
        assert part.vibration_class


@each(Enclosure)
def test_enclosures_have_entries_smaller_than_their_walls(part):
    assert part.entries
    assert all(entry.cable_max_mm < part.inside_height_mm for entry in part.entries)

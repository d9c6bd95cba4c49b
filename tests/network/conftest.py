"""A small catalogue with round numbers, and designs made from a few lines of a job file."""

import tomllib
from collections.abc import Callable

import pytest

from ampwright.job.design import Design
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.hardware import BusBar
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse
from ampwright.parts.switchgear import OutputGroup, OutputModule, Sensor
from ampwright.validation import validated

NAMED = {"source": "invented for tests"}
BATTERY = Battery(
    id="bank", name="battery", kind="battery", chemistry="lfp", nominal_v=12, capacity_ah=100,
    resistance_ohm=0.004, short_circuit_a=1440, charge_max_a=100, discharge_max_a=200, discharge_peak_a=300,
    charge_v=14.4, charge_max_v=14.6, float_v=13.6, cutoff_v=10.0, reconnect_v=12, charge_min_degc=0,
    charge_max_degc=50, discharge_min_degc=-20, usable_frac=0.8,
    self_discharge_frac_per_month=0.02, charge_efficiency_frac=0.99, **NAMED,
)  # fmt: skip
CABLE = Cable(
    id="wire", name="cable", kind="cable", sold_as="round", system="metric", area_mm2=17.0,
    resistance_ohm_per_km=1.0, insulation_degc=105, outside_mm=7, mass_kg_per_m=0.2, price_eur_per_m=2,
    short_time_degc=160, **NAMED,
)  # fmt: skip
FUSE = Fuse(
    id="fuse", name="fuse", kind="fuse", family="iso-8820-3-c", rating_a=30, rated_dc_v=32,
    breaking_capacity_a=1000, resistance_ohm=0.003, holder_max_a=30, **NAMED,
)  # fmt: skip
BREAKER = Breaker(
    id="breaker", name="breaker", kind="breaker", principle="thermal", rating_a=50, rated_dc_v=48,
    breaking_capacity_a=3000, resistance_ohm=0.001, is_polarised=False, **NAMED,
)  # fmt: skip
ALTERNATOR_CHARGER = AlternatorCharger(
    id="dcdc", name="charger", kind="alternator-charger", input_nominal_v=12, output_nominal_v=12,
    input_start_v=13, input_stop_v=12, input_max_v=16, output_max_a=30, charge_v=14.0, charge_v_min_v=13.8,
    charge_v_max_v=14.8, float_v=13.5, efficiency_frac=0.875, derate_start_degc=40, derate_end_degc=70,
    needs_run_signal=False, chemistries=("lfp",), **NAMED,
)  # fmt: skip
MAINS_CHARGER = MainsCharger(
    id="mains", name="charger", kind="mains-charger", input_ac_v=230, input_max_w=500, output_nominal_v=12,
    output_max_a=25, charge_v=14.2, charge_v_min_v=13.8, charge_v_max_v=14.8, float_v=13.5,
    efficiency_frac=0.9, derate_start_degc=40, derate_end_degc=70, chemistries=("lfp",), **NAMED,
)  # fmt: skip
CONTROLLER = PanelController(
    id="mppt", name="controller", kind="panel-controller", tracking="maximum-power", output_nominal_v=12,
    input_max_v=100, input_max_a=30, output_max_a=20, start_above_battery_v=5, charge_v=14.2,
    charge_v_min_v=13.8, charge_v_max_v=14.8, float_v=13.5, efficiency_frac=0.97, chemistries=("lfp",),
    standby_a=0.02, **NAMED,
)  # fmt: skip
PANEL = Panel(
    id="panel", name="panel", kind="panel", power_w=100, open_circuit_v=24, short_circuit_a=6,
    max_power_v=20, max_power_a=5, open_circuit_v_frac_per_k=-0.003, power_frac_per_k=-0.004,
    system_max_v=100, series_fuse_max_a=15, **NAMED,
)  # fmt: skip
INVERTER = Inverter(
    id="inverter", name="inverter", kind="inverter", input_nominal_v=12, input_min_v=10.5, input_max_v=16,
    output_ac_v=230, continuous_w=1000, continuous_va=1000, continuous_at_40_degc_w=900, overload_w=1500,
    overload_s=60, surge_w=2000, idle_w=10, efficiency_30_frac=0.92, efficiency_100_frac=0.88,
    transfer_s=0.02, **NAMED,
)  # fmt: skip
MODULE = OutputModule(
    id="module", name="module", kind="output-module", nominal_v=12, total_max_a=60, feed_fuse_max_a=60,
    outputs=(OutputGroup(first=1, last=3, max_a=15, resistance_ohm=0.01),), standby_a=0.1, **NAMED,
)  # fmt: skip
SHUNT = Sensor(
    id="shunt", name="shunt", kind="sensor", senses="current", rating_a=300, resistance_ohm=0.0001, **NAMED
)
BAR = BusBar(
    id="bar", name="bar", kind="bus-bar", rating_a=200, rated_dc_v=48, stud_count=6, resistance_ohm=0, **NAMED
)
PARTS: tuple[Part, ...] = (
    BATTERY, CABLE, FUSE, BREAKER, ALTERNATOR_CHARGER, MAINS_CHARGER, CONTROLLER, PANEL, INVERTER, MODULE,
    SHUNT, BAR,
)  # fmt: skip

HEAD = """
format = 1
place = { weather_file = "never-read.epw" }
season = { month = 6, coldest_degc = 0, hottest_degc = 5 }
job = { id = "j", title = "t", date = 2026-01-01, region = "uk-eu" }
"""
USE = 'use = { days = ["work"] }\nday = [{ id = "work", period = [{ start = "08:00", end = "09:00", state = "road" }] }]\n'
VEHICLE = """
[vehicle]
description = "van"
system_v = 12
starter_battery = { capacity_ah = 80, short_circuit_a = 1500, resistance_ohm = 0.005 }
[vehicle.alternator]
rating_a = 120
regulation = "regulated"
voltage_v = 14.0
lowest_v = 12.5
highest_v = 15.0
hot_road_frac = 0.7
hot_idle_frac = 0.4
own_load_day_a = 30
own_load_night_a = 45
"""


@pytest.fixture
def make_design() -> Callable[..., Design]:
    """Return a function: text of parts, runs and loads, and of the use -> design.

    The hottest air is 5 degC: at working temperature (15 K more) copper has its resistance of 20 degC.
    A metre of run "wire" is a loop of 2 mohm.
    """
    catalogue = Catalogue(parts={part.id: part for part in PARTS}, origin={})

    def made(text: str, use: str = USE, vehicle: str = VEHICLE, more_parts: tuple[Part, ...] = ()) -> Design:
        job = validated(Job, tomllib.loads(HEAD + use + text + "\n" + vehicle))
        more = {part.id: part for part in more_parts}
        known = Catalogue(parts={**catalogue.parts, **more}, origin={}) if more else catalogue
        return resolve(job, known)

    return made


@pytest.fixture
def part_of_tests() -> dict[str, Part]:
    """Return the parts of the small catalogue."""
    return {part.id: part for part in PARTS}

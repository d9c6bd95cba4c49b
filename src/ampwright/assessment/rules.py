"""The rules: a new rule is one function in a topic module and one line here."""

from __future__ import annotations

from ampwright.assessment.as_left import AS_LEFT
from ampwright.assessment.battery import DEPTH_OF_DISCHARGE, DISCHARGE_CURRENT, STRING_PROTECTION
from ampwright.assessment.battery_charge import (
    BATTERIES_JOINED,
    CHARGE_CURRENT,
    CHARGE_VOLTAGE,
    COLD_CHARGING,
)
from ampwright.assessment.battery_life import BATTERY_LIFE, CHARGED_FULL
from ampwright.assessment.buttons import BUTTON_DIMMING, BUTTON_EFFECT, BUTTON_LEGEND, LOAD_BUTTON
from ampwright.assessment.cable_path import BEND_RADIUS, CABLE_ENTRY
from ampwright.assessment.cable_support import CABLE_SUPPORT
from ampwright.assessment.cables import BUS_BAR_RATING, CABLE_CAPACITY, CABLE_MINIMUM_SIZE, PLUG_RATING
from ampwright.assessment.capacitors import INVERTER_CAPACITORS
from ampwright.assessment.charge_habits import CHARGE_HABITS
from ampwright.assessment.charging import ALTERNATOR_SPARE, RUN_SIGNAL
from ampwright.assessment.converters import CONVERTER_FAILS_SHORTED, CONVERTER_LIMIT, CONVERTER_LOAD
from ampwright.assessment.cutoff_ladder import CUTOFF_LADDER, CUTOFF_RESTART
from ampwright.assessment.device_place import DEVICE_AT_SOURCE, FED_FROM_BOTH_ENDS, ISOLATOR
from ampwright.assessment.device_size import DEVICE_AGAINST_CABLE, OUTPUT_FAILS_SHORTED
from ampwright.assessment.enclosure import ENCLOSURE_HEAT
from ampwright.assessment.fault_time import FAR_FAULT_CLEARS
from ampwright.assessment.float_voltage import FLOAT_VOLTAGE
from ampwright.assessment.hot_exhaust import EXHAUST_DISTANCE
from ampwright.assessment.inrush import INRUSH
from ampwright.assessment.lock_out import CHARGER_LOCK_OUT
from ampwright.assessment.mains_frequency import MAINS_FREQUENCY
from ampwright.assessment.mains_lead import MAINS_LEAD, MAINS_LEAD_DROP, MAINS_PLUGS
from ampwright.assessment.mains_legs import GENERATOR_START, MAINS_LEGS
from ampwright.assessment.mains_people import EARTH_CONTINUITY, POLES_SWITCHED, RESIDUAL_CURRENT_DEVICE
from ampwright.assessment.mains_side import MAINS_DESCRIBED
from ampwright.assessment.mains_sources import (
    INVERTER_OUTPUT_DEVICE,
    MAINS_CERTIFICATE,
    NEUTRAL_EARTH_LINK,
    SUPPLY_TRANSFER,
)
from ampwright.assessment.mains_supply import GENERATOR_SIZE, MAINS_LOOP, MAINS_VOLTAGE
from ampwright.assessment.module_ports import MODULE_PORT, OUTSIDE_CERTIFICATE
from ampwright.assessment.negatives import EARTH_AND_POLARITY
from ampwright.assessment.neighbours import GAS_AND_FUEL_DISTANCE, SLEEPING_PLACE
from ampwright.assessment.nominal import NOMINAL_VOLTAGE
from ampwright.assessment.outlets import AUTO_RESET, INLET_RATING, OUTLET_RATING
from ampwright.assessment.outputs import CHANNEL_CURRENT, MODULE_CURRENT, NEGATIVE_SWITCHED
from ampwright.assessment.overload import INVERTER_OVERLOAD
from ampwright.assessment.overload_time import INVERTER_OVERLOAD_TIME
from ampwright.assessment.overrides import OVERRIDE
from ampwright.assessment.panels import (
    PANEL_COLD_VOLTAGE,
    PANEL_CURRENT,
    PANEL_STRING_FUSES,
    PANEL_TOUCH_VOLTAGE,
)
from ampwright.assessment.panels_fit import PANELS_FIT
from ampwright.assessment.parts_fit import PARTS_FIT
from ampwright.assessment.places import BATTERY_GAS, PART_INGRESS, PART_TEMPERATURE
from ampwright.assessment.plates import PLATE_AIR, PLATE_LAYOUT
from ampwright.assessment.polarity import BREAKER_POLARITY
from ampwright.assessment.protection import BREAKING_CAPACITY, DEVICE_CARRIES_LOAD, DEVICE_VOLTAGE
from ampwright.assessment.relays import (
    RELAY_BOTH_ENDS,
    RELAY_CHARGING,
    RELAY_PICK_UP,
    RELAY_RATING,
    RELAY_START,
)
from ampwright.assessment.restraint import RESTRAINT
from ampwright.assessment.restraint_tipping import RESTRAINT_TIPPING
from ampwright.assessment.road_light import ROAD_LIGHT
from ampwright.assessment.rule import Rule
from ampwright.assessment.selectivity import DISCRIMINATION
from ampwright.assessment.service import (
    COMFORT_LOADS,
    CONTENTS_TEMPERATURE,
    ESSENTIAL_LOADS,
    INVERTER_POWER,
    RESERVE,
    STORAGE,
    TREND,
)
from ampwright.assessment.setting_range import SETTING_RANGE
from ampwright.assessment.stop_wire import STOP_WIRE
from ampwright.assessment.string_share import STRING_SHARE
from ampwright.assessment.surges import ENGINE_START, LOAD_DUMP
from ampwright.assessment.tap import BATTERY_TAP
from ampwright.assessment.terminals import TERMINAL_TEMPERATURE, TERMINALS_FIT
from ampwright.assessment.uncounted import CURRENT_SENSOR
from ampwright.assessment.vehicle_load import AXLE_LOAD, GROUND_CLEARANCE, PLACE_LOAD
from ampwright.assessment.vibration import VIBRATION
from ampwright.assessment.voltage import FEED_CARRIES_LOAD, HIGHEST_VOLTAGE, LOWEST_VOLTAGE, WIRED
from ampwright.assessment.within_reach import REACH
from ampwright.assessment.zone_air import ZONE_AIR

__all__ = ["MAINS_RULES", "RULES"]

MAINS_RULES: tuple[Rule, ...] = (
    MAINS_DESCRIBED,
    RESIDUAL_CURRENT_DEVICE,
    EARTH_CONTINUITY,
    SUPPLY_TRANSFER,
    NEUTRAL_EARTH_LINK,
    POLES_SWITCHED,
    INVERTER_OUTPUT_DEVICE,
    MAINS_VOLTAGE,
    MAINS_FREQUENCY,
    MAINS_LEGS,
    MAINS_PLUGS,
    MAINS_LEAD,
    MAINS_LEAD_DROP,
    MAINS_LOOP,
    GENERATOR_SIZE,
    GENERATOR_START,
    MAINS_CERTIFICATE,
)
"""What a licensed electrician has to know of and decide on."""

RULES: tuple[Rule, ...] = (
    ESSENTIAL_LOADS,
    CONTENTS_TEMPERATURE,
    COMFORT_LOADS,
    RESERVE,
    DEPTH_OF_DISCHARGE,
    BATTERY_LIFE,
    CHARGED_FULL,
    TREND,
    INVERTER_POWER,
    INVERTER_OVERLOAD_TIME,
    ALTERNATOR_SPARE,
    RUN_SIGNAL,
    RELAY_PICK_UP,
    CONVERTER_LOAD,
    STORAGE,
    PARTS_FIT,
    PLATE_LAYOUT,
    PLATE_AIR,
    PANELS_FIT,
    PLACE_LOAD,
    AXLE_LOAD,
    GROUND_CLEARANCE,
    ENGINE_START,
    CURRENT_SENSOR,
    LOAD_BUTTON,
    BUTTON_EFFECT,
    BUTTON_LEGEND,
    BUTTON_DIMMING,
    ROAD_LIGHT,
    WIRED,
    FEED_CARRIES_LOAD,
    CABLE_CAPACITY,
    CABLE_MINIMUM_SIZE,
    TERMINALS_FIT,
    TERMINAL_TEMPERATURE,
    PLUG_RATING,
    BUS_BAR_RATING,
    OUTLET_RATING,
    INLET_RATING,
    DEVICE_AGAINST_CABLE,
    DEVICE_CARRIES_LOAD,
    DEVICE_AT_SOURCE,
    FED_FROM_BOTH_ENDS,
    BREAKING_CAPACITY,
    FAR_FAULT_CLEARS,
    DISCRIMINATION,
    INRUSH,
    BREAKER_POLARITY,
    DEVICE_VOLTAGE,
    AUTO_RESET,
    OUTPUT_FAILS_SHORTED,
    CONVERTER_LIMIT,
    CONVERTER_FAILS_SHORTED,
    ISOLATOR,
    NOMINAL_VOLTAGE,
    LOWEST_VOLTAGE,
    HIGHEST_VOLTAGE,
    BATTERIES_JOINED,
    BATTERY_TAP,
    RELAY_CHARGING,
    RELAY_RATING,
    RELAY_START,
    RELAY_BOTH_ENDS,
    CHARGE_CURRENT,
    CHARGE_VOLTAGE,
    FLOAT_VOLTAGE,
    CHARGE_HABITS,
    SETTING_RANGE,
    AS_LEFT,
    CUTOFF_LADDER,
    CUTOFF_RESTART,
    CHARGER_LOCK_OUT,
    STOP_WIRE,
    DISCHARGE_CURRENT,
    INVERTER_OVERLOAD,
    INVERTER_CAPACITORS,
    LOAD_DUMP,
    EARTH_AND_POLARITY,
    STRING_PROTECTION,
    STRING_SHARE,
    COLD_CHARGING,
    PANEL_COLD_VOLTAGE,
    PANEL_CURRENT,
    PANEL_STRING_FUSES,
    PANEL_TOUCH_VOLTAGE,
    CHANNEL_CURRENT,
    MODULE_CURRENT,
    NEGATIVE_SWITCHED,
    MODULE_PORT,
    OUTSIDE_CERTIFICATE,
    PART_TEMPERATURE,
    PART_INGRESS,
    BATTERY_GAS,
    ENCLOSURE_HEAT,
    ZONE_AIR,
    VIBRATION,
    RESTRAINT,
    RESTRAINT_TIPPING,
    GAS_AND_FUEL_DISTANCE,
    EXHAUST_DISTANCE,
    SLEEPING_PLACE,
    CABLE_ENTRY,
    BEND_RADIUS,
    CABLE_SUPPORT,
    REACH,
    *MAINS_RULES,
    OVERRIDE,
)
"""In the order in which findings of equal weight are shown."""

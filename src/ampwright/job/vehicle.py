"""What the vehicle brings: voltage, alternator, starter battery, zones where parts live."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import MaxLen

from ampwright.job.fit import Rectangle, VehicleMass
from ampwright.job.quantity import (
    AirTemperatureAmount,
    Amount,
    FractionAmount,
    NonNegativeAmount,
    PositiveAmount,
)
from ampwright.records import record

__all__ = ["Alternator", "SecondAlternator", "StarterBattery", "Vehicle", "Zone"]


@record
class Alternator:
    """The alternator and what the vehicle itself takes from it."""

    rating_a: PositiveAmount
    """Rated current on the label (cold, high speed)."""
    regulation: Literal["fixed", "regulated", "converter"]
    """Fixed voltage, electronically regulated, or a small converter (hybrid vehicles)."""
    voltage_v: PositiveAmount
    """Voltage at the starter battery while charging."""
    lowest_v: PositiveAmount
    """Lowest voltage the regulation lets it fall to on the road."""
    highest_v: PositiveAmount
    """Highest voltage the regulation lets it rise to."""
    hot_road_frac: FractionAmount
    """Part of the rating it gives hot, on the road."""
    hot_idle_frac: FractionAmount
    """Part of the rating it gives hot, at idle."""
    own_load_day_a: NonNegativeAmount
    """Current the vehicle itself takes by day, engine running."""
    own_load_night_a: NonNegativeAmount
    """Current the vehicle itself takes by night, lights on."""
    clamps_load_dump: bool | None = None
    """True when its diodes limit the load dump, as its maker states; absent = not known."""
    hot_road_a: PositiveAmount | None = None
    """What it gave hot on the road with everything asked of it, by clamp meter; goes before hot_road_frac."""
    hot_idle_a: PositiveAmount | None = None
    """What it gave hot at idle with everything asked of it, by clamp meter; goes before hot_idle_frac."""
    engine_off_frac: FractionAmount | None = None
    """Part of the time on the road in which nothing charges: engine stopped at lights, converter off; absent = not said."""
    run_signal: Literal["not-said", "ignition", "charge-lamp", "data-bus", "vibration"] = "not-said"
    """What tells chargers and relays that the engine runs: ignition wire, charge lamp or field of the alternator, message of the engine computer, shaking."""


@record
class SecondAlternator:
    """A second alternator on the same engine, with no load of the vehicle's own."""

    feeds: Literal["vehicle", "auxiliary"]
    """Joined to the starter battery, or apart from it: then it is the node "second-alternator", for chargers or the auxiliary battery."""
    rating_a: PositiveAmount
    """Rated current on the label (cold, high speed)."""
    regulation: Literal["fixed", "regulated"]
    """Fixed voltage, or electronically regulated."""
    voltage_v: PositiveAmount
    """Voltage while charging."""
    lowest_v: PositiveAmount
    """Lowest voltage the regulation lets it fall to on the road."""
    highest_v: PositiveAmount
    """Highest voltage the regulation lets it rise to."""
    hot_road_frac: FractionAmount
    """Part of the rating it gives hot, on the road."""
    hot_idle_frac: FractionAmount
    """Part of the rating it gives hot, at idle."""
    hot_road_a: PositiveAmount | None = None
    """What it gave hot on the road, by clamp meter; goes before hot_road_frac."""
    hot_idle_a: PositiveAmount | None = None
    """What it gave hot at idle, by clamp meter; goes before hot_idle_frac."""
    limits_by_heat: bool | None = None
    """True when its regulator lowers its output by its own temperature; absent = not said. Asked straight on a lithium battery."""


@record
class StarterBattery:
    """The vehicle's own battery."""

    capacity_ah: PositiveAmount
    """Rated capacity."""
    short_circuit_a: PositiveAmount
    """Prospective fault current at its terminals."""
    resistance_ohm: PositiveAmount
    """Internal resistance."""
    standby_a: NonNegativeAmount = 0.02
    """What the parked vehicle takes from it."""


@record
class Vehicle:
    """The vehicle that carries the system."""

    description: str
    """Plain words: what it is."""
    system_v: Literal[12, 24]
    """Nominal voltage of the vehicle."""
    alternator: Alternator | None = None
    """Absent for a trailer or a vehicle whose alternator is not used."""
    second_alternator: SecondAlternator | None = None
    """Absent where there is only one."""
    starter_battery: StarterBattery | None = None
    """Absent for a trailer."""
    chassis_resistance_ohm: NonNegativeAmount = 0.002
    """Resistance of the chassis as a return path, bonds included."""
    body_preset: Literal["van-body-insulated", "van-body-bare", "box-body"] = "van-body-insulated"
    """How the closed body warms in the sun."""
    carries_gas: bool | None = None
    """True with a gas cylinder or gas tank for cooking or heating aboard; absent = not said."""
    fuel: Literal["petrol", "diesel", "electric", "none"] | None = None
    """What it runs on; "none" for a trailer; absent = not said."""
    people_sleep: bool | None = None
    """True when people sleep in it; absent = not said."""
    mass: VehicleMass | None = None
    """Masses and limits; absent = not said."""


@record
class Zone:
    """A place in or on the vehicle."""

    id: str
    """Name used by parts, runs and loads."""
    kind: Literal["cabin", "body", "locker", "engine", "roof", "outside", "underbody"]
    """What sort of place; engine space takes the book's engine-space factors."""
    ambient_max_degc: AirTemperatureAmount
    """Highest air temperature to be reckoned with for cables and devices here."""
    rise_k: Amount = 0.0
    """Air here is this much hotter than inside air (body, cabin, locker) or outside air (others)."""
    length_mm: PositiveAmount | None = None
    """Free length inside, along the vehicle; absent = not said, as for all that follows."""
    width_mm: PositiveAmount | None = None
    """Free width inside."""
    height_mm: PositiveAmount | None = None
    """Free height inside."""
    free: Annotated[tuple[Rectangle, ...], MaxLen(12)] = ()
    """Free rectangles of a roof."""
    load_limit_kg: PositiveAmount | None = None
    """What its floor, shelf or mount may carry."""
    from_front_axle_mm: Amount | None = None
    """Its middle behind the front axle (of a trailer: behind the coupling); negative ahead of it."""
    floor_above_ground_mm: NonNegativeAmount | None = None
    """Its floor above the ground; under the body: the lowest point of what is mounted here."""
    gas_mm: NonNegativeAmount | None = None
    """Distance to the nearest gas cylinder or the vent of its locker; 0 = the same space."""
    is_sealed_from_gas: bool | None = None
    """True when a gas-tight wall stands between this place and the cylinders."""
    fuel_mm: NonNegativeAmount | None = None
    """Distance to the nearest fuel filler, tank or line."""
    exhaust_mm: NonNegativeAmount | None = None
    """Least distance of parts and cables here from a hot exhaust: of the engine, a heater or a generator."""
    has_heat_shield: bool | None = None
    """True when a metal shield stands between them."""
    is_sleeping_place: bool | None = None
    """True when people sleep in the air of this place."""
    is_reachable_loaded: bool | None = None
    """True when a hand reaches what is here with the vehicle loaded and people aboard."""
    vibration: Literal["body", "engine", "wheel"] | None = None
    """What shakes it: the sprung body, the engine or gearbox, an axle or wheel; absent = by its kind."""
    tightest_bend_mm: PositiveAmount | None = None
    """Smallest radius, at the inner side of the cable, that the routes here allow."""

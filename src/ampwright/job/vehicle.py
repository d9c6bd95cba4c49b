"""What the vehicle brings: voltage, alternator, starter battery, zones where parts live."""

from __future__ import annotations

from typing import Literal

from ampwright.job.quantity import (
    AirTemperatureAmount,
    Amount,
    FractionAmount,
    NonNegativeAmount,
    PositiveAmount,
)
from ampwright.records import record

__all__ = ["Alternator", "StarterBattery", "Vehicle", "Zone"]


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
    starter_battery: StarterBattery | None = None
    """Absent for a trailer."""
    chassis_resistance_ohm: NonNegativeAmount = 0.002
    """Resistance of the chassis as a return path, bonds included."""
    body_preset: Literal["van-body-insulated", "van-body-bare", "box-body"] = "van-body-insulated"
    """How the closed body warms in the sun."""


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

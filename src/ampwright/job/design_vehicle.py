"""The vehicle of a design: its alternators and batteries as numbers; what it lacks is zero."""

from __future__ import annotations

from typing import Literal

from ampwright.records import record

__all__ = ["DesignAlternator", "DesignVehicle"]


@record
class DesignAlternator:
    """A second alternator apart from the starter battery, amounts resolved."""

    regulation: Literal["fixed", "regulated"]
    """Kind of regulation."""
    alternator_a: float
    """Rated current."""
    alternator_v: float
    """Voltage while charging."""
    alternator_low_v: float
    """Lowest regulated voltage."""
    alternator_high_v: float
    """Highest regulated voltage."""
    hot_road_frac: float
    """Part of the rating, hot, on the road."""
    hot_idle_frac: float
    """Part of the rating, hot, at idle."""
    limits_by_heat: bool | None = None
    """True when its regulator lowers its output by its own temperature; None = not said."""


@record
class DesignVehicle:
    """The vehicle, amounts resolved; zero currents where it has no alternator."""

    system_v: float
    """Nominal voltage."""
    has_alternator: bool
    """True when there is an alternator to charge from."""
    regulation: Literal["fixed", "regulated", "converter"]
    """Kind of regulation."""
    alternator_a: float
    """Rated current."""
    alternator_v: float
    """Voltage while charging."""
    alternator_low_v: float
    """Lowest regulated voltage."""
    alternator_high_v: float
    """Highest regulated voltage."""
    hot_road_frac: float
    """Part of the rating, hot, on the road."""
    hot_idle_frac: float
    """Part of the rating, hot, at idle."""
    engine_off_frac: float
    """Part of the time on the road in which nothing charges."""
    own_load_day_a: float
    """Vehicle's own current by day."""
    own_load_night_a: float
    """Vehicle's own current by night."""
    second: DesignAlternator | None
    """A second alternator that feeds chargers alone; one joined to the starter battery is counted in with the first."""
    has_starter_battery: bool
    """True when there is a starter battery."""
    starter_capacity_ah: float
    """Its capacity; 0 without one."""
    starter_short_circuit_a: float
    """Its prospective fault current; 0 without one."""
    starter_resistance_ohm: float
    """Its resistance; 0 without one."""
    starter_standby_a: float
    """What the parked vehicle takes from it."""
    chassis_resistance_ohm: float
    """Resistance of the chassis return."""
    clamps_load_dump: bool | None
    """True when the alternator limits its load dump; None = not said."""

"""Current a cable run may carry where it lies, and the largest device the region lets it have."""

from __future__ import annotations

import dataclasses
from functools import lru_cache

from ampwright.errors import TableError
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.job.own_tables import device_class
from ampwright.parts.cable import Cable
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source, own_choice
from ampwright.standards.astm_b258.resistance import area_from_resistance_mm2
from ampwright.standards.cfr_33_183.allowable_current import AllowableCurrent, allowable_current_a
from ampwright.standards.cfr_33_183.overcurrent import overcurrent_max_factor
from ampwright.standards.device_bands.classes import device_limits
from ampwright.standards.iec_60364_4_43.overload import OVERLOAD_SOURCE, overload_conditions
from ampwright.standards.iso_8820.band import must_open_factor
from ampwright.standards.own_tables.capacity import own_current
from ampwright.standards.regions.rules import RegionRules

__all__ = [
    "Capacity",
    "DeviceLimit",
    "effective_area_mm2",
    "largest_device_a",
    "run_capacity",
    "table_capacity",
]

CHOICE = "region-capacity-table"
"""Why another country's table is a region's default (docs/choices.md)."""
SLOWEST_FACTOR = 2.0
"""Multiple of its rating at which a device without a table is reckoned to open (docs/choices.md#opening-not-held)."""


@record
class Capacity:
    """Current-carrying capacity of a run, or why there is none."""

    current_a: float
    """Allowable current; 0 where it could not be found."""
    source: Source | None
    """Where it comes from."""
    note: str
    """What was applied, and where the job's own table did not hold it."""
    is_known: bool
    """False when the table does not hold this cable."""


@record
class DeviceLimit:
    """Largest rated current of a device that may protect a run."""

    rating_a: float
    """Largest rating."""
    sure_rating_a: float
    """Up to here the device surely opens in time too; above it no table held here says so."""
    source: Source
    """Rule of the region."""


def run_capacity(design: Design, run: DesignRun, *, cable: Cable | None = None) -> Capacity:
    """Return the allowable current of a run's weaker conductor, or of `cable` laid in its place."""
    conductors = [cable] if cable is not None else [run.cable, *([run.back_cable] if run.back_cable else [])]
    found = [_conductor_capacity(design, run, conductor) for conductor in conductors]
    return min(found, key=_known_current)


def _conductor_capacity(design: Design, run: DesignRun, conductor: Cable) -> Capacity:
    return table_capacity(
        design,
        conductor,
        rated_degc=conductor.insulation_degc,
        ambient_degc=run.ambient_max_degc,
        loaded_together=run.loaded_together,
        is_engine_space=run.is_engine_space,
    )


def table_capacity(
    design: Design,
    conductor: Cable,
    *,
    rated_degc: float,
    ambient_degc: float,
    loaded_together: int = 1,
    is_engine_space: bool = False,
) -> Capacity:
    """Return a conductor's current at a rated temperature, from the job's own table, else from the region's default."""
    outside = ""
    if design.tables.capacity is not None:
        try:
            own = own_current(
                design.tables.capacity,
                conductor.area_mm2,
                insulation_degc=rated_degc,
                ambient_degc=ambient_degc,
                conductors_loaded=loaded_together,
            )
        except TableError as error:
            outside = said("{error}, so the shipped table counts here; ", error=error.args[0])
        else:
            return Capacity(current_a=own.current_a, source=own.source, note=own.note, is_known=True)
    try:
        allowed = TABLES[design.region.capacity_table](
            effective_area_mm2(conductor),
            rated_degc,
            ambient_degc,
            loaded_together,
            is_engine_space,
            design.system_v,
        )
    except TableError as error:
        return Capacity(current_a=0.0, source=None, note=outside + error.args[0], is_known=False)
    source = _as_default(design.region, allowed.source)
    return Capacity(current_a=allowed.current_a, source=source, note=outside + allowed.note, is_known=True)


def _as_default(region: RegionRules, source: Source) -> Source:
    """Return the source of a current with the word that its table is the region's default by choice, where it is one."""
    if region.source("capacity_table").document == source.document:
        return source
    return dataclasses.replace(source, place=f"{source.place}; default in {region.name}, choice {CHOICE}")


def _known_current(capacity: Capacity) -> float:
    """Sort key: what is not known before everything known."""
    return capacity.current_a if capacity.is_known else -1.0


def effective_area_mm2(cable: Cable) -> float:
    """Return the area that counts for capacity: never more than the cable's resistance is worth.

    A class 5 conductor of 2.5 mm2 may have the resistance of 2.2 mm2 of the table's solid copper.
    """
    return min(cable.area_mm2, area_from_resistance_mm2(cable.resistance_ohm_per_km))


@lru_cache(maxsize=4096)
def _allowed(  # noqa: PLR0917 - a memo needs plain arguments
    area_mm2: float,
    insulation_degc: float,
    ambient_degc: float,
    bundle_count: int,
    is_engine_space: bool,  # noqa: FBT001
    system_v: float,
) -> AllowableCurrent:
    return allowable_current_a(
        area_mm2,
        insulation_degc=insulation_degc,
        ambient_degc=ambient_degc,
        bundle_count=bundle_count,
        is_engine_space=is_engine_space,
        system_v=system_v,
    )


TABLES = {"cfr-33-183-table-5": _allowed}
"""Shipped tables of cable capacity by the name a region's rules give them."""


def largest_device_a(
    design: Design, capacity_a: float, *, device: Fuse | Breaker | None = None
) -> DeviceLimit:
    """Return the largest device rating for a cable of this capacity by the region's rule.

    us-ca: 33 CFR 183.455(c). Elsewhere IEC 60364-4-43, 433.1: In <= Iz and I2 <= 1.45 Iz, with I2 from the
    opening table of the device's family; without `device` only the first condition.
    """
    if design.region.overload_rule == "cfr-33-183":
        if design.tables.capacity is not None:  # the 150 % belong to the currents of Table 5 alone
            own = own_choice("own-capacity-table")
            return DeviceLimit(rating_a=capacity_a, sure_rating_a=capacity_a, source=own)
        limit = overcurrent_max_factor(design.system_v)
        rating_a = limit.max_factor * capacity_a
        return DeviceLimit(rating_a=rating_a, sure_rating_a=rating_a, source=limit.source)
    if device is None:
        return DeviceLimit(rating_a=capacity_a, sure_rating_a=capacity_a, source=OVERLOAD_SOURCE)
    points = design.tables.points_of(device)
    limits = device_limits(device_class(device), points=points)
    held = must_open_factor(limits, rating_a=device.rating_a)
    conditions = overload_conditions(
        load_current_a=0.0,
        device_rating_a=device.rating_a,
        capacity_a=capacity_a,
        conventional_factor=held or SLOWEST_FACTOR,
    )
    sure_a = min(capacity_a, conditions.conventional_limit_a / (held or SLOWEST_FACTOR))
    times = points[0].source if points else limits.source
    source = Source(
        document=f"{OVERLOAD_SOURCE}, with the opening limits of {times.document}", standing=times.standing
    )
    return DeviceLimit(
        rating_a=capacity_a if held is None else sure_a,
        sure_rating_a=sure_a,
        source=conditions.source if held is None else source,
    )

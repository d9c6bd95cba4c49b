"""Current a cable run may carry where it lies, and the largest device the region lets it have."""

from __future__ import annotations

from functools import lru_cache

from ampwright.errors import TableError
from ampwright.job.design import Design, DesignRun
from ampwright.parts.cable import Cable
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.astm_b258.resistance import area_from_resistance_mm2
from ampwright.standards.cfr_33_183.allowable_current import AllowableCurrent, allowable_current_a
from ampwright.standards.cfr_33_183.overcurrent import overcurrent_max_factor
from ampwright.standards.iec_60364_4_43.overload import OVERLOAD_SOURCE

__all__ = ["Capacity", "DeviceLimit", "effective_area_mm2", "largest_device_a", "run_capacity"]


@record
class Capacity:
    """Current-carrying capacity of a run, or why there is none."""

    current_a: float
    """Allowable current; 0 where it could not be found."""
    source: Source | None
    """Where it comes from."""
    note: str
    """What was applied."""
    is_known: bool
    """False when the table does not hold this cable."""


@record
class DeviceLimit:
    """Largest rated current of a device that may protect a run."""

    rating_a: float
    """Largest rating."""
    source: Source
    """Rule of the region."""


def run_capacity(design: Design, run: DesignRun, *, cable: Cable | None = None) -> Capacity:
    """Return the allowable current of a run's weaker conductor, or of `cable` laid in its place."""
    conductors = [cable] if cable is not None else [run.cable, *([run.back_cable] if run.back_cable else [])]
    allowed: list[AllowableCurrent] = []
    for conductor in conductors:
        try:
            allowed.append(
                _allowed(
                    effective_area_mm2(conductor),
                    conductor.insulation_degc,
                    run.ambient_max_degc,
                    run.loaded_together,
                    run.is_engine_space,
                    design.system_v,
                )
            )
        except TableError as error:
            return Capacity(current_a=0.0, source=None, note=str(error), is_known=False)
    weakest = min(allowed, key=_current)
    return Capacity(current_a=weakest.current_a, source=weakest.source, note=weakest.note, is_known=True)


def effective_area_mm2(cable: Cable) -> float:
    """Return the area that counts for capacity: never more than the cable's resistance is worth.

    A class 5 conductor of 2.5 mm2 may have the resistance of 2.2 mm2 of the table's solid copper.
    """
    return min(cable.area_mm2, area_from_resistance_mm2(cable.resistance_ohm_per_km))


def _current(allowed: AllowableCurrent) -> float:
    return allowed.current_a


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


def largest_device_a(design: Design, capacity_a: float) -> DeviceLimit:
    """Return the largest device rating for a cable of this capacity by the region's rule.

    us-ca: 33 CFR 183.455(c). uk-eu and au-nz: IEC 60364-4-43, 433.1, In <= Iz; the second condition
    I2 <= 1.45 Iz then holds for any device that opens below 1.45 In.
    """
    if design.job.job.region == "us-ca":
        limit = overcurrent_max_factor(design.system_v)
        return DeviceLimit(rating_a=limit.max_factor * capacity_a, source=limit.source)
    return DeviceLimit(rating_a=capacity_a, source=OVERLOAD_SOURCE)

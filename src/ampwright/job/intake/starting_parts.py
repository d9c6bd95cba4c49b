"""The parts a first job begins with: the smallest of each kind; a search in another room makes them larger."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from ampwright.job.intake.loads import FirstLoad
from ampwright.job.intake.story import Story
from ampwright.job.intake.usual import usual_vehicles
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import AlternatorCharger, MainsCharger
from ampwright.parts.hardware import BusBar
from ampwright.parts.inverter import Inverter
from ampwright.parts.protection import Fuse, Isolator
from ampwright.records import record
from ampwright.standards.regions.rules import RegionName, RegionRules

__all__ = ["StartingParts", "lowest_v", "region_of", "starting_parts", "vehicle_v"]

T = TypeVar("T")
AUXILIARY_V = 12.0
"""Nominal voltage of the second battery in every first job: ordinary appliances want it (docs/choices.md#intake-voltage)."""
SMALLEST_MAIN_A = 100.0
"""Smallest fuse of the battery tried: the smallest of class T in the catalogue."""
OTHER_LOADS_A = 40.0
"""What the rest may take beside an inverter, for the first fuse tried (docs/choices.md#intake-start)."""
FIXED_V = (13.3, 13.6, 13.9)
REGULATED_V = (12.4, 12.6, 13.2)
"""Lowest voltage of a fixed and of a regulated alternator of 12 V (docs/choices.md#intake-ranges)."""
REGIONS: dict[str, RegionName] = {"USA": "us-ca", "CAN": "us-ca", "AUS": "au-nz", "NZL": "au-nz"}


@record
class StartingParts:
    """Catalogue ids; empty where the job has no such part."""

    battery: str
    """Battery."""
    main_fuse: str
    """Fuse at the battery."""
    isolator: str
    """Battery switch."""
    bar: str
    """Bus bar."""
    charger: str
    """Alternator charger."""
    mains_charger: str
    """Mains charger."""
    inverter: str
    """Inverter."""
    inverter_fuse: str
    """Its fuse."""
    panel: str
    """Solar panel."""
    controller: str
    """Panel controller."""


def region_of(country: str) -> RegionName:
    """Return the rule set of a country (ISO 3166 alpha-3); the one of 230 V where nothing else is known.

    Examples
    --------
    >>> region_of("USA"), region_of("DEU")
    ('us-ca', 'uk-eu')
    """
    return REGIONS.get(country, "uk-eu")


def vehicle_v(story: Story) -> int:
    """Return the vehicle's voltage, as usual for its kind where it is not known."""
    return story.vehicle.system_v or usual_vehicles()[story.vehicle.kind].system_v


def lowest_v(story: Story) -> tuple[float, float, float]:
    """Return the range of the voltage to which the alternator's regulation may fall."""
    cells = vehicle_v(story) / 12.0
    low, likely, high = FIXED_V if story.vehicle.regulation == "fixed" else REGULATED_V
    return low * cells, likely * cells, high * cells


def starting_parts(
    story: Story, loads: Sequence[FirstLoad], rules: RegionRules, catalogue: Catalogue
) -> StartingParts:
    """Return the smallest parts with which the search begins."""
    ac_w = [load.highest_w for load in loads if load.usual.is_ac]
    inverter = _inverter(catalogue, max(ac_w), rules.mains_v) if ac_w else None
    inverter_a = 0.0
    if inverter is not None:
        inverter_a = inverter.continuous_w / (inverter.efficiency_100_frac * inverter.input_min_v)
    main = _fuse(catalogue, max(SMALLEST_MAIN_A, inverter_a + OTHER_LOADS_A))
    has_alternator = usual_vehicles()[story.vehicle.kind].alternator_a is not None
    has_panels = story.vehicle.panel_count != 0
    return StartingParts(
        battery="lfp-50",
        main_fuse=main.id,
        isolator=_least(catalogue.of_kind(Isolator), lambda part: part.rating_a, main.rating_a).id,
        bar=_least(catalogue.of_kind(BusBar), lambda part: part.rating_a, main.rating_a).id,
        charger=_charger(catalogue, vehicle_v(story), lowest_v(story)[0]) if has_alternator else "",
        mains_charger=_mains_charger(catalogue, rules.mains_v) if _is_hooked_up(story) else "",
        inverter=inverter.id if inverter is not None else "",
        inverter_fuse=_fuse(catalogue, max(SMALLEST_MAIN_A, inverter_a)).id if inverter is not None else "",
        panel="panel-200" if has_panels else "",
        controller="solar-mp-20" if has_panels else "",
    )


def _is_hooked_up(story: Story) -> bool:
    return story.trip.hook_up in ("after-driving", "every-night")


def _least(parts: Sequence[T], size: Callable[[T], float], wanted: float) -> T:
    """Return the smallest part of at least the wanted size, the largest where none is."""
    ordered = sorted(parts, key=size)
    return next((part for part in ordered if size(part) >= wanted), ordered[-1])


def _fuse(catalogue: Catalogue, wanted_a: float) -> Fuse:
    fuses = [each for each in catalogue.of_kind(Fuse) if each.family == "ul-248-15-t"]
    return _least(fuses, lambda part: part.rating_a, wanted_a)


def _inverter(catalogue: Catalogue, wanted_w: float, mains_v: float) -> Inverter:
    fitting = [
        part
        for part in catalogue.of_kind(Inverter)
        if part.input_nominal_v == AUXILIARY_V
        and abs(part.output_ac_v - mains_v) < 15.0
        and not part.charger_max_a
    ]
    return _least(fitting, lambda part: part.continuous_w, wanted_w)


def _charger(catalogue: Catalogue, system_v: float, lowest_v: float) -> str:
    """Return the smallest charger that still works at the lowest voltage of the alternator."""
    fitting = [
        part
        for part in catalogue.of_kind(AlternatorCharger)
        if part.input_nominal_v == system_v and part.output_nominal_v == AUXILIARY_V
    ]
    steady = [part for part in fitting if part.input_stop_v < lowest_v]
    return _least(steady or fitting, lambda part: part.output_max_a, 0.0).id


def _mains_charger(catalogue: Catalogue, mains_v: float) -> str:
    fitting = [
        part
        for part in catalogue.of_kind(MainsCharger)
        if part.output_nominal_v == AUXILIARY_V and abs(part.input_ac_v - mains_v) < 15.0
    ]
    return _least(fitting, lambda part: part.output_max_a, 0.0).id

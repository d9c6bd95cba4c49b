"""Places of a use that moves on: which days are spent where."""

from __future__ import annotations

from ampwright.climate.site import Site
from ampwright.job.place import Place
from ampwright.records import record

__all__ = ["DesignLeg", "highest_m", "leg_of_day"]


@record
class DesignLeg:
    """Days of the use at one place."""

    name: str
    """Name told with what happens in it."""
    first: int
    """First day of the use in it, from 0."""
    day_count: int
    """Days in it."""
    place: Place
    """The place as written."""
    site: Site | None
    """The place with its monthly figures; None where a weather file is used."""


def leg_of_day(legs: tuple[DesignLeg, ...]) -> tuple[str, ...]:
    """Return the name of the leg of each day (n_days); empty where the use stays at one place."""
    return tuple(leg.name for leg in legs for _ in range(leg.day_count))


def highest_m(site: Site | None, legs: tuple[DesignLeg, ...]) -> float:
    """Return the height of the highest place above the sea; 0 where none is known or all lie lower."""
    sites = [site, *(leg.site for leg in legs)]
    return max([0.0, *(each.elevation_m for each in sites if each is not None)])

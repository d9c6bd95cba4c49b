"""Where and when: a shipped site, typed monthly figures, or a weather file."""

from __future__ import annotations

from typing import Annotated

from annotated_types import Ge, Gt, Le, MaxLen

from ampwright.job.sunlight import TwelveFractions
from ampwright.records import Count, Fraction, NonNegative, OutdoorTemperature, record

__all__ = ["Leg", "Place", "Season", "Spell"]

Month = Annotated[int, Ge(1), Le(12)]
TwelveNumbers = tuple[
    NonNegative, NonNegative, NonNegative, NonNegative, NonNegative, NonNegative,
    NonNegative, NonNegative, NonNegative, NonNegative, NonNegative, NonNegative,
]  # fmt: skip
TwelveTemperatures = tuple[
    OutdoorTemperature, OutdoorTemperature, OutdoorTemperature, OutdoorTemperature,
    OutdoorTemperature, OutdoorTemperature, OutdoorTemperature, OutdoorTemperature,
    OutdoorTemperature, OutdoorTemperature, OutdoorTemperature, OutdoorTemperature,
]  # fmt: skip


@record
class Place:
    """Give `site`, or `weather_file`, or coordinates with twelve monthly figures; or `year_files` alone."""

    site: str = ""
    """Id of a shipped site (`ampwright sites` lists them)."""
    weather_file: str = ""
    """EPW or TMY3 file, path relative to the job file."""
    year_files: Annotated[tuple[str, ...], MaxLen(40)] = ()
    """Files with hours of real years (PVGIS, NSRDB, plain table, EPW, TMY3); every year is a run of its own."""
    name: str = ""
    """Name of the place for own figures."""
    latitude_deg: Annotated[float, Ge(-90), Le(90)] | None = None
    """Latitude, north positive."""
    longitude_deg: Annotated[float, Ge(-180), Le(180)] | None = None
    """Longitude, east positive."""
    elevation_m: Annotated[float, Ge(-430), Le(9000)] = 0.0
    """Height above sea level."""
    utc_offset_h: Annotated[float, Ge(-12), Le(14)] | None = None
    """Clock time minus UTC; from the longitude when absent."""
    ghi_kwh_m2_day: TwelveNumbers | None = None
    """Daily global horizontal irradiation, mean of each month."""
    max_degc: TwelveTemperatures | None = None
    """Daily maximum temperature, mean of each month."""
    min_degc: TwelveTemperatures | None = None
    """Daily minimum temperature, mean of each month."""
    figures_from: str = ""
    """Where the typed figures come from."""


@record
class Leg:
    """A stretch of the use at another place; it lasts until the next leg, or to the end."""

    id: str
    """Short name, told with what happens in it."""
    from_day: Annotated[int, Ge(2), Le(400)]
    """Day of the use, from 1, with whose midnight it begins."""
    place: Place = Place()
    """Where it is: what `[place]` takes."""


@record
class Spell:
    """A cold or hot spell within the use: a temperature, or how rare it is."""

    night_degc: OutdoorTemperature | None = None
    """Coldest air of every night of it."""
    afternoon_degc: OutdoorTemperature | None = None
    """Warmest air of every day of it; absent = as far from the night as on the season's days."""
    worse_frac: Annotated[float, Gt(0), Le(0.5)] | None = None
    """In place of temperatures: share of the runs, or of the real years, with a worse one; 0.05 = 1 trip in 20."""
    day_count: Annotated[int, Ge(1), Le(60)] = 5
    """Days it lasts; a shorter use lies all in it."""
    sun_factor: Annotated[float, Ge(0), Le(2)] = 1.0
    """Factor on the irradiation of its days."""


@record
class Season:
    """When the use begins, and the coldest air to be reckoned with."""

    month: Month
    """Month, 1 to 12."""
    first_day: Annotated[int, Ge(1), Le(31)] | None = None
    """Day of the month the use begins; absent = around the middle of the month."""
    sun_factor: Annotated[float, Ge(0), Le(2)] = 1.0
    """Factor on the month's irradiation, for a dull or bright spell."""
    warmer_k: Annotated[float, Ge(-40), Le(40)] = 0.0
    """Kelvin added to the month's temperatures, for a cold or hot spell."""
    coldest_degc: OutdoorTemperature
    """Coldest air the system must survive (panel voltage, charging)."""
    hottest_degc: OutdoorTemperature
    """Hottest outside air to be reckoned with."""
    cold_spell: Spell | None = None
    """Cold spell the use must get through; absent = none is looked at."""
    hot_spell: Spell | None = None
    """Hot spell the use must get through; absent = none is looked at."""
    albedo_frac: Fraction = 0.2
    """Reflectance of the surroundings."""
    soiling_frac: TwelveFractions | None = None
    """Part of the light lost to dust and dirt on the panels, for each month; absent = 0.05 with mismatch, always."""
    snow_below_degc: Annotated[float, Ge(-60), Le(10)] | None = None
    """Panels on the vehicle are under snow on days whose mean air is colder than this; absent = never."""
    snow_lost_frac: Fraction = 1.0
    """Part of the light lost under snow."""
    storage_days: Count = 30
    """Days the vehicle stands unused between uses."""

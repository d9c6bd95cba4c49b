"""A place on earth with its twelve monthly climate figures, shipped or typed by the user.

Answers whether typed figures can be true. The shipped table is read in `sources.py`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from ampwright.climate.orbit import MONTH_NAMES, monthly_extraterrestrial_kwh_m2_day
from ampwright.records import record

__all__ = ["Site", "site_problems", "site_warnings"]

MIN_CLEARNESS = 0.1  # own choice: monthly means below are rare, see docs/climate.md
MAX_CLEARNESS = 0.85  # own choice: no monthly mean of the shipped table comes near it
MIN_JUDGED_KWH_M2_DAY = 0.2  # own choice: below this the clearness of a month says little
MAX_CLOCK_GAP_H = 3.5  # own choice: the widest standard-time gap in use is just over 3 h


@record
class Site:
    """A place and the monthly means of its sun and air."""

    id: str
    """Short name: lower case letters, digits and dashes."""
    name: str
    """Name for people."""
    country: str
    """ISO 3166-1 alpha-3 code, or any word the user likes."""
    latitude_deg: float
    """Degrees north; south is negative."""
    longitude_deg: float
    """Degrees east; west is negative."""
    elevation_m: float = 0.0
    """Height above the sea."""
    utc_offset_h: float | None = None
    """Standard time ahead of UTC; None = taken from the longitude."""
    ghi_kwh_m2_day: tuple[float, ...]
    """Mean daily global irradiation of a horizontal plane, January to December."""
    max_degc: tuple[float, ...]
    """Mean daily maximum of the air temperature, January to December."""
    min_degc: tuple[float, ...]
    """Mean daily minimum of the air temperature, January to December."""
    source: str
    """Where the monthly figures come from."""
    licence: str = ""
    """Terms of the data set behind the figures; empty for the user's own."""

    @property
    def clock_offset_h(self) -> float:
        """Standard time ahead of UTC, by the zone if known, else by 15 degrees of longitude an hour."""
        if self.utc_offset_h is None:
            return float(round(self.longitude_deg / 15.0))
        return self.utc_offset_h


def site_problems(site: Site) -> tuple[str, ...]:
    """Return everything in a site that cannot be true, each with the way out; empty if nothing."""
    problems = tuple(_place_problems(site)) + tuple(_length_problems(site))
    return problems or tuple(_month_problems(site))


def site_warnings(site: Site) -> tuple[str, ...]:
    """Return what looks odd in a site without problems; it can be used all the same."""
    return (*_clearness_warnings(site), *_hemisphere_warnings(site))


def _place_problems(site: Site) -> Iterator[str]:
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", site.id):
        yield f'id "{site.id}": use lower case letters, digits and single dashes, e.g. "my-camp".'
    ranges = (
        ("latitude_deg", site.latitude_deg, -90.0, 90.0, "degrees north, south negative"),
        ("longitude_deg", site.longitude_deg, -180.0, 180.0, "degrees east, west negative"),
        ("elevation_m", site.elevation_m, -500.0, 9000.0, "metres above the sea"),
        ("utc_offset_h", site.clock_offset_h, -12.0, 14.0, "hours ahead of UTC, standard time"),
    )
    for name, value, low, high, meaning in ranges:
        if not low <= value <= high:
            yield f"{name} = {value:g}: must lie between {low:g} and {high:g} ({meaning})."


def _length_problems(site: Site) -> Iterator[str]:
    for name in ("ghi_kwh_m2_day", "max_degc", "min_degc"):
        values = getattr(site, name)
        if len(values) != 12:
            yield f"{name}: {len(values)} numbers; 12 are needed, January to December."
        elif not all(math.isfinite(value) for value in values):
            yield f"{name}: every month needs a number; one is not finite."


def _month_problems(site: Site) -> Iterator[str]:
    figures = zip(MONTH_NAMES, site.ghi_kwh_m2_day, site.max_degc, site.min_degc, strict=True)
    for month, (name, ghi, high, low) in enumerate(figures, start=1):
        limit = monthly_extraterrestrial_kwh_m2_day(site.latitude_deg, month)
        if ghi < 0.0:
            yield f"ghi_kwh_m2_day, {name}: {ghi:g} is negative; type 0 or more."
        elif ghi > limit:
            yield (
                f"ghi_kwh_m2_day, {name}: {ghi:g} is impossible; at latitude {site.latitude_deg:g}° only "
                f"{limit:.2f} kWh/m² a day reach the top of the air. Type at most that, per day."
            )
        if high < low:
            yield (
                f"max_degc, {name}: {high:g} °C is below min_degc {low:g} °C; "
                "exchange them or mend the wrong one."
            )
        if not (-90.0 <= low <= 60.0 and -90.0 <= high <= 60.0):
            yield (
                f"max_degc/min_degc, {name}: {high:g}/{low:g} °C is outside -90 to 60 °C; "
                "type degrees Celsius."
            )


def _clearness_warnings(site: Site) -> Iterator[str]:
    for month, ghi in enumerate(site.ghi_kwh_m2_day, start=1):
        limit = monthly_extraterrestrial_kwh_m2_day(site.latitude_deg, month)
        if limit < MIN_JUDGED_KWH_M2_DAY:
            continue
        clearness = ghi / limit
        if not MIN_CLEARNESS <= clearness <= MAX_CLEARNESS:
            yield (
                f"ghi_kwh_m2_day, {MONTH_NAMES[month - 1]}: {ghi:g} is {clearness:.2f} of the sunshine above "
                f"the air; a month usually has {MIN_CLEARNESS:g} to {MAX_CLEARNESS:g}. Check the figure."
            )


def _hemisphere_warnings(site: Site) -> Iterator[str]:
    december_side = sum(site.ghi_kwh_m2_day[month] for month in (10, 11, 0))
    june_side = sum(site.ghi_kwh_m2_day[month] for month in (4, 5, 6))
    north = site.latitude_deg > 0.0
    if abs(site.latitude_deg) > 30.0 and (december_side > june_side) == north and december_side != june_side:
        yield (
            "ghi_kwh_m2_day: the sunny half of the year is that of the other hemisphere. "
            "Check the sign of latitude_deg (south is negative) and the order of the months."
        )
    if abs(site.clock_offset_h - site.longitude_deg / 15.0) > MAX_CLOCK_GAP_H:
        yield (
            f"utc_offset_h = {site.clock_offset_h:g} does not fit longitude {site.longitude_deg:g}°. "
            "Check the sign of longitude_deg (west is negative)."
        )

"""Where the job happens: a shipped site, typed figures, or weather files."""

from __future__ import annotations

from ampwright.climate.orbit import DAYS_IN_MONTH, MONTH_NAMES, daylight_minutes, representative_day
from ampwright.climate.site import Site, site_problems
from ampwright.climate.sources import shipped_sites
from ampwright.job.complaints import Complaints, Path, bad_id_message, is_good_id, meant
from ampwright.job.design_leg import DesignLeg
from ampwright.job.place import Place, Season
from ampwright.job.records import Job

__all__ = ["resolved_daylight", "resolved_legs", "resolved_site"]


def resolved_site(job: Job, complaints: Complaints) -> Site | None:
    """Return the site of a job; None for weather files, or with a problem noted."""
    season = job.season
    last_day = DAYS_IN_MONTH[season.month - 1]
    if season.first_day is not None and season.first_day > last_day:
        month = MONTH_NAMES[season.month - 1]
        complaints.add(("season", "first_day"), f"{month} has {last_day} days in the years used here")
    _check_spells(season, complaints)
    if job.doubt.weather_from == "real-years" and not job.place.year_files:
        complaints.add(
            ("doubt", "weather_from"), "there are no real years; name their files in year_files of [place]"
        )
    return _site(job.place, ("place",), complaints)


def resolved_daylight(job: Job, site: Site | None) -> tuple[int, int] | None:
    """Return the minutes of sunrise and sunset of the use, by the day that stands for its month.

    None for weather files, for a use over several places, and where the sun does not rise or set.
    """
    if site is None or job.leg:
        return None
    day = representative_day(site.latitude_deg, job.season.month)
    return daylight_minutes(site.latitude_deg, site.longitude_deg, site.clock_offset_h, day)


def resolved_legs(job: Job, site: Site | None, days: int, complaints: Complaints) -> tuple[DesignLeg, ...]:
    """Return the places of a use with all its days; empty where it stays at one.

    Parameters
    ----------
    site : the first place
    days : days of the use
    """
    if not job.leg:
        return ()
    starts = [0, *(leg.from_day - 1 for leg in job.leg)]
    for index, leg in enumerate(job.leg):
        path: Path = ("leg", index)
        if not is_good_id(leg.id):
            complaints.add((*path, "id"), bad_id_message(leg.id))
        if any(leg.id == other.id for other in job.leg[:index]):
            complaints.add((*path, "id"), f"'{leg.id}' is used twice; ids must differ")
        if starts[index + 1] <= starts[index]:
            complaints.add(
                (*path, "from_day"), "comes no later than the leg before it; write the legs in their order"
            )
        if leg.from_day > days:
            complaints.add((*path, "from_day"), f"day {leg.from_day} of {days}; the use is over by then")
        if bool(leg.place.year_files) != bool(job.place.year_files):
            message = "real years are needed for every place of the use, or for none"
            complaints.add((*path, "place", "year_files"), message)
    sites = [
        site,
        *(_site(leg.place, ("leg", index, "place"), complaints) for index, leg in enumerate(job.leg)),
    ]
    places = [job.place, *(leg.place for leg in job.leg)]
    start = job.place.name or (site.name if site is not None else "") or "start"
    ends = [*starts[1:], days]
    return tuple(
        DesignLeg(name=name, first=first, day_count=max(end - first, 0), place=place, site=where)
        for name, first, end, place, where in zip(
            [start, *(leg.id for leg in job.leg)], starts, ends, places, sites, strict=True
        )
    )


def _site(place: Place, path: Path, complaints: Complaints) -> Site | None:
    _check_files(place, path, complaints)
    has_figures = place.ghi_kwh_m2_day is not None or not place.year_files
    typed = (place.latitude_deg is not None and has_figures) or place.ghi_kwh_m2_day is not None
    ways = [bool(place.site), bool(place.weather_file), typed]
    if sum(ways) > 1 or not (any(ways) or place.year_files):
        complaints.add(
            path,
            "give one of: site, weather_file, or latitude_deg and longitude_deg with ghi_kwh_m2_day, "
            "max_degc and min_degc; or year_files alone",
        )
        return None
    if place.site:
        sites = shipped_sites()
        if place.site not in sites:
            complaints.add((*path, "site"), f"no site '{place.site}'; {meant(place.site, sites)}")
        return sites.get(place.site)
    return _typed_site(place, path, complaints) if typed else None


def _check_spells(season: Season, complaints: Complaints) -> None:
    """Note what is wrong with a cold or hot spell."""
    for kind, spell, needed in (
        ("cold_spell", season.cold_spell, "night_degc"),
        ("hot_spell", season.hot_spell, "afternoon_degc"),
    ):
        if spell is None:
            continue
        path = ("season", kind)
        given = spell.night_degc is not None or spell.afternoon_degc is not None
        if given == (spell.worse_frac is not None) or (given and getattr(spell, needed) is None):
            complaints.add(path, f"give {needed}, or worse_frac without temperatures")
        night, day = spell.night_degc, spell.afternoon_degc
        if night is not None and day is not None and night > day:
            complaints.add((*path, "night_degc"), f"{night:g} °C is warmer than afternoon_degc, {day:g} °C")
        if kind == "cold_spell" and night is not None and night < season.coldest_degc:
            message = (
                f"{night:g} °C is colder than coldest_degc, {season.coldest_degc:g} °C; lower that as well"
            )
            complaints.add((*path, "night_degc"), message)
        if kind == "hot_spell" and day is not None and day > season.hottest_degc:
            message = (
                f"{day:g} °C is hotter than hottest_degc, {season.hottest_degc:g} °C; raise that as well"
            )
            complaints.add((*path, "afternoon_degc"), message)


def _check_files(place: Place, path: Path, complaints: Complaints) -> None:
    """Note what is wrong with the names of weather files."""
    if not place.weather_file.isprintable():
        complaints.add((*path, "weather_file"), "a file name cannot hold a control character")
    for position, name in enumerate(place.year_files):
        if not name.isprintable() or not name:
            complaints.add(
                (*path, "year_files", position), "a file name cannot be empty or hold a control character"
            )
        if name in place.year_files[:position]:
            complaints.add(
                (*path, "year_files", position), f"'{name}' is named twice; its years would count double"
            )
    if place.year_files and (place.latitude_deg is None) != (place.longitude_deg is None):
        complaints.add(path, "latitude_deg and longitude_deg go together; give both or none")


def _typed_site(place: Place, path: Path, complaints: Complaints) -> Site | None:
    needed = ("latitude_deg", "longitude_deg", "ghi_kwh_m2_day", "max_degc", "min_degc")
    missing = [name for name in needed if getattr(place, name) is None]
    if missing:
        complaints.add(path, f"own figures also need {', '.join(missing)}")
        return None
    site = Site(
        id="own-figures",
        name=place.name or "own figures",
        country="",
        latitude_deg=place.latitude_deg or 0.0,
        longitude_deg=place.longitude_deg or 0.0,
        elevation_m=place.elevation_m,
        utc_offset_h=place.utc_offset_h,
        ghi_kwh_m2_day=place.ghi_kwh_m2_day or (),
        max_degc=place.max_degc or (),
        min_degc=place.min_degc or (),
        source=place.figures_from or "typed by the user",
    )
    for message in site_problems(site):
        name = message.partition(",")[0].partition(":")[0].partition(" ")[0].partition("/")[0]
        complaints.add((*path, name) if name in needed else path, message)
    return site

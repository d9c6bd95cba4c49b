"""Where the job happens: a shipped site, typed figures, or weather files."""

from __future__ import annotations

from ampwright.climate.orbit import DAYS_IN_MONTH, MONTH_NAMES
from ampwright.climate.site import Site, site_problems
from ampwright.climate.sources import shipped_sites
from ampwright.job.complaints import Complaints, meant
from ampwright.job.place import Place, Season
from ampwright.job.records import Job

__all__ = ["resolved_site"]


def resolved_site(job: Job, complaints: Complaints) -> Site | None:
    """Return the site of a job; None for weather files, or with a problem noted."""
    place, season = job.place, job.season
    last_day = DAYS_IN_MONTH[season.month - 1]
    if season.first_day is not None and season.first_day > last_day:
        month = MONTH_NAMES[season.month - 1]
        complaints.add(("season", "first_day"), f"{month} has {last_day} days in the years used here")
    _check_files(job, complaints)
    _check_spells(season, complaints)
    has_figures = place.ghi_kwh_m2_day is not None or not place.year_files
    typed = (place.latitude_deg is not None and has_figures) or place.ghi_kwh_m2_day is not None
    ways = [bool(place.site), bool(place.weather_file), typed]
    if sum(ways) > 1 or not (any(ways) or place.year_files):
        complaints.add(
            ("place",),
            "give one of: site, weather_file, or latitude_deg and longitude_deg with ghi_kwh_m2_day, "
            "max_degc and min_degc; or year_files alone",
        )
        return None
    if place.site:
        sites = shipped_sites()
        if place.site not in sites:
            complaints.add(("place", "site"), f"no site '{place.site}'; {meant(place.site, sites)}")
        return sites.get(place.site)
    return _typed_site(place, complaints) if typed else None


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


def _check_files(job: Job, complaints: Complaints) -> None:
    """Note what is wrong with the names of weather files."""
    place = job.place
    if not place.weather_file.isprintable():
        complaints.add(("place", "weather_file"), "a file name cannot hold a control character")
    for position, name in enumerate(place.year_files):
        if not name.isprintable() or not name:
            complaints.add(
                ("place", "year_files", position), "a file name cannot be empty or hold a control character"
            )
        if name in place.year_files[:position]:
            complaints.add(
                ("place", "year_files", position), f"'{name}' is named twice; its years would count double"
            )
    if place.year_files and (place.latitude_deg is None) != (place.longitude_deg is None):
        complaints.add(("place",), "latitude_deg and longitude_deg go together; give both or none")
    if job.doubt.weather_from == "real-years" and not place.year_files:
        complaints.add(
            ("doubt", "weather_from"), "there are no real years; name their files in year_files of [place]"
        )


def _typed_site(place: Place, complaints: Complaints) -> Site | None:
    needed = ("latitude_deg", "longitude_deg", "ghi_kwh_m2_day", "max_degc", "min_degc")
    missing = [name for name in needed if getattr(place, name) is None]
    if missing:
        complaints.add(("place",), f"own figures also need {', '.join(missing)}")
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
        path = ("place", name) if name in needed else ("place",)
        complaints.add(path, message)
    return site

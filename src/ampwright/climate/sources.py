"""All reading and writing of the climate room: shipped places, the cache of days, weather files.

Cached days are read without pvlib or pandas. Weather files come in through pvlib's readers.
"""

from __future__ import annotations

import csv
import difflib
import hashlib
import io
import json
import os
import re
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from functools import cache, lru_cache, partial
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright import __version__
from ampwright.climate.csv_hours import csv_rows, looks_like_csv
from ampwright.climate.hour_rows import HourRows, Spot, laid_out
from ampwright.climate.hourly import HourlyWeather
from ampwright.climate.nsrdb_text import looks_like_nsrdb, nsrdb_rows
from ampwright.climate.orbit import DAYS_IN_MONTH
from ampwright.climate.pvgis_text import looks_like_pvgis, pvgis_rows
from ampwright.climate.real_years import distance_km
from ampwright.climate.series import SERIES_ARRAYS, SunSeries
from ampwright.climate.site import Site
from ampwright.climate.sun import NOMINAL_YEAR, SunAngles, sun_angles, typical_day
from ampwright.climate.weather import HOURS_PER_YEAR, WeatherYear, monthly_figures
from ampwright.errors import ClimateError, JobError, Problem

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "cache_directory",
    "load_sun_angles",
    "load_typical_day",
    "read_epw",
    "read_tmy3",
    "read_weather",
    "read_year_files",
    "shipped_site",
    "shipped_sites",
]

TMY3_HEADING = r"[^\n]*\n\"?Date \(MM/DD/YYYY\)"
MAX_FILE_BYTES = 20_000_000  # own choice: an hourly year is about 2 MB
CACHE_LAYOUT = 1  # raise when the arrays of a cached day change their meaning
IRRADIANCE_RANGE_W_M2 = (0.0, 1500.0)  # own choice: above any hourly mean on earth
NEAR_KM = 100.0
"""Files of real years lie within this distance of the place (docs/choices.md#real-years-near)."""
TEMPERATURE_RANGE_DEGC = (-90.0, 70.0)  # own choice: just outside the records of the earth's surface

DAMAGES = (
    OSError,
    EOFError,
    KeyError,
    TypeError,
    ValueError,
    NotImplementedError,
    zipfile.BadZipFile,
    ClimateError,
)
"""What reading a damaged file of the cache may raise."""


class Origin(NamedTuple):
    """What a weather file says of itself."""

    place: str
    country: str
    source: str


@cache
def shipped_sites() -> Mapping[str, Site]:
    """Places that come with the program, by id; their sources and licences head the data file."""
    text = files("ampwright.climate").joinpath("data/sites.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return MappingProxyType({row["id"]: _site_from_row(row) for row in rows})


def shipped_site(site_id: str) -> Site:
    """Return one shipped place; an unknown id is answered with the nearest names."""
    sites = shipped_sites()
    if site_id in sites:
        return sites[site_id]
    near = difflib.get_close_matches(site_id.lower(), sites, n=3, cutoff=0.5)
    hint = f"Did you mean {', '.join(near)}?" if near else "See the table in docs/climate.md."
    raise ClimateError(
        f'site "{site_id}" is not in the shipped table. {hint} '
        "Or type coordinates with the 12 monthly figures of the place."
    )


def _site_from_row(row: dict[str, str]) -> Site:
    def months(kind: str, unit: str) -> tuple[float, ...]:
        return tuple(float(row[f"{kind}_{month:02d}_{unit}"]) for month in range(1, 13))

    return Site(
        id=row["id"],
        name=row["name"],
        country=row["country"],
        latitude_deg=float(row["latitude_deg"]),
        longitude_deg=float(row["longitude_deg"]),
        elevation_m=float(row["elevation_m"]),
        utc_offset_h=float(row["utc_offset_h"]),
        ghi_kwh_m2_day=months("ghi", "kwh_m2_day"),
        max_degc=months("max", "degc"),
        min_degc=months("min", "degc"),
        source=row["source"],
        licence=row["licence"],
    )


def cache_directory() -> Path:
    """Folder of the cached days: AMPWRIGHT_CACHE_DIR if set, else the user's cache folder."""
    chosen = os.environ.get("AMPWRIGHT_CACHE_DIR")
    if chosen:
        return Path(chosen)
    from platformdirs import user_cache_path  # noqa: PLC0415 - not needed when the folder is given

    return user_cache_path("ampwright", appauthor=False)


def load_typical_day(site: Site, month: int, *, step_minutes: int = 15) -> SunSeries:
    """Return `typical_day`, from the cache when the same figures were asked for before.

    A damaged or unwritable cache costs time, never an error.
    """
    file = cache_directory() / f"sun-{_cache_key(site, month, step_minutes)}.npz"
    cached = _cached_series(file)
    if cached is not None:
        return cached
    series = typical_day(site, month, step_minutes=step_minutes)
    _store_series(file, series)
    return series


def load_sun_angles(site: Site, *, start_day: int, day_count: int, steps_per_day: int = 96) -> SunAngles:
    """Return `sun_angles`, from the cache when the same window was asked for before.

    A damaged or unwritable cache costs time, never an error.
    """
    place = (site.latitude_deg, site.longitude_deg, site.elevation_m, site.clock_offset_h)
    text = json.dumps([CACHE_LAYOUT, __version__, place, start_day, day_count, steps_per_day])
    file = cache_directory() / f"angles-{hashlib.sha256(text.encode()).hexdigest()[:32]}.npz"
    cached = _cached_angles(file, day_count * steps_per_day)
    if cached is not None:
        return cached
    angles = sun_angles(site, start_day=start_day, day_count=day_count, steps_per_day=steps_per_day)
    _store(file, angles._asdict())
    return angles


def _cached_angles(file: Path, count: int) -> SunAngles | None:
    """Read cached angles; None if there are none or they are damaged."""
    try:
        with file.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
            arrays = [np.asarray(stored[name], dtype=np.float64) for name in SunAngles._fields]
    except DAMAGES:
        return None
    is_whole = all(values.shape == (count,) and np.isfinite(values).all() for values in arrays)
    return SunAngles(*arrays) if is_whole else None


def _cache_key(site: Site, month: int, step_minutes: int) -> str:
    figures = (
        site.latitude_deg,
        site.longitude_deg,
        site.elevation_m,
        site.clock_offset_h,
        site.ghi_kwh_m2_day,
        site.max_degc,
        site.min_degc,
    )
    text = json.dumps([CACHE_LAYOUT, __version__, month, step_minutes, figures])
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def _cached_series(file: Path) -> SunSeries | None:
    """Read a cached day; None if there is none or it is damaged."""
    try:
        with file.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
            start_day, day_count, steps_per_day = (int(value) for value in stored["counts"])
            arrays = {name: np.asarray(stored[name], dtype=np.float64) for name in SERIES_ARRAYS}
        if not all(np.isfinite(values).all() for values in arrays.values()):
            return None
        return SunSeries(start_day=start_day, day_count=day_count, steps_per_day=steps_per_day, **arrays)
    except DAMAGES:
        return None


def _store_series(file: Path, series: SunSeries) -> None:
    """Write a day into the cache."""
    counts = np.array([series.start_day, series.day_count, series.steps_per_day], dtype=np.int64)
    _store(file, {"counts": counts, **{name: getattr(series, name) for name in SERIES_ARRAYS}})


def _store(file: Path, arrays: Mapping[str, Any]) -> None:
    """Write arrays beside their final name and move them there; a full disk costs time later, never an error."""
    written: str | None = None
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=file.parent, suffix=".part", delete=False) as stream:
            written = stream.name
            np.savez(stream, **dict(arrays))
        Path(written).replace(file)
    except OSError:
        if written is not None:
            Path(written).unlink(missing_ok=True)


def read_weather(path: str | os.PathLike[str]) -> WeatherYear:
    """Read a weather file, EPW or TMY3, told apart by its first line."""
    is_epw = _weather_text(Path(path)).startswith("LOCATION,")
    return read_epw(path) if is_epw else read_tmy3(path)


def read_year_files(paths: tuple[Path, ...], spot: Spot | None) -> tuple[HourlyWeather, ...]:
    """Read hourly files of real years: PVGIS, NSRDB, plain tables, EPW, TMY3; kept while the files stay as they are.

    Parameters
    ----------
    spot : where the use is; None = where the first file says

    Raises
    ------
    JobError
        With everything that keeps any of the files from being used.
    """
    stamps = []
    for path in paths:
        try:
            facts = path.stat()
            stamps.append((facts.st_mtime_ns, facts.st_size))
        except OSError:
            stamps.append((0, 0))  # told when it is read
    return _year_files(paths, tuple(stamps), spot)


@lru_cache(maxsize=4)
def _year_files(
    paths: tuple[Path, ...],
    stamps: tuple[tuple[int, int], ...],  # noqa: ARG001 - part of what is remembered
    spot: Spot | None,
) -> tuple[HourlyWeather, ...]:
    rows: list[HourRows] = []
    years: list[tuple[str, WeatherYear]] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            found = _year_file(path)
        except JobError as error:
            problems += error.problems
        except ClimateError as error:
            problems.append(Problem(path=path.name, message=str(error).removeprefix(f"{path.name}: ")))
        else:
            if isinstance(found, WeatherYear):
                years.append((path.name, found))
            else:
                rows.append(found)
    spots = [(each.name, each.spot) for each in rows] + [(name, _spot(year.site)) for name, year in years]
    home = spot or next((where for _, where in spots if where is not None), None)
    if home is None and not problems:
        message = "a plain table does not say where it is from; give latitude_deg and longitude_deg, or site"
        problems.append(Problem(path="place", message=message))
    if home is not None:
        problems += _far(spots, home)
    if home is None or problems:
        raise JobError(problems[0].path, tuple(problems))
    return (*laid_out(rows, home), *(_typical(name, year, home) for name, year in years))


def _year_file(path: Path) -> WeatherYear | HourRows:
    text = _weather_text(path)
    if looks_like_pvgis(text):
        return pvgis_rows(text, path.name)
    if looks_like_nsrdb(text):
        return nsrdb_rows(text, path.name)
    if text.startswith("LOCATION,"):
        return read_epw(path)
    if re.match(TMY3_HEADING, text):
        return read_tmy3(path)
    if looks_like_csv(text):
        return csv_rows(text, path.name)
    raise _not_readable(
        path,
        "it is no hourly series of PVGIS or NSRDB, no EPW, no TMY3 and no table with a column time",
        "See docs/climate.md for the columns of a plain table.",
    )


def _spot(site: Site) -> Spot:
    return Spot(site.latitude_deg, site.longitude_deg, site.elevation_m, site.utc_offset_h)


def _far(spots: list[tuple[str, Spot | None]], home: Spot) -> list[Problem]:
    problems = []
    for name, where in spots:
        away_km = distance_km(home[:2], where[:2]) if where is not None else 0.0
        if away_km > NEAR_KM:
            message = f"its place lies {away_km:.0f} km from that of the job; use a file from within {NEAR_KM:.0f} km"
            problems.append(Problem(path=name, message=message))
    return problems


def _typical(name: str, year: WeatherYear, home: Spot) -> HourlyWeather:
    """Return the hours of a single year on the clock of a place."""
    shift_h = home.clock_offset_h - year.site.clock_offset_h
    return HourlyWeather(
        name=name,
        place=year.site.name,
        latitude_deg=year.site.latitude_deg,
        longitude_deg=year.site.longitude_deg,
        elevation_m=year.site.elevation_m,
        utc_offset_h=home.clock_offset_h,
        is_typical=True,
        first_day=0,
        middle_h=0.5 + shift_h,
        air_at_h=1.0 + shift_h,
        ghi_w_m2=year.ghi_w_m2,
        dhi_w_m2=year.dhi_w_m2,
        ambient_degc=year.ambient_degc,
    )


def read_epw(path: str | os.PathLike[str]) -> WeatherYear:
    """Read an EnergyPlus weather file (EPW): a year of 8760 hours; 29 February is left out."""
    text = _weather_text(Path(path))
    if not text.startswith("LOCATION,"):
        raise _not_readable(path, 'the first line does not begin with "LOCATION,"', "Choose an .epw file.")
    from pvlib.iotools import read_epw as read_frame  # noqa: PLC0415 - heavy

    frame, header = _parsed(read_frame, text, path)
    place = f"{header['city']} {header['state-prov']}".replace(" -", "").strip()
    source = f"EPW file {Path(path).name}, data set {header['data_type']}"
    return _weather_year(path, frame, header, Origin(place, str(header["country"]), source))


def read_tmy3(path: str | os.PathLike[str]) -> WeatherYear:
    """Read a TMY3 file (CSV as of 2015): a typical year of 8760 hours."""
    text = _weather_text(Path(path))
    if not re.match(TMY3_HEADING, text):
        raise _not_readable(path, "the second line is not a TMY3 heading", "Choose a TMY3 file in CSV form.")
    import pandas as pd  # noqa: PLC0415 - heavy
    from pvlib.iotools import read_tmy3 as read_frame  # noqa: PLC0415 - heavy

    frame, header = _parsed(partial(read_frame, coerce_year=NOMINAL_YEAR), text, path)
    frame.index = frame.index - pd.Timedelta(hours=1)  # the file stamps the end of the hour
    place = f"{header['Name']} {header['State']}".replace('"', "").strip()
    source = f"TMY3 file {Path(path).name}"
    return _weather_year(path, frame, header, Origin(place, "USA", source))


def _weather_text(path: Path) -> str:
    """Text of a weather file, UTF-8 or Latin-1, after the checks that need no parser."""
    try:
        size = path.stat().st_size
        if size > MAX_FILE_BYTES:
            raise _not_readable(
                path, f"it has {size / 1e6:.0f} MB; ten years of hours have about 5 MB", "Split it by years."
            )
        content = path.read_bytes()
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise _not_readable(path, reason, "Check the name and the permission to read it.") from error
    if b"\0" in content[:65536]:
        raise _not_readable(path, "it is not plain text (or is UTF-16)", "Save it as UTF-8 text.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # common for place names with accents
    return text.replace("\r\n", "\n")


def _parsed(
    reader: Callable[[io.StringIO], tuple[pd.DataFrame, dict[str, Any]]],
    text: str,
    path: str | os.PathLike[str],
) -> tuple[pd.DataFrame, dict[str, Any]]:
    """Run a reader of pvlib and turn what it raises on a malformed file into one sentence."""
    try:
        frame, header = reader(io.StringIO(text))
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        detail = str(error).split("\n", maxsplit=1)[0][:120]
        raise _not_readable(
            path, f"its lines are malformed ({detail})", "Download or export it again."
        ) from error
    return frame, header


def _weather_year(
    path: str | os.PathLike[str],
    frame: pd.DataFrame,
    header: dict[str, Any],
    origin: Origin,
) -> WeatherYear:
    hours = _common_year(path, frame)
    ghi = _checked(path, hours, "ghi", IRRADIANCE_RANGE_W_M2)
    dhi = _checked(path, hours, "dhi", IRRADIANCE_RANGE_W_M2)
    ambient = _checked(path, hours, "temp_air", TEMPERATURE_RANGE_DEGC)
    ghi_means, max_means, min_means = monthly_figures(ghi, ambient)
    site = Site(
        id=re.sub(r"[^a-z0-9]+", "-", origin.place.lower()).strip("-") or "weather-file",
        name=origin.place,
        country=origin.country,
        latitude_deg=float(header["latitude"]),
        longitude_deg=float(header["longitude"]),
        elevation_m=float(header["altitude"]),
        utc_offset_h=float(header["TZ"]),
        ghi_kwh_m2_day=ghi_means,
        max_degc=max_means,
        min_degc=min_means,
        source=origin.source,
    )
    return WeatherYear(site=site, ghi_w_m2=ghi, dhi_w_m2=dhi, ambient_degc=ambient)


def _common_year(path: str | os.PathLike[str], frame: pd.DataFrame) -> pd.DataFrame:
    """Rows without 29 February; their hours must run from 1 January to 31 December."""
    leap_day = (frame.index.month == 2) & (frame.index.day == 29)
    hours = frame[~leap_day]
    if len(hours) != HOURS_PER_YEAR:
        raise _not_readable(
            path,
            f"it has {len(hours)} hours, a year has {HOURS_PER_YEAR}",
            "Download or export the whole year.",
        )
    month = np.repeat(np.arange(1, 13), [24 * days for days in DAYS_IN_MONTH])
    hour = np.tile(np.arange(24), 365)
    if not (np.array_equal(hours.index.month, month) and np.array_equal(hours.index.hour, hour)):
        raise _not_readable(
            path,
            "its hours do not run from 1 January to 31 December",
            "Sort the rows by month, day and hour.",
        )
    return hours


def _checked(
    path: str | os.PathLike[str], hours: pd.DataFrame, column: str, limits: tuple[float, float]
) -> NDArray[np.float64]:
    """One column as numbers; missing or impossible hours are refused with their count."""
    import pandas as pd  # noqa: PLC0415 - heavy

    values = pd.to_numeric(hours[column], errors="coerce").to_numpy(dtype=np.float64, copy=True)
    wrong = ~((values >= limits[0]) & (values <= limits[1]))
    if wrong.any():
        first = int(np.argmax(wrong))
        raise _not_readable(
            path,
            f"{column} is missing or outside {limits[0]:g} to {limits[1]:g} in {int(wrong.sum())} hours, "
            f"first in hour {first + 1} of the year",
            "Use a file without gaps.",
        )
    checked: NDArray[np.float64] = values
    return checked


def _not_readable(path: str | os.PathLike[str], what: str, remedy: str) -> ClimateError:
    return ClimateError(f"{Path(path).name}: cannot be used as weather: {what}. {remedy}")

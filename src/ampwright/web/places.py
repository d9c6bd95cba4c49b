"""Places: those shipped and the workshop's own, each with twelve monthly figures and perhaps the file they came from.

A job takes a copy of a place's figures, or of its file: what a job says stands in the job alone.
"""

from __future__ import annotations

import dataclasses
import re
import secrets
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ampwright.climate.site import Site, site_problems
from ampwright.climate.sources import shipped_sites
from ampwright.errors import JobError, Problem
from ampwright.job.text_edit import value_at, with_value
from ampwright.job.toml_values import toml_lines
from ampwright.records import record
from ampwright.toml_positions import read_toml, toml_tables
from ampwright.validation import problems_from, validated
from ampwright.web.app import workshop_folder
from ampwright.web.shelf import write_whole

__all__ = [
    "OwnPlace",
    "checked_site",
    "keep_place",
    "own_places",
    "place_named",
    "place_table",
    "remove_place",
    "site_raw",
    "staged",
    "staged_file",
    "weather_of_place",
    "with_place",
]

PLACE_FILE_BYTES = 100_000
GOOD_TOKEN = re.compile(r"[0-9a-f]{32}")
ENDINGS = (".epw", ".csv", ".tm3", ".tmy3", ".json")
STAGED_S = 3600.0
"""Time for which a file that was only looked at is kept (our own choice)."""
JOB = Path("job.toml")


@record
class OwnPlace:
    """One own place with its weather file, where there is one."""

    site: Site
    """The place and its monthly figures."""
    weather: Path | None
    """The file they came from."""


def _folder() -> Path:
    return workshop_folder() / "places"


def own_places() -> dict[str, OwnPlace]:
    """Return the workshop's own places by id; a file that cannot be read is none of them."""
    found = {}
    for path in sorted(_folder().glob("*.toml")) if _folder().is_dir() else ():
        try:
            site = checked_site(read_toml(path, max_bytes=PLACE_FILE_BYTES)[0])
        except JobError:
            continue
        found[site.id] = OwnPlace(site=site, weather=weather_of_place(site.id))
    return found


def weather_of_place(place_id: str) -> Path | None:
    """Return the weather file of an own place."""
    return next((path for end in ENDINGS if (path := _folder() / f"{place_id}{end}").is_file()), None)


def place_named(place_id: str) -> OwnPlace | None:
    """Return a place, own or shipped."""
    own = own_places().get(place_id)
    if own is not None:
        return own
    shipped = shipped_sites().get(place_id)
    return None if shipped is None else OwnPlace(site=shipped, weather=None)


def checked_site(raw: Mapping[str, Any]) -> Site:
    """Return the place a table writes down.

    Raises
    ------
    JobError
        With everything that cannot be true in it.
    """
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    try:
        site = validated(Site, dict(raw))
    except ValidationError as error:
        raise JobError("place", tuple(problems_from(error, dict(raw), kind=Site, text=""))) from None
    found = tuple(Problem(path="", message=message) for message in site_problems(site))
    if site.id in shipped_sites():
        found = (*found, Problem(path="id", message="a shipped place has this id; choose another"))
    if found:
        raise JobError("place", found)
    return site


def site_raw(site: Site) -> dict[str, Any]:
    """Return a place as a table."""
    raw = {field.name: getattr(site, field.name) for field in dataclasses.fields(site)}
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in raw.items()
        if value is not None
    }


def keep_place(site: Site, weather: Path | None) -> None:
    """Keep a place, and the file its figures came from."""
    write_whole(_folder() / f"{site.id}.toml", toml_lines(site_raw(site)))
    if weather is not None:
        weather.replace(_folder() / f"{site.id}{weather.suffix}")


def remove_place(place_id: str) -> None:
    """Take an own place away; jobs keep their copies."""
    if place_id not in own_places():
        return
    weather = weather_of_place(place_id)
    (_folder() / f"{place_id}.toml").unlink(missing_ok=True)
    if weather is not None:
        weather.unlink(missing_ok=True)


def staged(content: bytes, ending: str) -> str:
    """Keep a file for a while under a name nobody can guess; return that name."""
    folder = _folder() / ".looked-at"
    folder.mkdir(parents=True, exist_ok=True)
    for path in folder.iterdir():
        if time.time() - path.stat().st_mtime > STAGED_S:
            path.unlink(missing_ok=True)
    token = secrets.token_hex(16)
    (folder / f"{token}{ending}").write_bytes(content)
    return token


def staged_file(token: str) -> Path | None:
    """Return the file that was kept for a while under a name."""
    if not GOOD_TOKEN.fullmatch(token):
        return None
    folder = _folder() / ".looked-at"
    return next((path for end in ENDINGS if (path := folder / f"{token}{end}").is_file()), None)


def place_table(site: Site) -> dict[str, Any]:
    """Return what a job says of a place: the id of a shipped one, a copy of the figures of an own one."""
    if site.id in shipped_sites():
        return {"site": site.id}
    raw = site_raw(site)
    copied = ("name", "latitude_deg", "longitude_deg", "elevation_m", "utc_offset_h")
    months = ("ghi_kwh_m2_day", "max_degc", "min_degc")
    table = {name: raw[name] for name in (*copied, *months) if name in raw}
    return {**table, "figures_from": f"{site.source} (place {site.id} of the workshop)"}


def with_place(text: str, table: Mapping[str, Any]) -> str:
    """Return the text of a job at another place; its comments stay."""
    old = value_at(toml_tables(text, JOB), ("place",)) or {}
    for name in old:
        if name not in table:
            text = with_value(text, ("place", str(name)), None)
    for name, value in table.items():
        text = with_value(text, ("place", name), value)
    return text

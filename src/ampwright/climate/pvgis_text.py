"""Hourly series of PVGIS, CSV or JSON, many years in one file; parsed by pvlib, nothing is fetched."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any

import numpy as np

from ampwright.climate.csv_hours import LIMITS
from ampwright.climate.hour_rows import HourRows, Spot, capped
from ampwright.errors import JobError, Problem

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["looks_like_pvgis", "pvgis_rows"]

HORIZONTAL = "download the hourly data with slope 0 and the radiation components"
COMPONENTS = ("poa_direct", "poa_sky_diffuse")
COLUMN_NAMES = {"poa_direct": "Gb(i)", "poa_sky_diffuse": "Gd(i)", "poa_global": "G(i)", "temp_air": "T2m"}
LIMIT_OF = {"temp_air": LIMITS["ambient_degc"]}


def looks_like_pvgis(text: str) -> bool:
    """Say whether a text is an hourly series of PVGIS."""
    head = text[:4000]
    return head.startswith("Latitude (decimal degrees)") or ('"inputs"' in head and '"meteo_data"' in head)


def pvgis_rows(text: str, name: str) -> HourRows:
    """Return the rows of an hourly series of PVGIS; each value is that of the hour around its time, in UTC.

    Raises
    ------
    JobError
        With everything that keeps the file from being used.
    """
    frame, about = _parsed(text, name)
    problems = _shape_problems(frame, about, name)
    if not problems:
        first_line = text[: text.find("\ntime,")].count("\n") + 3 if text.startswith("Latitude") else None
        problems = _range_problems(frame, name, first_line)
    if problems:
        raise JobError(name, tuple(problems))
    if "poa_direct" in frame:
        ghi = (frame["poa_direct"] + frame["poa_sky_diffuse"]).to_numpy(dtype=np.float64, copy=True)
        dhi = frame["poa_sky_diffuse"].to_numpy(dtype=np.float64, copy=True)
    else:
        ghi = frame["poa_global"].to_numpy(dtype=np.float64, copy=True)
        dhi = np.full(ghi.size, np.nan)
    times = frame.index.tz_localize(None).to_numpy().astype("datetime64[s]")
    first = first_line if text.startswith("Latitude") and first_line is not None else 1
    return HourRows(
        name=name,
        place=f"{about['latitude']:.3f}, {about['longitude']:.3f}",
        spot=Spot(about["latitude"], about["longitude"], about["elevation"], None),
        is_utc=True,
        middle=times,
        air_lead_s=0,
        ghi_w_m2=ghi,
        dhi_w_m2=dhi,
        ambient_degc=frame["temp_air"].to_numpy(dtype=np.float64, copy=True),
        lines=first + np.arange(len(frame)),
        notes=tuple(_notes(frame, about, name)),
    )


def _parsed(text: str, name: str) -> tuple[pd.DataFrame, dict[str, Any]]:
    from pvlib.iotools import read_pvgis_hourly  # noqa: PLC0415 - heavy

    kind = "csv" if text.startswith("Latitude") else "json"
    try:
        frame, meta = read_pvgis_hourly(io.StringIO(text), pvgis_format=kind)
        about = _about(meta["inputs"])
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        problems = _bad_lines(text, name) if kind == "csv" else []
        if not problems:
            detail = str(error).split("\n", maxsplit=1)[0][:120]
            problems = [Problem(path=name, message=f"its lines are malformed ({detail}); download it again")]
        raise JobError(name, tuple(capped(name, problems))) from None
    return frame, about


def _about(inputs: dict[str, Any]) -> dict[str, Any]:
    """Return place, data set and slope; the two kinds of file say them in different words."""
    if "location" in inputs:
        where = inputs["location"]
        mounting = inputs.get("mounting_system", {}).get("fixed", {})
        slope = mounting.get("slope", {}).get("value")
        data_set = inputs.get("meteo_data", {}).get("radiation_db", "")
    else:
        where = inputs
        found = re.match(r"\s*(-?[\d.]+)", str(inputs.get("Slope", "")))
        slope = float(found[1]) if found else None
        data_set = inputs.get("radiation_database", "")
    place = {each: float(where[each]) for each in ("latitude", "longitude", "elevation")}
    return {**place, "slope": slope, "data_set": str(data_set)}


def _bad_lines(text: str, name: str) -> list[Problem]:
    """Return the lines of a table that cannot be read."""
    lines = text.split("\n")
    start = next((at for at, line in enumerate(lines) if line.startswith("time,")), None)
    if start is None:
        message = "no line begins with 'time,'; take an hourly series, for a typical year its EPW form"
        return [Problem(path=name, line=1, message=message)]
    heading = lines[start].strip().split(",")
    problems = []
    for number, line in enumerate(lines[start + 1 :], start=start + 2):
        if not line.strip():
            break
        cells = line.strip().split(",")
        if len(cells) != len(heading):
            message = f"{len(cells)} fields, the heading has {len(heading)}; download it again"
            problems.append(Problem(path=name, line=number, message=message))
            continue
        for column, cell in zip(heading[1:], cells[1:], strict=True):
            try:
                float(cell)
            except ValueError:
                message = f"'{cell[:30]}' is no number; download it again"
                problems.append(Problem(path=f"{name} > {column}", line=number, message=message))
        if not re.fullmatch(r"\d{8}:\d{4}", cells[0]):
            message = f"'{cells[0][:30]}' is no time like 20150731:1411; download it again"
            problems.append(Problem(path=f"{name} > time", line=number, message=message))
    return problems


def _shape_problems(frame: pd.DataFrame, about: dict[str, Any], name: str) -> list[Problem]:
    problems = []
    if about["slope"] is None:
        problems.append(Problem(path=name, message=f"it names no slope of a fixed plane; {HORIZONTAL}"))
    elif about["slope"] != 0.0:
        problems.append(
            Problem(path=f"{name} > Slope", message=f"a plane of {about['slope']:g} deg; {HORIZONTAL}")
        )
    if "temp_air" not in frame:
        problems.append(Problem(path=name, message="no column T2m; download the hourly data again"))
    if "poa_global" not in frame and not all(column in frame for column in COMPONENTS):
        problems.append(Problem(path=name, message=f"no column of irradiance; {HORIZONTAL}"))
    if not len(frame):
        problems.append(Problem(path=name, message="it has no hours; download it again"))
    return problems


def _range_problems(frame: pd.DataFrame, name: str, first_line: int | None) -> list[Problem]:
    problems = []
    for column in (each for each in COLUMN_NAMES if each in frame):
        low, high = LIMIT_OF.get(column, LIMITS["ghi_w_m2"])
        values = frame[column].to_numpy(dtype=np.float64)
        for at in np.flatnonzero(~((values >= low) & (values <= high))):
            message = f"{values[at]:g} lies outside {low:g} to {high:g}; download it again"
            line = None if first_line is None else first_line + int(at)
            problems.append(Problem(path=f"{name} > {COLUMN_NAMES[column]}", line=line, message=message))
    return capped(name, problems)


def _notes(frame: pd.DataFrame, about: dict[str, Any], name: str) -> list[str]:
    notes = []
    if "poa_direct" not in frame:
        notes.append(f"{name}: no diffuse part in it; beam and diffuse by Erbs, Klein and Duffie")
    made_count = int((frame["Int"] != 0).sum()) if "Int" in frame else 0
    if made_count:
        notes.append(
            f"{name}: {made_count} hours of sun were reconstructed by {about['data_set'] or 'PVGIS'}"
        )
    return notes

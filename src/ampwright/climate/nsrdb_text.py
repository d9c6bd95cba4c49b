"""Years of the National Solar Radiation Database (NSRDB), CSV, hourly or half-hourly; parsed by pvlib, nothing is fetched."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.csv_hours import LIMITS
from ampwright.climate.hour_rows import HourRows, Spot, capped
from ampwright.errors import JobError, Problem

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["looks_like_nsrdb", "nsrdb_rows"]

HEADING = "Source,Location ID,"
FIRST_LINE = 4  # two lines of the place, one of the columns
HOUR_S = 3600
HALF_HOUR_S = 1800
COLUMNS = {"GHI": LIMITS["ghi_w_m2"], "DHI": LIMITS["dhi_w_m2"], "Temperature": LIMITS["ambient_degc"]}
NEEDED = ("GHI", "Temperature")


def looks_like_nsrdb(text: str) -> bool:
    """Say whether a text is a year of that database."""
    return text.startswith(HEADING)


def nsrdb_rows(text: str, name: str) -> HourRows:
    """Return the rows of a year; a value is that of the moment of its row, for the hour around it.

    Of half-hourly rows the mean of both of a clock hour stands for the hour around the quarter past.

    Raises
    ------
    JobError
        With everything that keeps the file from being used.
    """
    frame, about = _parsed(text, name)
    times = frame.index.tz_convert("UTC").tz_localize(None).to_numpy().astype("datetime64[s]")
    problems = _problems(frame, times, name)
    if problems:
        raise JobError(name, tuple(problems))
    group = 2 if _step_s(times) == HALF_HOUR_S else 1
    has_split = "DHI" in frame
    return HourRows(
        name=name,
        place=f"{about['Latitude']:.3f}, {about['Longitude']:.3f}",
        spot=Spot(
            float(about["Latitude"]),
            float(about["Longitude"]),
            float(about["Elevation"]),
            float(about["Local Time Zone"]),
        ),
        is_utc=True,
        middle=times[::group] + np.timedelta64((group - 1) * HALF_HOUR_S // 2, "s"),
        air_lead_s=0,
        ghi_w_m2=_means(frame, "GHI", group),
        dhi_w_m2=_means(frame, "DHI", group) if has_split else np.full(len(frame) // group, np.nan),
        ambient_degc=_means(frame, "Temperature", group),
        lines=FIRST_LINE + group * np.arange(len(frame) // group),
        notes=tuple(_notes(frame, name)),
    )


def _parsed(text: str, name: str) -> tuple[pd.DataFrame, dict[str, Any]]:
    from pvlib.iotools import read_nsrdb_psm4  # noqa: PLC0415 - heavy

    try:
        frame, about = read_nsrdb_psm4(io.StringIO(text), map_variables=False)
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, StopIteration) as error:
        detail = str(error).split("\n", maxsplit=1)[0][:120]
        problem = Problem(path=name, message=f"its lines are malformed ({detail}); download it again")
        raise JobError(name, (problem,)) from None
    return frame, about


def _step_s(times: NDArray[np.datetime64]) -> int:
    return int((times[1] - times[0]).astype(np.int64)) if times.size > 1 else 0


def _problems(frame: pd.DataFrame, times: NDArray[np.datetime64], name: str) -> list[Problem]:
    missing = [column for column in NEEDED if column not in frame]
    if missing:
        message = f"no column {' or '.join(missing)}; download it again with GHI, DHI and Temperature"
        return [Problem(path=name, line=FIRST_LINE - 1, message=message)]
    step_s = _step_s(times)
    if step_s not in (HOUR_S, HALF_HOUR_S):
        message = (
            "its rows are not an hour or half an hour apart; download it with an interval of 60 or 30 minutes"
        )
        return [Problem(path=name, line=FIRST_LINE, message=message)]
    problems = []
    uneven = np.flatnonzero(np.diff(times).astype(np.int64) != step_s)
    if uneven.size:
        message = (
            "the rows do not follow each other here; a typical year is put together of several, a real year is needed: "
            "download single years"
        )
        problems.append(Problem(path=name, line=FIRST_LINE + int(uneven[0]) + 1, message=message))
    if step_s == HALF_HOUR_S and times.size % 2:
        problems.append(Problem(path=name, message="its last hour has one row of two; download it again"))
    return problems + _range_problems(frame, name)


def _range_problems(frame: pd.DataFrame, name: str) -> list[Problem]:
    problems = []
    for column, (low, high) in COLUMNS.items():
        if column not in frame:
            continue
        values = frame[column].to_numpy(dtype=np.float64)
        for at in np.flatnonzero(~((values >= low) & (values <= high))):
            message = f"{values[at]:g} lies outside {low:g} to {high:g}; download it again"
            problems.append(Problem(path=f"{name} > {column}", line=FIRST_LINE + int(at), message=message))
    return capped(name, problems)


def _means(frame: pd.DataFrame, column: str, group: int) -> NDArray[np.float64]:
    means: NDArray[np.float64] = frame[column].to_numpy(dtype=np.float64).reshape(-1, group).mean(axis=1)
    return means


def _notes(frame: pd.DataFrame, name: str) -> list[str]:
    notes = []
    if "DHI" not in frame:
        notes.append(f"{name}: no diffuse part in it; beam and diffuse by Erbs, Klein and Duffie")
    made_count = int(((frame["Fill Flag"] > 0) & (frame["GHI"] > 0)).sum()) if "Fill Flag" in frame else 0
    if made_count:
        notes.append(f"{name}: {made_count} values of sun were filled by the data base (Fill Flag)")
    return notes

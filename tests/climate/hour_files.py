"""Texts of hourly files for tests: the layouts are those pvlib's readers and docs/climate.md describe."""

from __future__ import annotations

import datetime as dt
import json

import numpy as np


def stamps(first, count):
    """Return so many times, an hour apart."""
    begin = dt.datetime.fromisoformat(first)
    return [begin + dt.timedelta(hours=hour) for hour in range(count)]


def pvgis_csv(times, beam, diffuse, air, *, latitude=36.1, longitude=-79.95, slope=0, made=()):
    """Return an hourly series with components, as the CSV download of PVGIS lays it out."""
    head = [
        f"Latitude (decimal degrees):\t{latitude:.3f}",
        f"Longitude (decimal degrees):\t{longitude:.3f}",
        "Elevation (m):\t273",
        "Radiation database:\tPVGIS-SARAH2",
        "",
        "",
        f"Slope: {slope} deg. ",
        "Azimuth: 0 deg. ",
        "time,Gb(i),Gd(i),Gr(i),H_sun,T2m,WS10m,Int",
    ]
    rows = [
        f"{when:%Y%m%d:%H%M},{b!r},{d!r},0.0,10.0,{t!r},2.0,{1.0 if number in made else 0.0}"
        for number, (when, b, d, t) in enumerate(
            zip(times, map(float, beam), map(float, diffuse), map(float, air), strict=True)
        )
    ]
    return "\r\n".join([*head, *rows, "", "Gb(i): Beam (direct) irradiance", "(c) the data set"]) + "\r\n"


def pvgis_json(times, glob, air, *, latitude=36.1, longitude=-79.95, slope=0):
    """Return an hourly series without components, as the JSON download of PVGIS lays it out."""
    return json.dumps(
        {
            "inputs": {
                "location": {"latitude": latitude, "longitude": longitude, "elevation": 273.0},
                "meteo_data": {"radiation_db": "PVGIS-ERA5", "year_min": times[0].year},
                "mounting_system": {"fixed": {"slope": {"value": slope, "optimal": False}}},
            },
            "outputs": {
                "hourly": [
                    {
                        "time": f"{when:%Y%m%d:%H%M}",
                        "G(i)": g,
                        "H_sun": 10.0,
                        "T2m": t,
                        "WS10m": 2.0,
                        "Int": 0.0,
                    }
                    for when, g, t in zip(times, map(float, glob), map(float, air), strict=True)
                ]
            },
            "meta": {"inputs": {}},
        }
    )


def table(times, ghi, air, dhi=None, *, mark=",", comma=False):
    """Return a plain table of hours."""
    heading = ["time", "ghi_w_m2", "ambient_degc"] + ([] if dhi is None else ["dhi_w_m2"])
    columns = [ghi, air] + ([] if dhi is None else [dhi])
    lines = [mark.join(heading)]
    for when, *values in zip(times, *columns, strict=True):
        cells = ["" if np.isnan(value) else f"{float(value)!r}" for value in values]
        lines.append(
            mark.join([when.isoformat(), *(cell.replace(".", ",") if comma else cell for cell in cells)])
        )
    return "\n".join(lines) + "\n"

"""Sun, weather and ambient series of a place."""

from ampwright.climate.body import BODY_PRESETS, BodyPreset, body_air_degc
from ampwright.climate.plane import Mounting, cell_degc, plane_w_m2
from ampwright.climate.series import SunSeries, repeated, step_hours, step_midpoints_h
from ampwright.climate.site import Site, site_problems, site_warnings
from ampwright.climate.sources import load_typical_day, read_epw, read_tmy3, shipped_site, shipped_sites
from ampwright.climate.sun import typical_day
from ampwright.climate.weather import WeatherYear, monthly_site, real_days

__all__ = [
    "BODY_PRESETS",
    "BodyPreset",
    "Mounting",
    "Site",
    "SunSeries",
    "WeatherYear",
    "body_air_degc",
    "cell_degc",
    "load_typical_day",
    "monthly_site",
    "plane_w_m2",
    "read_epw",
    "read_tmy3",
    "real_days",
    "repeated",
    "shipped_site",
    "shipped_sites",
    "site_problems",
    "site_warnings",
    "step_hours",
    "step_midpoints_h",
    "typical_day",
]

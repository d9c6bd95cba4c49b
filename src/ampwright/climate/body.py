"""Air temperature inside a closed vehicle body that stands in the sun.

One heat store, one leak, one sunlit area: enough to tell a fridge or an enclosure in the body how
hot its surroundings get. Enclosures inside the body have their own balance elsewhere.
"""

from __future__ import annotations

import math
from functools import cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries, step_hours
from ampwright.errors import ClimateError
from ampwright.records import NonNegative, Positive, record
from ampwright.sources import Source

__all__ = ["BODY_PRESETS", "BodyPreset", "body_air_degc", "hottest_body_degc"]


@record
class BodyPreset:
    """Heat figures of a kind of vehicle body, closed and parked."""

    name: str
    """Short name: lower case letters and dashes."""
    ua_w_per_k: Positive
    """Heat lost to the outside for each kelvin, all walls and leaks together."""
    solar_area_m2: NonNegative
    """Heat gained inside for each W/m² of global irradiance."""
    heat_capacity_wh_per_k: Positive
    """Heat stored for each kelvin by air, lining and furniture."""
    source: Source
    """Where the figures come from."""


CLEAR_NOON_W_M2 = 1000.0  # standard irradiance, IEC 60904-3
CLEAR_DAY_RANGE_K = 10.0
"""Air is this much cooler at dawn than at its hottest (docs/choices.md#hottest-body)."""
STEPS_PER_DAY = 96

OWN_FIGURES = Source(
    document="Ampwright docs/climate.md", place="Air inside the body: presets", standing="own choice"
)

BODY_PRESETS = MappingProxyType(
    {
        preset.name: preset
        for preset in (
            BodyPreset(
                name="van-body-bare",
                ua_w_per_k=180.0,
                solar_area_m2=4.0,
                heat_capacity_wh_per_k=65.0,
                source=OWN_FIGURES,
            ),
            BodyPreset(
                name="van-body-insulated",
                ua_w_per_k=70.0,
                solar_area_m2=0.9,
                heat_capacity_wh_per_k=200.0,
                source=OWN_FIGURES,
            ),
            BodyPreset(
                name="box-body",
                ua_w_per_k=50.0,
                solar_area_m2=0.5,
                heat_capacity_wh_per_k=250.0,
                source=OWN_FIGURES,
            ),
        )
    }
)


def body_air_degc(
    series: SunSeries,
    *,
    ua_w_per_k: float,
    solar_area_m2: float,
    heat_capacity_wh_per_k: float,
    internal_w: float | NDArray[np.float64] = 0.0,
) -> NDArray[np.float64]:
    """Mean air temperature inside the body in each step.

    C dT/dt = UA (Ta - T) + A G + Q, exact for inputs that are constant within a step.

    Parameters
    ----------
    internal_w : heat of people and appliances; a number or one value per step.

    Notes
    -----
    Starts from the state that the first day repeats for ever; one day is therefore periodic. Windows and
    doors are shut, the wind does not count, and thermal mass and air have one temperature.
    """
    if not (ua_w_per_k > 0.0 and heat_capacity_wh_per_k > 0.0 and solar_area_m2 >= 0.0):
        raise ClimateError(
            f"body: ua_w_per_k = {ua_w_per_k:g} and heat_capacity_wh_per_k = {heat_capacity_wh_per_k:g} "
            f"must be above 0 and solar_area_m2 = {solar_area_m2:g} not negative"
        )
    gain_w = solar_area_m2 * series.ghi_w_m2 + internal_w
    target_degc = series.ambient_degc + gain_w / ua_w_per_k
    exponent = step_hours(series) * ua_w_per_k / heat_capacity_wh_per_k
    state = _periodic_start_degc(target_degc[: series.steps_per_day], exponent)
    starts = _lagged_degc(target_degc.reshape(-1, series.steps_per_day), state, exponent)
    mean_share = -math.expm1(-exponent) / exponent
    result: NDArray[np.float64] = target_degc + (starts - target_degc) * mean_share
    return result


def _lagged_degc(day_degc: NDArray[np.float64], state: float, exponent: float) -> NDArray[np.float64]:
    """Return a first-order lag's state at the start of each step (n_steps,), from targets by day (n_days, steps)."""
    count = day_degc.shape[1]
    # What the targets of a day so far add to the state at the end of each step: sums over 2, 4, 8 ... steps.
    added = -math.expm1(-exponent) * day_degc
    width = 1
    while width < count:
        added[:, width:] = added[:, width:] + math.exp(-exponent * width) * added[:, :-width]
        width *= 2
    keep_day = math.exp(-exponent * count)
    states = np.empty(day_degc.shape[0])
    for day, last in enumerate(added[:, -1].tolist()):
        states[day] = state
        state = state * keep_day + last
    starts = states[:, None] * np.exp(-exponent * np.arange(count))
    starts[:, 1:] += added[:, :-1]
    result: NDArray[np.float64] = starts.reshape(-1)
    return result


def _periodic_start_degc(target_degc: NDArray[np.float64], exponent: float) -> float:
    """Start value that a day of `target_degc` leads back to."""
    age = np.arange(len(target_degc))[::-1]
    weights = np.exp(-exponent * age)
    return float(np.sum(weights * target_degc) / np.sum(weights))


@cache
def hottest_body_degc(preset_name: str, hottest_degc: float) -> float:
    """Return the hottest air in a closed, parked body on a clear day, air outside reaching `hottest_degc`.

    Twelve hours of sun, a half sine with standard irradiance at noon; outside air a sine, hottest at 15 h, repeated
    day after day (docs/choices.md#hottest-body). Not for a body with people, open windows or a cooler in it.
    """
    preset = BODY_PRESETS[preset_name]
    hour = (np.arange(STEPS_PER_DAY) + 0.5) * 24.0 / STEPS_PER_DAY
    none = np.zeros(STEPS_PER_DAY)
    sun = np.maximum(CLEAR_NOON_W_M2 * np.sin(np.pi / 12.0 * (hour - 6.0)), 0.0)
    swing = 0.5 * CLEAR_DAY_RANGE_K
    day = SunSeries(
        start_day=172,
        day_count=1,
        steps_per_day=STEPS_PER_DAY,
        ghi_w_m2=sun,
        dni_w_m2=none,
        dhi_w_m2=sun,
        extra_normal_w_m2=none,
        sun_elevation_deg=none,
        sun_azimuth_deg=none,
        ambient_degc=hottest_degc - swing + swing * np.cos(np.pi / 12.0 * (hour - 15.0)),
    )
    air = body_air_degc(
        day,
        ua_w_per_k=preset.ua_w_per_k,
        solar_area_m2=preset.solar_area_m2,
        heat_capacity_wh_per_k=preset.heat_capacity_wh_per_k,
    )
    return float(air.max())

"""Sun on a tilted plane and the temperature of a panel in it, from a `SunSeries` alone."""

from __future__ import annotations

from types import MappingProxyType
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries
from ampwright.errors import ClimateError

__all__ = ["Mounting", "cell_degc", "plane_w_m2"]

MIN_COS_ZENITH = 0.01745  # cos 89 degrees, the floor pvlib keeps (read): the ratio explodes at sunrise

Mounting = Literal["open-rack", "roof-gap", "roof-bonded"]
"""How a panel sits: free on a rack, over an air gap on a roof, or bonded to it."""


class HeatLoss(NamedTuple):
    """Heat a panel sheds: W/m² for each kelvin, and more for each m/s of wind."""

    still: float
    wind: float


# open-rack: D. Faiman, Prog. Photovolt. 16 (2008) 307, read in pvlib.temperature.faiman.
# The roof pairs are derived: D. L. King et al., SAND2004-3535, table 1 (read in pvlib), close mount and
# insulated back, cell rise at 1000 W/m2 as a loss factor at 0 and 1 m/s.
HEAT_LOSS = MappingProxyType(
    {
        "open-rack": HeatLoss(25.0, 6.84),
        "roof-gap": HeatLoss(19.3, 0.9),
        "roof-bonded": HeatLoss(16.6, 0.8),
    }
)


def plane_w_m2(
    series: SunSeries,
    *,
    tilt_deg: float | NDArray[np.float64],
    azimuth_deg: float | NDArray[np.float64],
    albedo_frac: float = 0.2,
) -> NDArray[np.float64]:
    """Irradiance of a plane: beam, diffuse sky and ground; one value per step of the series.

    J. E. Hay, J. A. Davies, Proc. First Canadian Solar Radiation Data Workshop, 1980, p. 59 (second hand:
    formula as given in the documentation of pvlib), ground reflection isotropic.

    Parameters
    ----------
    tilt_deg : 0 = flat, 90 = upright; one figure, or one for each step as azimuth_deg.
    azimuth_deg : direction the plane faces, clockwise from north.
    albedo_frac : share that the ground reflects; 0.2 is common practice for grass and soil.

    Notes
    -----
    Below 1 degree of sun height the beam ratio is held at its value there.
    """
    if np.min(tilt_deg) < 0.0 or np.max(tilt_deg) > 90.0 or np.isnan(tilt_deg).any():
        raise ClimateError(
            f"tilt_deg = {np.max(np.abs(tilt_deg)):g}: must lie between 0 (flat) and 90 (upright)"
        )
    if not 0.0 <= albedo_frac <= 1.0:
        raise ClimateError(f"albedo_frac = {albedo_frac:g}: must lie between 0 and 1")
    tilt = np.deg2rad(tilt_deg)
    elevation = np.deg2rad(series.sun_elevation_deg)
    turn = np.deg2rad(series.sun_azimuth_deg - azimuth_deg)
    cos_incidence = np.sin(elevation) * np.cos(tilt) + np.cos(elevation) * np.sin(tilt) * np.cos(turn)
    cos_incidence = np.maximum(cos_incidence, 0.0)
    beam_ratio = cos_incidence / np.maximum(np.sin(elevation), MIN_COS_ZENITH)
    anisotropy = series.dni_w_m2 / series.extra_normal_w_m2
    sky_view = 0.5 * (1.0 + np.cos(tilt))
    beam = series.dni_w_m2 * cos_incidence
    sky = series.dhi_w_m2 * (anisotropy * beam_ratio + (1.0 - anisotropy) * sky_view)
    ground = series.ghi_w_m2 * albedo_frac * (1.0 - sky_view)
    total: NDArray[np.float64] = beam + sky + ground
    return total


def cell_degc(
    irradiance_w_m2: NDArray[np.float64],
    ambient_degc: NDArray[np.float64],
    *,
    mounting: Mounting = "roof-gap",
    wind_m_s: float | NDArray[np.float64] = 1.0,
) -> NDArray[np.float64]:
    """Temperature of the cells of a panel.

    D. Faiman, Prog. Photovolt. 16 (2008) 307: T = Ta + G / (U0 + U1 w).

    Notes
    -----
    Steady state; good for steps of five minutes and more. On a camp site the wind at the roof is rarely
    known: 1 m/s is the default and this project's choice.
    """
    loss = HEAT_LOSS[mounting]
    result: NDArray[np.float64] = ambient_degc + irradiance_w_m2 / (loss.still + loss.wind * wind_m_s)
    return result

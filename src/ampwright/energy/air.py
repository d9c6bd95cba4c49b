"""Air at the parts and loads: outside, or in the closed body, and hotter by the zone's rise."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.body import BODY_PRESETS, body_air_degc
from ampwright.climate.series import SunSeries
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.records import record

__all__ = ["Air", "air_of"]


@record
class Air:
    """Air temperatures over the steps of the sun series."""

    outside_degc: NDArray[np.float64]
    """Air of the place."""
    inside_degc: NDArray[np.float64]
    """Air in the closed body."""

    def at(self, zone: DesignZone | None) -> NDArray[np.float64]:
        """Return the air of a zone; what has no zone stands in the body."""
        if zone is None:
            return self.inside_degc
        return (self.inside_degc if zone.is_inside else self.outside_degc) + zone.rise_k


def air_of(design: Design, sun: SunSeries) -> Air:
    """Return the air outside and in the body, nobody and nothing heating it."""
    preset = BODY_PRESETS[design.job.vehicle.body_preset]
    inside = body_air_degc(
        sun,
        ua_w_per_k=preset.ua_w_per_k,
        solar_area_m2=preset.solar_area_m2,
        heat_capacity_wh_per_k=preset.heat_capacity_wh_per_k,
    )
    return Air(outside_degc=sun.ambient_degc, inside_degc=inside)

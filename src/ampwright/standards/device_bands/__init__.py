"""Time-current bands of every class of protective device, rerated for the air around it, and what follows from them."""

from ampwright.standards.device_bands.band import RatedDevice, band_steps_a, device_band, least_square_a2s
from ampwright.standards.device_bands.classes import DEVICE_CLASSES, device_limits, load_points
from ampwright.standards.device_bands.discrimination import Discrimination, clears_in_time, discrimination
from ampwright.standards.device_bands.rerating import (
    CONTINUOUS_FACTOR,
    ContinuousLimit,
    Rerating,
    continuous_limit,
    rerating,
)

__all__ = [
    "CONTINUOUS_FACTOR",
    "DEVICE_CLASSES",
    "ContinuousLimit",
    "Discrimination",
    "RatedDevice",
    "Rerating",
    "band_steps_a",
    "clears_in_time",
    "continuous_limit",
    "device_band",
    "device_limits",
    "discrimination",
    "least_square_a2s",
    "load_points",
    "rerating",
]

"""Course of the air temperature through a day, from the day's maximum and minimum."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["diurnal_degc"]


def diurnal_degc(
    solar_time_h: NDArray[np.float64], *, min_degc: float, max_degc: float
) -> NDArray[np.float64]:
    """Air temperature at given solar times of a day that repeats itself.

    G. S. Campbell, J. M. Norman, An Introduction to Environmental Biophysics, 2nd ed. 1998, eq. 2.2
    (second hand): two harmonics, coolest near 5 h and warmest near 15 h solar time.

    Notes
    -----
    The shape is stretched so that the sampled values reach exactly `min_degc` and `max_degc`. It does not
    know the length of the day: in polar winter the printed maximum and minimum still come at 15 h and 5 h.
    """
    angle = np.pi / 12.0 * solar_time_h
    shape = 0.44 - 0.46 * np.sin(angle + 0.9) + 0.11 * np.sin(2.0 * angle + 0.9)
    share_frac = (shape - shape.min()) / (shape.max() - shape.min())
    course: NDArray[np.float64] = min_degc * (1.0 - share_frac) + max_degc * share_frac
    return course.clip(min_degc, max_degc)

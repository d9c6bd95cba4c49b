"""ISO 8820: fuse-links for road vehicles, and the fuse families a user's own table may describe."""

from ampwright.standards.iso_8820.band import OpeningBand, must_open_factor, opening_band
from ampwright.standards.iso_8820.limits import (
    FAMILIES,
    FuseLimits,
    OpeningPoint,
    opening_limits,
    shipped_points,
)
from ampwright.standards.iso_8820.user_file import load_limits

__all__ = [
    "FAMILIES",
    "FuseLimits",
    "OpeningBand",
    "OpeningPoint",
    "load_limits",
    "must_open_factor",
    "opening_band",
    "opening_limits",
    "shipped_points",
]

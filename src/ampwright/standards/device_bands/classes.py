"""Which classes of protective device are known, and the opening times held for each.

A class is a fuse family or a breaker's principle. ISO 8820 families come from their own package, the
others from `opening.csv`; a user's file may replace rows of any of them.
"""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path

from ampwright.errors import TableError
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows, weakest_standing
from ampwright.standards.iso_8820.limits import (
    FuseLimits,
    OpeningPoint,
    opening_limits,
    opening_point,
    shipped_points,
)
from ampwright.standards.iso_8820.user_file import load_limits

__all__ = ["DEVICE_CLASSES", "all_points", "device_limits", "load_points", "reference_degc"]

DEVICE_CLASSES = (
    "iso-8820-3-c",
    "iso-8820-3-e",
    "iso-8820-3-f",
    "iso-8820-5-sf30",
    "iso-8820-5-sf51",
    "ul-248-15-t",
    "iec-60269-6-gpv",
    "thermal",
    "hydraulic-magnetic",
    "thermal-magnetic",
)
"""Fuse families and breaker principles, as the parts name them."""


@cache
def _class_rows() -> dict[str, dict[str, str]]:
    return {row["device_class"]: row for row in table_rows(__package__, "classes.csv")}


@cache
def all_points() -> tuple[OpeningPoint, ...]:
    """Return the shipped opening times of every class."""
    rows = table_rows(__package__, "opening.csv")
    return (*shipped_points(), *(opening_point(row, _class_rows()[row["family"]]) for row in rows))


def known_class(device_class: str) -> str:
    """Return the class, or raise when it is none."""
    if device_class not in DEVICE_CLASSES:
        raise TableError(
            f'class of device "{device_class}" is not known: use one of {", ".join(DEVICE_CLASSES)}'
        )
    return device_class


def reference_degc(device_class: str) -> float:
    """Return the temperature of the air at which the opening times of a class hold."""
    return float(_class_rows()[known_class(device_class)]["reference_degc"])


@lru_cache(maxsize=64)
def device_limits(device_class: str, *, points: tuple[OpeningPoint, ...] | None = None) -> FuseLimits:
    """Return what is held of a class of device; `must_open_factor` of ISO 8820 reads it too.

    Parameters
    ----------
    points
        Result of `load_points` when the user supplied a file; the shipped points otherwise.

    Examples
    --------
    >>> [p.opening_max_s for p in device_limits("thermal").points]
    [None, 3600.0, 40.0, 5.0, 1.8, 0.4]
    """
    held = all_points() if points is None else points
    is_road = known_class(device_class).startswith("iso-8820")
    limits = opening_limits(device_class, points=held) if is_road else None
    if limits is not None:
        return limits
    own = tuple(sorted((p for p in held if p.family == device_class), key=_by_factor))
    row = _class_rows()[device_class]
    standings = [point.source.standing for point in own] or [row["standing"]]
    return FuseLimits(
        family=device_class,
        rated_dc_v=None,
        breaking_capacity_a=None,
        rating_min_a=None,
        rating_max_a=None,
        points=own,
        source=Source(
            document=row["document"], edition=row["edition"], standing=weakest_standing(*standings)
        ),
    )


def _by_factor(point: OpeningPoint) -> float:
    return point.current_factor


def load_points(path: Path) -> tuple[OpeningPoint, ...]:
    """Return the opening times of every class, the user's rows in place of those they speak of."""
    return load_limits(path, families=DEVICE_CLASSES, shipped=all_points())

"""Overcurrent devices: how large against the conductor, how far from the source."""

from __future__ import annotations

from functools import cache

from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["DistanceLimit", "RatingLimit", "device_distance_limit_m", "overcurrent_max_factor"]

M_PER_INCH = 0.0254  # international inch, exact
HIGHER_VOLTAGE_V = 50.0  # 183.455(c), read


@record
class RatingLimit:
    """Largest rating of a device against the allowable current."""

    max_factor: float
    """Largest device rating over the allowable current of the conductor."""
    source: Source
    """Where the limit comes from."""
    note: str
    """An exception the reader may use; empty when none."""


@record
class DistanceLimit:
    """Farthest place of a device from its source."""

    limit_m: float
    """Largest length of conductor between source and device."""
    source: Source
    """Where the limit comes from."""
    note: str
    """Condition on the limit."""


def overcurrent_max_factor(system_v: float) -> RatingLimit:
    """Return the largest device rating as a multiple of the conductor's allowable current.

    33 CFR 183.455(c): 150 % below 50 V, 100 % from 50 V.

    Examples
    --------
    >>> overcurrent_max_factor(12.0).max_factor, overcurrent_max_factor(50.0).max_factor
    (1.5, 1.0)
    """
    is_low = system_v < HIGHER_VOLTAGE_V
    return RatingLimit(
        max_factor=1.5 if is_low else 1.0,
        source=Source(
            document="33 CFR 183.455",
            edition="text in force",
            place="(c)(1)" if is_low else "(c)(2)",
        ),
        note="" if is_low else "when no device has that rating, the next larger one up to 150 %",
    )


@cache
def _distances() -> dict[tuple[bool, bool], dict[str, str]]:
    """Rows by (battery connected, sheathed)."""
    rows = table_rows(__package__, "device_distance.csv")
    return {(row["is_battery_connected"] == "yes", row["is_sheathed"] == "yes"): row for row in rows}


def device_distance_limit_m(*, is_sheathed: bool, is_battery_connected: bool) -> DistanceLimit:
    """Return the farthest place of the device from its source, along the conductor.

    33 CFR 183.455(b) and 183.460. The device belongs at the source; a distance is for where it cannot be.

    Parameters
    ----------
    is_sheathed
        True when the conductor lies in a sheath or enclosure all the way to the device.

    Examples
    --------
    >>> round(device_distance_limit_m(is_sheathed=False, is_battery_connected=True).limit_m, 3)
    0.178
    """
    row = _distances()[is_battery_connected, is_sheathed]
    note = "at the source where practical; measured along the conductor"
    if is_sheathed:
        note += "; in a sheath or enclosure all the way"
    if is_battery_connected:
        note += (
            "; 72 inch at a battery in a sheath only, as in boat practice; cranking motor circuits are exempt"
        )
    return DistanceLimit(
        limit_m=float(row["limit_in"]) * M_PER_INCH,
        source=Source(
            document="33 CFR 183", edition="text in force", place=row["place"], standing=row["standing"]
        ),
        note=note,
    )

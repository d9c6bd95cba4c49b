"""The settings of every device, in the order a fitter sets them. Records only."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from ampwright.records import record

__all__ = ["DeviceSettings", "Origin", "SettingLine", "SettingsPlan"]

Origin = Literal["job", "part", "proposal"]
"""Who says the value: the job, the part as delivered, or this program, for the job to decide."""


@record
class SettingLine:
    """One thing to set."""

    name: str
    """Field of the job, e.g. "charge_v"."""
    words: str
    """What it is."""
    value: float | str
    """What to set it to, in the line's unit, or a word."""
    unit: str
    """Unit of value, window and reading."""
    low: float | None
    """Lowest value allowed by device and battery; None = no such limit is known."""
    high: float | None
    """Highest value allowed; None = no such limit is known."""
    is_fixed: bool
    """True when the device cannot be set otherwise: to be read, not set."""
    why: str
    """Reason, one line."""
    origin: Origin
    """Who says the value."""
    as_left: float | str | None = None
    """What was read back; None = not yet."""
    is_off: bool = False
    """True when the reading does not agree."""


@record
class DeviceSettings:
    """One device with everything to set on it."""

    id: str
    """Name in the job."""
    name: str
    """What it is."""
    lines: tuple[SettingLine, ...]
    """In the order to set them."""
    by: str = ""
    """Who read it back; empty = nobody yet."""
    date: dt.date | None = None
    """When it was read back."""
    how: str = ""
    """Instrument it was read with."""
    firmware: str = ""
    """Version of its own program."""
    note: str = ""
    """What else was recorded."""


@record
class SettingsPlan:
    """All devices of a job."""

    devices: tuple[DeviceSettings, ...]
    """What protects first, then what charges."""
    proposal_count: int
    """Lines the job does not decide."""

"""How the trip or the working week goes: day plans and their sequence."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le, MaxLen, MinLen

from ampwright.job.quantity import FractionAmount, NonNegativeAmount, PositiveAmount
from ampwright.job.sunlight import ShadeTime
from ampwright.records import Fraction, record

__all__ = ["DayPlan", "Period", "State", "Use"]

State = Literal["off", "idle", "road", "hooked-up", "stored"]
"""Engine off, engine idling, driving, connected to mains, out of use."""


@record
class Period:
    """A stretch of the day in one state; what is not named is the plan's `otherwise`."""

    start: str
    """Clock time "HH:MM"."""
    end: str
    """Clock time "HH:MM"; earlier than start = past midnight."""
    state: State
    """State of the vehicle."""
    lasts_h: NonNegativeAmount | None = None
    """Hours it really lasts from its start, at most until its end; absent = until its end."""


@record
class DayPlan:
    """One kind of day."""

    id: str
    """Name used in the sequence of days."""
    otherwise: State = "off"
    """State outside the named periods."""
    period: tuple[Period, ...] = ()
    """Stretches in another state."""
    is_body_attached: bool = True
    """False when the removable body with its parts stays behind."""
    is_trailer_attached: bool = False
    """True when a trailer with its circuits is connected."""
    shade_frac: FractionAmount = 0.0
    """Part of the sun lost to trees and buildings on such a day."""
    sun_factor: Annotated[float, Ge(0), Le(2)] = 1.0
    """Factor on this kind of day's irradiation."""
    shade: Annotated[tuple[ShadeTime, ...], MaxLen(24)] = ()
    """Stretches of the day in shade, on top of shade_frac; where two overlap both count."""


@record
class Use:
    """The sequence of days."""

    days: Annotated[tuple[str, ...], MinLen(1), MaxLen(400)]
    """Day plans in order, e.g. ["travel", "5 x work", "travel"]."""
    start_soc_frac: FractionAmount = 0.9
    """State of charge at the first midnight."""
    reserve_frac: Fraction = 0.1
    """Part of the capacity that should never be needed."""
    mains_limit_a: PositiveAmount = 16.0
    """Current the hook-up post gives."""
    battery_years: Annotated[float, Gt(0), Le(15)] | None = None
    """Years the battery should last; absent = not said."""

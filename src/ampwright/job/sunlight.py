"""What keeps the sun from a panel, or follows it: how it is mounted and aimed, shade by section and by the hour."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Le, MaxLen

from ampwright.job.quantity import FractionAmount
from ampwright.records import Fraction, record

__all__ = ["DesignShade", "PanelPlace", "ShadeTime", "TwelveFractions"]

TwelveFractions = tuple[
    Fraction, Fraction, Fraction, Fraction, Fraction, Fraction,
    Fraction, Fraction, Fraction, Fraction, Fraction, Fraction,
]  # fmt: skip


@record
class PanelPlace:
    """How a panel sits in the sun."""

    mounting: Literal["open-rack", "roof-gap", "roof-bonded"] | None = None
    """Free in the air, over a gap on a roof, or bonded to it; absent = free for a portable panel, else over a gap."""
    section_shade_frac: Annotated[tuple[Fraction, ...], MaxLen(12)] = ()
    """Light lost on each section with a bypass diode of its own, by a rack or vent, e.g. [0, 0, 0.6]; empty = none."""
    aimed_count: Annotated[int, Ge(0), Le(24)] = 0
    """How often a day a portable panel is turned to the sun; 0 = it stays as tilt_deg and azimuth_deg say."""
    is_out_of_shade: bool = False
    """True for a panel that is put up outside the shade the vehicle stands in."""


@record
class ShadeTime:
    """A stretch of the day in which the parked vehicle stands in shade."""

    start: str
    """Clock time "HH:MM"."""
    end: str
    """Clock time "HH:MM"; earlier than start = past midnight."""
    shade_frac: FractionAmount = 1.0
    """Part of the sun lost meanwhile."""


@record
class DesignShade:
    """A stretch of the day in shade."""

    start_min: int
    """First minute, 0 to 1439."""
    end_min: int
    """Minute it ends; not above start_min = past midnight."""
    shade_frac: float
    """Part of the sun lost meanwhile."""

"""What runs in a design and when: loads with their stretches of the day, and the day plans."""

from __future__ import annotations

from typing import Literal

from ampwright.job.consumer import When
from ampwright.job.design_zone import DesignZone
from ampwright.job.fit import Mount
from ampwright.job.sunlight import DesignShade
from ampwright.job.use import State
from ampwright.job.wiring import Attached
from ampwright.parts.fridge import Fridge
from ampwright.records import record

__all__ = ["DesignLoad", "DesignPeriod", "DesignPlan", "DesignWhen"]


@record
class DesignWhen:
    """One entry of a schedule in minutes of the day."""

    start_min: int
    """First minute, 0 to 1439."""
    end_min: int
    """Minute it ends, 1 to 1440; not above start_min = past midnight."""
    duty_frac: float
    """Mean share of that time; from uses and minutes where those are given."""
    days: tuple[str, ...]
    """Day plans; empty = all but stored days."""
    states: tuple[State, ...]
    """States; empty = all but stored."""
    written: When
    """As written in the job."""


@record
class DesignLoad:
    """A load, amounts resolved."""

    index: int
    """Position in Design.loads."""
    id: str
    """Name."""
    name: str
    """Plain description."""
    node: int
    """Index of its node; -1 = not wired in this job, or an AC load."""
    inverter: int
    """Index of the inverter's part; -1 for a DC load."""
    fridge: Fridge | None
    """Catalogue record of a refrigerator."""
    power_w: float
    """Mean power while it runs, all of its count, at nominal voltage; a refrigerator's running power."""
    peak_w: float
    """Highest power, all of its count."""
    power_factor: float
    """Power factor."""
    count: int
    """How many alike."""
    behaves: Literal["power", "current", "resistance"]
    """How its current follows voltage."""
    is_essential: bool
    """True when it decides the verdict."""
    when: tuple[DesignWhen, ...]
    """Schedule; never empty."""
    zone: DesignZone | None
    """Where it stands."""
    min_v: float | None
    """Lowest voltage it works at; None = not said."""
    max_v: float | None
    """Highest voltage it survives; None = not said."""
    survives_surge_v: float | None
    """Peak of a load dump it survives; None = not said."""
    survives_reverse_v: float | None
    """Reversed voltage it survives; None = not said."""
    dimmed_frac: float
    """Usual brightness."""
    set_degc: float
    """Cabinet temperature; 0 where it is no refrigerator."""
    contents_low_degc: float | None
    """Lowest temperature of contents."""
    contents_high_degc: float | None
    """Highest temperature of contents."""
    draw_factor: float
    """Factor on a refrigerator's heat leak."""
    is_before_cutoff: bool
    """True when it stays on after the load cut-off."""
    mount: Mount | None
    """How it is held; None = not said."""
    part_of: Attached
    """Where it is carried."""
    nominal_v: float | None = None
    """Nominal voltage on its label; None = that of the side it is wired to."""


@record
class DesignPeriod:
    """A stretch of a day plan in minutes."""

    start_min: int
    """First minute."""
    end_min: int
    """Minute it ends; not above start_min = past midnight."""
    state: State
    """State of the vehicle."""


@record
class DesignPlan:
    """A day plan, amounts resolved."""

    id: str
    """Name."""
    otherwise: State
    """State outside the periods."""
    periods: tuple[DesignPeriod, ...]
    """Stretches in other states."""
    is_body_attached: bool
    """False when the body stays behind."""
    is_trailer_attached: bool
    """True with a trailer."""
    sun_factor: float
    """Irradiation left after shade of the whole day, season factor not included."""
    open_sun_factor: float
    """The same outside that shade."""
    shade_times: tuple[DesignShade, ...]
    """Stretches of the day in shade."""

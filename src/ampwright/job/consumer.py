"""What is to be run: loads with schedule, peak and priority."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Le

from ampwright.job.fit import Mount
from ampwright.job.quantity import (
    FractionAmount,
    PositiveAmount,
    TemperatureAmount,
)
from ampwright.job.use import State
from ampwright.records import Count, Positive, Temperature, record

__all__ = ["Load", "When"]


@record
class When:
    """When a load runs; several entries add up."""

    start: str = "00:00"
    """Clock time "HH:MM", or "sunrise" or "sunset", also as "sunset-0:30"."""
    end: str = "24:00"
    """The same; earlier than start = past midnight."""
    duty_frac: FractionAmount = 1.0
    """Part of that time it draws its power."""
    uses: Annotated[int, Ge(1), Le(1000)] | None = None
    """Times it is used between start and end, instead of a duty."""
    use_minutes: PositiveAmount | None = None
    """Minutes of each use."""
    days: tuple[str, ...] = ()
    """Day plans on which it runs; empty = all but stored days."""
    states: tuple[State, ...] = ()
    """States of the vehicle in which it runs; empty = all but stored."""


@record
class Load:
    """One consumer, or several alike."""

    id: str
    """Name used by runs and channels."""
    name: str
    """Plain description."""
    part: str = ""
    """Catalogue id of a refrigerator; its physics replaces `power_w` and `when`."""
    power_w: PositiveAmount | None = None
    """Power of one while it runs, at nominal voltage."""
    peak_w: PositiveAmount | None = None
    """Highest power of one for seconds to minutes; power_w when absent."""
    power_factor: Annotated[float, Ge(0.1), Le(1)] = 1.0
    """Power factor of an AC load."""
    mains_hz: tuple[Literal[50, 60], ...] = ()
    """Mains frequencies on the plate of an AC load; empty = not said."""
    has_motor: bool | None = None
    """True for an AC load with a motor, compressor, transformer or clock that follows the mains frequency."""
    start_va: PositiveAmount | None = None
    """Apparent power of one while its motor starts, about a second."""
    count: Count = 1
    """How many alike."""
    behaves: Literal["power", "current", "resistance"] = "power"
    """Constant power (electronics), current (LED driver), or resistance (heater, filament)."""
    through: str = ""
    """Id of the inverter it is plugged into; empty = DC."""
    at: str = ""
    """Node it is plugged into, e.g. an outlet; empty = a run ends at its own id."""
    priority: Literal["essential", "comfort"] = "essential"
    """Essential loads decide the verdict; comfort loads become a condition."""
    when: tuple[When, ...] = ()
    """Schedule; empty = always on."""
    zone: str = ""
    """Zone it stands in."""
    nominal_v: Positive | None = None
    """Nominal voltage on its label, e.g. 12 or 24; absent = that of the side it is wired to."""
    min_v: PositiveAmount | None = None
    """Lowest terminal voltage it works at."""
    max_v: PositiveAmount | None = None
    """Highest terminal voltage it survives."""
    survives_surge_v: Positive | None = None
    """Peak of a load dump it survives, 0.4 s; asked where it hangs on the starter battery."""
    survives_reverse_v: Positive | None = None
    """Reversed voltage it survives for a minute; asked there too."""
    dimmed_frac: FractionAmount = 1.0
    """Usual brightness; the mean draw falls with it."""
    set_degc: TemperatureAmount | None = None
    """Cabinet temperature of a refrigerator; the part's own when absent."""
    contents_low_degc: Temperature | None = None
    """Lowest temperature its contents tolerate."""
    contents_high_degc: Temperature | None = None
    """Highest temperature its contents tolerate; leaving the range fails the use."""
    draw_factor: PositiveAmount = 1.0
    """Factor on a refrigerator's heat leak (filling, door, air at it)."""
    hours_could_be_less: bool = False
    """True when the user would accept shorter hours."""
    is_before_cutoff: bool = False
    """True when it stays on after the load cut-off (standby of electronics, vaccine refrigerator)."""
    part_of: Literal["vehicle", "body", "trailer"] = "vehicle"
    """Where it is carried; it is absent when that is detached."""
    mount: Mount | None = None
    """How a refrigerator is held; absent = not said."""

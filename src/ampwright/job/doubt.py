"""How far things may be from what a job says: the doubt drawn anew for every run of the ensemble."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Le

from ampwright.records import record

__all__ = ["Doubt"]

Share = Annotated[float, Ge(0), Le(0.9)]


@record
class Doubt:
    """Doubts about the use; each figure is the most by which a run may differ (docs/choices.md#doubt)."""

    runs: Annotated[int, Ge(0), Le(2000)] = 50
    """Runs of weather and doubt; 0 = none."""
    seed: Annotated[int, Ge(0), Le(2**31 - 1)] = 1
    """Number the draws begin with; the same number gives the same runs."""
    weather_from: Literal["synthetic", "real-years"] = "synthetic"
    """Where the weather of the runs comes from: drawn, or the real years of `year_files` by turns."""
    fridge_draw_frac: Share = 0.4
    """Refrigerators draw up to this much more or less: door, filling, dust on the condenser."""
    hours_frac: Share = 0.2
    """Loads run up to this much longer or shorter than scheduled."""
    shade_frac: Share = 0.25
    """Up to this much of the sun is lost to shade and dirt nobody reckoned with."""
    forget_frac: Share = 0.1
    """Share of the days on which hooking up or idling to charge is forgotten."""
    battery_frac: Share = 0.15
    """The battery holds up to this much less than its label: age and tolerance."""
    alternator_frac: Share = 0.15
    """The hot alternator gives up to this much more or less."""

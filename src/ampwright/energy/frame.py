"""What all sources of a design share: sun, time axis, schedules, wiring and air."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries
from ampwright.energy.air import Air, air_of
from ampwright.energy.calendar import Calendar, calendar_of
from ampwright.energy.schedule import Schedule, is_attached, schedule_of
from ampwright.energy.sources_map import SourceMap, source_map
from ampwright.job.design import Design, DesignPart
from ampwright.records import record

__all__ = ["Frame", "frame_of"]


@record
class Frame:
    """Surroundings of a run."""

    design: Design
    """The design."""
    sun: SunSeries
    """Sun and outside air, one day or all days."""
    path_ohm: NDArray[np.float64]
    """Loop resistance to each node (n_nodes,)."""
    calendar: Calendar
    """Time axis."""
    schedule: Schedule
    """When loads run."""
    wiring: SourceMap
    """Which source reaches what."""
    air: Air
    """Air in the zones."""
    box_air: Mapping[int, NDArray[np.float64]]
    """Air around and inside each enclosure whose chargers give less when hot, by the enclosure's part (2, n_points)."""

    def air_degc(self, placed: DesignPart) -> NDArray[np.float64]:
        """Return the air at a placed part (n_steps,)."""
        return self.calendar.all_days(self.air.at(placed.zone))

    def working_degc(self, placed: DesignPart) -> NDArray[np.float64]:
        """Return the air at a part that is at work: that inside its enclosure, everything in it on (n_steps,)."""
        around = self.air_degc(placed)
        course = self.box_air.get(placed.inside)
        return around if course is None else np.interp(around, course[0], course[1])

    def presence(self, placed: DesignPart) -> NDArray[np.float64]:
        """Return 1 where a placed part is attached to the vehicle, else 0 (n_steps,)."""
        there = np.array([float(is_attached(placed.part_of, plan)) for plan in self.design.plans])
        return np.repeat(there[self.calendar.plan_of_day], self.calendar.steps_per_day)


def frame_of(
    design: Design,
    sun: SunSeries,
    path_ohm: NDArray[np.float64],
    *,
    box_air: Mapping[int, NDArray[np.float64]] | None = None,
) -> Frame:
    """Return the surroundings of a run; without `box_air` enclosures have the air of their zone."""
    return Frame(
        design=design,
        sun=sun,
        path_ohm=path_ohm,
        calendar=calendar_of(design, sun),
        schedule=schedule_of(design, sun.steps_per_day),
        wiring=source_map(design),
        air=air_of(design, sun),
        box_air=box_air or {},
    )

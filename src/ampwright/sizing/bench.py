"""Where variants of one job are assessed: the job, how it becomes a design, its sun and air."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping

from ampwright.assessment.assess import assess
from ampwright.assessment.result import Assessment
from ampwright.climate.ensemble import Ensemble
from ampwright.climate.series import SunSeries
from ampwright.job.design import Design
from ampwright.job.records import Job
from ampwright.job.surroundings import MakesRealYears
from ampwright.job.unknowns import Path, with_values
from ampwright.parts.catalogue import Catalogue
from ampwright.records import record

__all__ = ["Bench", "Meter"]


@record
class Bench:
    """What a search needs to assess variants of one job."""

    job: Job
    """The job as written."""
    design: Design
    """Its design at the likely values."""
    design_of: Callable[[Job], Design]
    """Resolves a variant; raises JobError where it cannot be built."""
    catalogue: Catalogue
    """Parts a variant may use."""
    sun: SunSeries
    """Sun and air."""
    on: dt.date | None = None
    """Day on which overrides must be in force; None = the job's date."""
    progress: Callable[[int, int], None] | None = None
    """Called with (steps done, steps in all)."""
    weather: Callable[[], Ensemble] | None = None
    """Makes the runs of weather over the days of the use; None = there are none."""
    real_years: MakesRealYears | None = None
    """Makes the days of the use of every real year; None = the job names none."""

    def assessed_design(self, design: Design) -> Assessment:
        """Return the assessment of a design under this bench's sun."""
        return assess(design, self.sun, on=self.on)

    def at(self, values: Mapping[Path, float]) -> Assessment:
        """Return the assessment with these values put for unknown amounts."""
        return assess(self.design_of(with_values(self.job, values)), self.sun, on=self.on)


class Meter:
    """Counts the steps of a search and tells them to whoever listens."""

    def __init__(self, listener: Callable[[int, int], None] | None, total: int) -> None:
        """Begin at nought of `total`."""
        self._listener = listener
        self._done = 0
        self._total = total

    def step(self, count: int = 1) -> None:
        """Note `count` steps; the total grows where it was reckoned too low."""
        self._done += count
        self._total = max(self._total, self._done)
        if self._listener is not None:
            self._listener(self._done, self._total)

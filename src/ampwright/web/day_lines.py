"""The day plans of a job as bars over 24 hours, and the same stretches as rows of a table.

Answers where each bar lies and what it is called. The sun's own times come from place and season: nobody moves them.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Mapping

import numpy as np
from django.utils.translation import gettext, gettext_noop

from ampwright.climate.series import SunSeries
from ampwright.documents.quantity_text import percent_text
from ampwright.job.clock import day_names, minute_by_sun, minutes_of_clock
from ampwright.job.consumer import When
from ampwright.job.loaded import LoadedJob
from ampwright.job.quantity import likely_value, span
from ampwright.job.records import Job
from ampwright.job.sunlight import ShadeTime
from ampwright.job.text_edit import value_at
from ampwright.job.text_places import KeyPath
from ampwright.job.use import DayPlan, Period
from ampwright.records import record
from ampwright.web.sheet import dotted, row_name, was_text
from ampwright.web.stretch import DAY_MIN, clock, stretch_span

__all__ = ["Bar", "DayView", "Lane", "Piece", "PlanView", "Sample", "StretchRow", "day_view", "samples"]

Stretch = Period | When | ShadeTime

STATE_WORDS: Mapping[str, str] = {
    "off": gettext_noop("engine off"),
    "idle": gettext_noop("idling"),
    "road": gettext_noop("driving"),
    "hooked-up": gettext_noop("hooked up"),
    "stored": gettext_noop("stored"),
}
STATE_LETTERS: Mapping[str, str] = {"off": "O", "idle": "I", "road": "D", "hooked-up": "H", "stored": "S"}
USUAL_STEP_MIN = 15
"""Step of the timeline where the job's own is not known, because a name in it leads nowhere (our own choice)."""


@record
class Piece:
    """One rectangle of a bar; a bar past midnight has two."""

    x: str
    """Left edge as a share of the day, e.g. "37.5%"."""
    width: str
    """Width as a share of the day."""


@record
class Bar:
    """One stretch of the day."""

    path: str
    """Its path in the job with dots; empty = it follows something else and cannot be moved."""
    name: str
    """What it is, for those who cannot see it."""
    look: str
    """What it shows: a state, "load", "shade" or "sun"."""
    letter: str
    """Letter or short words in it."""
    start_min: int
    """First minute, 0 to 1439."""
    length_min: int
    """Length."""

    @property
    def end_min(self) -> int:
        """Minute it ends, 1 to 1440."""
        end = self.start_min + self.length_min
        return end if end <= DAY_MIN else end - DAY_MIN

    @property
    def text(self) -> str:
        """Both ends as clock times."""
        return _from_to(self.start_min, self.end_min)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Rectangles of a day it takes."""
        first = min(self.length_min, DAY_MIN - self.start_min)
        pieces = (Piece(x=_share(self.start_min), width=_share(first)),)
        rest = self.length_min - first
        return (*pieces, Piece(x=_share(0), width=_share(rest))) if rest else pieces

    @property
    def start_x(self) -> str:
        """Where its first minute is."""
        return _share(self.start_min)

    @property
    def end_x(self) -> str:
        """Where its end is."""
        return _share(self.end_min)


@record
class Lane:
    """One row of bars."""

    name: str
    """What it shows."""
    note: str
    """What holds outside its bars, or what it follows."""
    bars: tuple[Bar, ...]
    """Its bars."""


@record
class PlanView:
    """One day plan."""

    name: str
    """Name in the sequence of days."""
    path: str
    """Its path in the job with dots."""
    day_count: int
    """Days of the use that go like this."""
    lanes: tuple[Lane, ...]
    """Rows of bars."""
    always: tuple[str, ...]
    """Loads that run all day."""
    nights: tuple[Piece, ...]
    """Times without sun."""


@record
class StretchRow:
    """One stretch in figures."""

    path: str
    """Its path in the job with dots."""
    name: str
    """What it is."""
    of: str
    """Day plans it stands in."""
    start: str
    """First minute as written."""
    end: str
    """End as written."""
    was: str
    """The row as JSON, to tell whether another person changed it meanwhile."""
    row: str
    """Name of the row around it."""
    more: str
    """Path of the page with all its fields."""


@record
class DayView:
    """All day plans."""

    step_min: int
    """Minutes to which bars snap: the step of the calculation."""
    plans: tuple[PlanView, ...]
    """Day plans in the job's order."""
    rows: tuple[StretchRow, ...]
    """Every stretch that can be changed, once."""
    sun_text: str
    """When the sun is up; empty where it is not known."""


@record
class Sample:
    """One pattern with its meaning."""

    look: str
    """Class of its rectangle."""
    letter: str
    """Letter in it."""
    words: str
    """What it means."""


def day_view(loaded: LoadedJob, sun: SunSeries | None) -> DayView:
    """Return the day plans of a job; without the sun where its place is not known."""
    job, daylight = loaded.job, _daylight(sun)
    counts = Counter(name for entry in job.use.days for name in day_names(entry) or ())
    return DayView(
        step_min=DAY_MIN // sun.steps_per_day if sun is not None else USUAL_STEP_MIN,
        plans=tuple(
            PlanView(
                name=plan.id,
                path=f"day.{index}",
                day_count=counts[plan.id],
                lanes=tuple(_lanes(job, plan, index, daylight)),
                always=tuple(load.name for load in job.load if not load.when),
                nights=_outside(daylight),
            )
            for index, plan in enumerate(job.day)
        ),
        rows=tuple(_rows(loaded)),
        sun_text="" if daylight is None else _from_to(*daylight),
    )


def samples() -> tuple[Sample, ...]:
    """Return what the patterns mean."""
    states = [
        Sample(look=f"bar-{state}", letter=STATE_LETTERS[state], words=gettext(STATE_WORDS[state]))
        for state in STATE_LETTERS
    ]
    others = (
        ("bar-shade", "%", gettext("shade, with the part of the sun that is lost")),
        ("bar-load", "%", gettext("a load runs, with its part of the time or its uses")),
        ("bar-sun", "", gettext("follows the sun")),
        ("night", "", gettext("no sun")),
    )
    return (*states, *(Sample(look=look, letter=letter, words=words) for look, letter, words in others))


def _from_to(start_min: int, end_min: int) -> str:
    return gettext("{start} to {end}").format(start=clock(start_min), end=clock(end_min))


def _share(minutes: int) -> str:
    return f"{100.0 * minutes / DAY_MIN:.4f}%"


def _daylight(sun: SunSeries | None) -> tuple[int, int] | None:
    """Return first and last minute of the first day with the sun up, by steps; None where it never rises."""
    if sun is None:
        return None
    step_min = DAY_MIN // sun.steps_per_day
    up = np.flatnonzero(sun.sun_elevation_deg[: sun.steps_per_day] > 0.0)
    return (int(up[0]) * step_min, (int(up[-1]) + 1) * step_min) if up.size else None


def _state_words(period: Period) -> str:
    """Return the state in words, and for how long where not until its end."""
    words = gettext(STATE_WORDS[period.state])
    if period.lasts_h is None:
        return words
    low, high = span(period.lasts_h)
    if low == high:
        return gettext("{state}, {hours} h of it").format(state=words, hours=f"{low:g}")
    said = gettext("{state}, {low} to {high} h of it")
    return said.format(state=words, low=f"{low:g}", high=f"{high:g}")


def _outside(daylight: tuple[int, int] | None) -> tuple[Piece, ...]:
    if daylight is None:
        return ()
    spans = ((0, daylight[0]), (daylight[1], DAY_MIN))
    return tuple(Piece(x=_share(start), width=_share(end - start)) for start, end in spans if end > start)


def _lanes(job: Job, plan: DayPlan, index: int, daylight: tuple[int, int] | None) -> Iterator[Lane]:
    if daylight is not None:
        yield from _sun_lanes(job, daylight)
    states = tuple(
        _bar(
            f"day.{index}.period.{number}",
            each,
            _state_words(each),
            look=each.state,
            letter=STATE_LETTERS[each.state],
        )
        for number, each in enumerate(plan.period)
    )
    yield Lane(name=gettext("Vehicle"), note=_else(plan), bars=_there(states))
    shades = tuple(
        _bar(
            f"day.{index}.shade.{number}",
            each,
            gettext("in shade"),
            look="shade",
            letter=percent_text(likely_value(each.shade_frac)),
        )
        for number, each in enumerate(plan.shade)
    )
    if shades:
        yield Lane(name=gettext("Shade"), note=gettext("beside what is lost all day"), bars=_there(shades))
    for position, load in enumerate(job.load):
        windows = tuple(
            _window(f"load.{position}.when.{number}", each, load.name, daylight)
            for number, each in enumerate(load.when)
            if not each.days or plan.id in each.days
        )
        if windows:
            yield Lane(name=load.name, note=_only(load.when), bars=_there(windows))


def _sun_lanes(job: Job, daylight: tuple[int, int]) -> Iterator[Lane]:
    """Yield what follows the sun: the sun itself, and panels that are turned to it."""
    start, end = daylight
    yield Lane(
        name=gettext("Sun"),
        note=gettext("by place and month"),
        bars=(_sun_bar(gettext("sun above the horizon"), "", start, end),),
    )
    for part in job.part:
        count = part.panel.aimed_count if part.panel is not None else 0
        if count:
            edges = [start + (end - start) * number // count for number in range(count + 1)]
            bars = tuple(
                _sun_bar(
                    gettext("{part}, aim {number}").format(part=part.id, number=number), str(number), *ends
                )
                for number, ends in enumerate(itertools.pairwise(edges), 1)
            )
            name = gettext("{part} turned").format(part=part.id)
            yield Lane(name=name, note=gettext("follows the sun"), bars=bars)


def _bar(path: str, stretch: Stretch, name: str, *, look: str, letter: str) -> Bar | None:
    """Return a bar; None where its ends are no clock times, which the verdict's place says."""
    span = stretch_span({"start": stretch.start, "end": stretch.end})
    if span is None:
        return None
    return Bar(path=path, name=name, look=look, letter=letter, start_min=span[0], length_min=span[1])


def _window(path: str, when: When, name: str, daylight: tuple[int, int] | None) -> Bar | None:
    """Return the bar of a load's stretch; one that follows the sun cannot be moved."""
    if daylight is None or all(minute_by_sun(text, daylight) is None for text in (when.start, when.end)):
        return _bar(path, when, name, look="load", letter=_draws(when))
    ends = [minute_by_sun(text, daylight) for text in (when.start, when.end)]
    typed = [minutes_of_clock(text) for text in (when.start, when.end)]
    start, end = (sun if sun is not None else clock for sun, clock in zip(ends, typed, strict=True))
    if start is None or end is None:
        return None
    return _sun_bar(
        name, _draws(when), start % DAY_MIN, start % DAY_MIN + ((end - start) % DAY_MIN or DAY_MIN)
    )


def _there(bars: tuple[Bar | None, ...]) -> tuple[Bar, ...]:
    return tuple(bar for bar in bars if bar is not None)


def _sun_bar(name: str, letter: str, start_min: int, end_min: int) -> Bar:
    length_min = end_min - start_min
    return Bar(path="", name=name, look="sun", letter=letter, start_min=start_min, length_min=length_min)


def _draws(when: When) -> str:
    if when.uses is not None:
        return f"{when.uses}×"
    duty = likely_value(when.duty_frac)
    return percent_text(duty) if duty < 1.0 else ""


def _only(windows: tuple[When, ...]) -> str:
    states = dict.fromkeys(gettext(STATE_WORDS[state]) for each in windows for state in each.states)
    return gettext("only {states}").format(states=", ".join(states)) if states else ""


def _else(plan: DayPlan) -> str:
    return gettext("else {state}").format(state=gettext(STATE_WORDS[plan.otherwise]))


def _rows(loaded: LoadedJob) -> Iterator[StretchRow]:
    job = loaded.job
    for index, plan in enumerate(job.day):
        for number, period in enumerate(plan.period):
            yield _row(loaded, ("day", index, "period", number), _state_words(period), plan.id)
        for number, _ in enumerate(plan.shade):
            yield _row(loaded, ("day", index, "shade", number), gettext("in shade"), plan.id)
    for index, load in enumerate(job.load):
        for number, when in enumerate(load.when):
            days = ", ".join(when.days) or gettext("every plan")
            yield _row(loaded, ("load", index, "when", number), load.name, days)


def _row(loaded: LoadedJob, path: KeyPath, name: str, of: str) -> StretchRow:
    written = value_at(loaded.raw, path)
    return StretchRow(
        path=dotted(path),
        name=name,
        of=of,
        start=str(written.get("start", "00:00")),
        end=str(written.get("end", "24:00")),
        was=was_text(written),
        row=row_name(loaded.raw, path),
        more=dotted(path[:2]),
    )

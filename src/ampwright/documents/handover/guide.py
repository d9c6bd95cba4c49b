"""Handover guide: two plain pages for whoever uses the vehicle, with honest limits.

Every figure is that of the answer; nothing is promised that was not calculated, and where something was not, the guide says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.assessment.result import UseVerdict
from ampwright.assessment.wording import temperature_text
from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_records import Chart
from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.energy_view import use_course
from ampwright.documents.handover.care import buttons, care, cautions, storing
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import Words, noted
from ampwright.records import record
from ampwright.sizing.contents_words import lower_twentieth
from ampwright.sizing.interval import plain_ratio
from ampwright.sizing.run_times import RunTime, run_times

__all__ = ["GuideModel", "guide_model", "handover"]

TITLE = noted("Handover guide")
MONTHS = (
    noted("January"),
    noted("February"),
    noted("March"),
    noted("April"),
    noted("May"),
    noted("June"),
    noted("July"),
    noted("August"),
    noted("September"),
    noted("October"),
    noted("November"),
    noted("December"),
)
VERDICTS: dict[UseVerdict, str] = {
    "suits": noted("suits"),
    "suits with conditions": noted("suits with conditions"),
    "does not suit": noted("does not suit"),
}
LONGEST_H = 72.0
"""Bars end here; own choice: three days."""
MOST_BARS = 10
CHART_MM = 182.0
SUPPORTED = noted(
    "This guide rests on the job as calculated. Anything added later is not in it: ask the workshop before adding a load, "
    "and tell them what you see that differs."
)


@record
class Bar:
    """How long one load runs."""

    name: str
    """Load."""
    part_frac: float
    """Length of the bar, 0 to 1."""
    is_cut: bool
    """True where it runs longer than the bars can show."""
    text: str
    """About how long."""
    is_essential: bool
    """True for what must run."""


@record
class Scenario:
    """One honest scenario."""

    heading: str
    """What happens."""
    answer: str
    """The short answer."""
    why: str
    """What it rests on."""


@record
class Line:
    """A name and what is said of it."""

    name: str
    """Name."""
    text: str
    """Text."""


@record
class GuideModel:
    """Everything the guide prints."""

    intro: str
    """What it was made for."""
    headings: tuple[str, ...]
    """How long, scenarios, first off, buttons, every day, storing, cautions, call."""
    bars: tuple[Bar, ...]
    """How long each load runs alone."""
    bars_note: str
    """What the bars rest on."""
    bar_end: str
    """What the end of the scale stands for."""
    chart_words: str
    """What the chart shows."""
    chart_alt: str
    """The chart for those who cannot see it."""
    scenarios: tuple[Scenario, ...]
    """Scenarios."""
    first_off: tuple[Line, ...]
    """What to switch off first."""
    keep_on: str
    """What stays on."""
    buttons: tuple[Line, ...]
    """Output channels with legends."""
    daily: tuple[str, ...]
    """Every day."""
    storing: tuple[str, ...]
    """Before and during storage."""
    cautions: tuple[str, ...]
    """Hazards."""
    call: tuple[Line, ...]
    """Whom to call, and when."""
    foot: str
    """What the guide rests on."""


def _start(material: Material) -> str:
    place = material.design.job.place
    return place.name or place.site or material.words("the place of the job")


def guide_model(material: Material, chart: Chart) -> GuideModel:
    """Return what the guide prints beside its chart."""
    words, design = material.words, material.design
    times = run_times(material.found)
    comfort = sorted((t for t in times if not t.is_essential and t.daily_wh > 0.0), key=lambda t: -t.daily_wh)
    essential = [t.name for t in times if t.is_essential]
    return GuideModel(
        intro=words(
            "{vehicle}. Calculated for {days} days in {month}, {place}.",
            vehicle=design.job.vehicle.description,
            days=len(design.days),
            month=words(MONTHS[design.job.season.month - 1]),
            place=" – ".join((_start(material), *(leg.name for leg in design.legs[1:]))),
        ),
        headings=(
            words("How long a full battery runs one thing alone"),
            words("Honest scenarios"),
            words("When power runs short, switch off first"),
            words("Buttons and outputs"),
            words("Every day"),
            words("Before you leave it standing"),
            words("Cautions"),
            words("Whom to call"),
        ),
        bars=tuple(_bar(time, words) for time in sorted(times, key=lambda t: t.run_h)[:MOST_BARS]),
        bars_note=words(
            "Nothing charging, nothing else running, battery new and not cold; it stops at the reserve that is kept. Cold, age "
            "and several things at once leave less."
        ),
        bar_end=words("{hours} hours", hours=f"{LONGEST_H:g}"),
        chart_words=words("The battery over the use as planned, on mean days"),
        chart_alt=chart.description,
        scenarios=(*_scenarios(material), *_without_supply(material)),
        first_off=tuple(_first_off(comfort, words)),
        keep_on=words("Keep on: {loads}.", loads=", ".join(essential)) if essential else "",
        buttons=tuple(Line(name=name, text=text) for name, text in buttons(design, words)),
        daily=care(design, words),
        storing=storing(material),
        cautions=cautions(design, words),
        call=tuple(_call(material)),
        foot=words(SUPPORTED),
    )


def _bar(time: RunTime, words: Words) -> Bar:
    return Bar(
        name=time.name,
        part_frac=min(time.run_h / LONGEST_H, 1.0),
        is_cut=time.run_h > LONGEST_H,
        text=_about(time.run_h, words),
        is_essential=time.is_essential,
    )


def _about(hours: float, words: Words) -> str:
    """Return a time rounded down: minutes below two hours, hours below three days, then days."""
    if hours < 2.0:
        return words("about {minutes} min", minutes=5 * math.floor(12.0 * hours))
    if hours <= LONGEST_H:
        return words("about {hours} h", hours=math.floor(hours))
    if math.isinf(hours) or hours > 60.0 * 24.0:
        return words("more than 60 days")
    return words("about {days} days", days=math.floor(hours / 24.0))


def _scenarios(material: Material) -> Iterator[Scenario]:
    words, answer = material.words, material.answer
    yield _as_planned(material)
    outlook = answer.outlook
    if outlook is None:
        none = words("not calculated")
        yield Scenario(heading=words("You stand still and nothing charges"), answer=none, why="")
        return
    yield Scenario(
        heading=words("You stand still and nothing charges"),
        answer=_about(outlook.autonomy_h, words),
        why=words("From a full battery, everything used as planned, until the first essential thing stops."),
    )
    if outlook.dull_autonomy_h is not None and outlook.dull_day_kwh_m2 is not None:
        yield Scenario(
            heading=words("You stand still under grey skies, panels alone"),
            answer=_about(outlook.dull_autonomy_h, words),
            why=words("Each day as dull as 1 day in 20 of that season."),
        )
    else:
        yield Scenario(
            heading=words("The engine does not run"),
            answer=words("Only mains or driving charges it."),
            why=words("No panels are in this calculation, or no runs of weather were made."),
        )


def _without_supply(material: Material) -> Iterator[Scenario]:
    """Yield how long contents stay cold without supply, for the refrigerator that holds shortest."""
    words, chance = material.words, material.answer.chance
    held = [
        (lower_twentieth(one.hold_over_h), one.name, one.high_degc)
        for one in (() if chance is None else chance.contents)
        if one.high_degc is not None
    ]
    if not held:
        return
    hours, name, high_degc = min(held)
    yield Scenario(
        heading=words("A refrigerator loses its supply"),
        answer=_about(hours, words) if hours > 0.0 else words("No time is left"),
        why=words(
            "At least so long in 19 of 20 trips calculated, at the worst moment and opened as usual, until the contents of {load} "
            "reach {degc}. Keep it closed and look at its thermometer.",
            load=name,
            degc=words.said(temperature_text(material.design, high_degc)),
        ),
    )


def _as_planned(material: Material) -> Scenario:
    words, chance = material.words, material.answer.chance
    heading = words("You use it as planned")
    if chance is None:
        return Scenario(
            heading=heading,
            answer=words(VERDICTS[material.answer.use_verdict]),
            why=words("On the mean day; how sure that is was not calculated."),
        )
    failed = chance.run_count - chance.held_count
    if failed == 0:
        answer = words("No failure seen in {count} trips calculated", count=chance.run_count)
    elif failed == chance.run_count:
        answer = words("Something essential stops in every trip calculated")
    else:
        answer = words("Something essential stops {often}", often=_often(failed, chance.run_count, words))
    why = words(
        "{held} of {count} trips calculated held, each with other weather and other habits.",
        held=chance.held_count,
        count=chance.run_count,
    )
    return Scenario(heading=heading, answer=answer, why=why)


def _often(failed: int, total: int, words: Words) -> str:
    trips, of_trips = plain_ratio(failed, total)
    if trips > 1:
        return words("in about {count} trips in 10", count=trips)
    return words("in about 1 trip in {count}", count=of_trips)


def _first_off(comfort: list[RunTime], words: Words) -> Iterator[Line]:
    for time in comfort:
        yield Line(name=time.name, text=words("saves about {energy} a day", energy=_energy(time.daily_wh)))


def _energy(value_wh: float) -> str:
    rounded = round(value_wh, -1) if value_wh >= 100.0 else round(value_wh)
    return f"{rounded:.0f}{UNIT_SPACE}Wh"


def _call(material: Material) -> Iterator[Line]:
    words, design = material.words, material.design
    yield Line(
        name=material.about.author or words("the workshop"),
        text=words(
            "A fuse or breaker opens twice, a cable or plug is warm, something smells, the battery switches itself off, the "
            "battery is no longer full after a day of driving, or you want to add something. Do not fit a larger fuse."
        ),
    )
    if has_mains(design):
        yield Line(
            name=words("A licensed electrician"),
            text=words(
                "Anything at mains voltage: inlet, outlets, inverter output, residual-current device that trips or does not "
                "trip at its test button, a damaged lead."
            ),
        )
    yield Line(
        name=words("The fire brigade"),
        text=words(
            "Smoke, hissing or swelling of a battery: leave the vehicle, keep away, call, and hand over the card for first responders."
        ),
    )


def handover(material: Material) -> Iterator[PackFile]:
    """Make the guide."""
    chart = soc_chart(
        use_course(material.found, material.answer.chance),
        width_mm=CHART_MM,
        units=material.about.units,
        words=material.words,
    )
    model = guide_model(material, chart)
    pdf = sheet_pdf("handover/guide.typ", sheet_of(material, TITLE), model, chart=chart_svg(chart))
    yield PackFile(name="handover.pdf", content=pdf)

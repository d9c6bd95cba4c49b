"""What an answer takes for granted, in sentences."""

from __future__ import annotations

import calendar
from collections.abc import Iterator

from ampwright.job.design import Design
from ampwright.job.design_leg import DesignLeg
from ampwright.job.surroundings import month_of_leg, single_leg
from ampwright.job.unknowns import UnknownInput
from ampwright.said import Said, said

__all__ = ["assumptions"]


def assumptions(design: Design, unknowns: tuple[UnknownInput, ...]) -> tuple[Said, ...]:
    """Return what was assumed, most weighty first."""
    return tuple(_sentences(design, unknowns))


def _sentences(design: Design, unknowns: tuple[UnknownInput, ...]) -> Iterator[Said]:
    job = design.job
    legs = design.legs or (single_leg(design),)
    for leg in legs:
        yield _weather_sentence(design, leg)
    if design.legs:
        yield said(
            "Each place has its own clock, an hour won or lost between two is not reckoned; in the runs what one place "
            "has more or less than its month goes on at the next."
        )
    files = [name for leg in legs for name in leg.place.year_files]
    if files:
        yield said(
            "Real years: {files}, the same days of every year; 29 February left out.", files=", ".join(files)
        )
    if job.doubt.weather_from == "real-years":
        yield said(
            "The runs take the weather of the real years by turns: they know no other, whatever their number."
        )
    if job.season.sun_factor != 1.0 or job.season.warmer_k != 0.0:
        yield said(
            "Sun taken times {factor:g}, temperatures {warmer_k:+g} K.",
            factor=job.season.sun_factor,
            warmer_k=job.season.warmer_k,
        )
    for unknown in unknowns:
        yield said(
            "{what}: {low:.3g} to {high:.3g}{unit}, reckoned first with {likely:.3g}.",
            what=unknown.label,
            low=unknown.low,
            high=unknown.high,
            unit=f" {unknown.unit}" if unknown.unit else "",
            likely=unknown.likely,
        )
    alternator = design.vehicle
    if alternator.has_alternator:
        yield said(
            "Alternator: {road:.0f} % of its label hot on the road, {idle:.0f} % hot at idle.",
            road=100 * alternator.hot_road_frac,
            idle=100 * alternator.hot_idle_frac,
        )
    if any(run.back_cable is None for run in design.runs):
        yield said(
            "Chassis as return path: {resistance:.1f} mΩ, bonds included.",
            resistance=1000 * alternator.chassis_resistance_ohm,
        )
    bare = [run.id for run in design.runs if not run.ambient_is_stated]
    if bare:
        yield said("No zone named for runs {runs}: the outside maximum was taken.", runs=", ".join(bare))
    yield said(
        "Refrigerators by heat leak and a fraction of the ideal cycle; users' habits as their schedules say."
    )
    yield said("New parts, tight joints and clean contacts.")


def _weather_sentence(design: Design, leg: DesignLeg) -> Said:
    """Return what the days at one place have for weather in the plain answer."""
    sentence = _weather_of_leg(design, leg)
    if not design.legs:
        return sentence
    last = leg.first + leg.day_count
    return said(
        "{leg}, day {first} to {last}: {weather}",
        leg=leg.name,
        first=leg.first + 1,
        last=last,
        weather=sentence,
    )


def _weather_of_leg(design: Design, leg: DesignLeg) -> Said:
    season, number = design.job.season, month_of_leg(design, leg)
    month = Said(calendar.month_name[number], {})
    if leg.site is not None:
        return said(
            "Weather: every day is the mean day of {month} at {place}, {ghi:.2f} kWh/m² on the level ({source}); dull "
            "spells and bright ones are not drawn, see sun_factor.",
            month=month,
            place=leg.site.name,
            ghi=leg.site.ghi_kwh_m2_day[number - 1],
            source=leg.site.source,
        )
    if leg.place.weather_file:
        if design.legs:
            return said("Weather: the hours of {file} on these days.", file=leg.place.weather_file)
        when = (
            said("from {month} {day}", month=month, day=season.first_day)
            if season.first_day
            else said("around the middle of {month}", month=month)
        )
        return said("Weather: the hours of {file} {when}.", file=leg.place.weather_file, when=when)
    return said(
        "Weather: every day is the mean day of {month} in the real years of the job's files.", month=month
    )

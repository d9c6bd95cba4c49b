"""What an answer takes for granted, in sentences."""

from __future__ import annotations

import calendar
from collections.abc import Iterator

from ampwright.job.design import Design
from ampwright.job.unknowns import UnknownInput

__all__ = ["assumptions"]


def assumptions(design: Design, unknowns: tuple[UnknownInput, ...]) -> tuple[str, ...]:
    """Return what was assumed, most weighty first."""
    return tuple(_sentences(design, unknowns))


def _sentences(design: Design, unknowns: tuple[UnknownInput, ...]) -> Iterator[str]:
    job = design.job
    month = calendar.month_name[job.season.month]
    if design.site is not None:
        site = design.site
        ghi = site.ghi_kwh_m2_day[job.season.month - 1]
        yield (
            f"Weather: every day is the mean day of {month} at {site.name}, {ghi:.2f} kWh/m² on the level "
            f"({site.source}); dull spells and bright ones are not drawn, see sun_factor."
        )
    elif job.place.weather_file:
        when = (
            f"from {month} {job.season.first_day}"
            if job.season.first_day
            else f"around the middle of {month}"
        )
        yield f"Weather: the hours of {job.place.weather_file} {when}."
    else:
        yield f"Weather: every day is the mean day of {month} in the real years of the job's files."
    if job.place.year_files:
        yield f"Real years: {', '.join(job.place.year_files)}, the same days of every year; 29 February left out."
    if job.doubt.weather_from == "real-years":
        yield "The runs take the weather of the real years by turns: they know no other, whatever their number."
    if job.season.sun_factor != 1.0 or job.season.warmer_k != 0.0:
        yield f"Sun taken times {job.season.sun_factor:g}, temperatures {job.season.warmer_k:+g} K."
    for unknown in unknowns:
        unit = f" {unknown.unit}" if unknown.unit else ""
        yield (
            f"{unknown.label}: {unknown.low:.3g} to {unknown.high:.3g}{unit}, reckoned first with {unknown.likely:.3g}."
        )
    alternator = design.vehicle
    if alternator.has_alternator:
        yield (
            f"Alternator: {100 * alternator.hot_road_frac:.0f} % of its label hot on the road, "
            f"{100 * alternator.hot_idle_frac:.0f} % hot at idle."
        )
    if any(run.back_cable is None for run in design.runs):
        yield f"Chassis as return path: {1000 * alternator.chassis_resistance_ohm:.1f} mΩ, bonds included."
    bare = [run.id for run in design.runs if not run.ambient_is_stated]
    if bare:
        yield f"No zone named for runs {', '.join(bare)}: the outside maximum was taken."
    yield "Refrigerators by heat leak and a fraction of the ideal cycle; users' habits as their schedules say."
    yield "New parts, tight joints and clean contacts."

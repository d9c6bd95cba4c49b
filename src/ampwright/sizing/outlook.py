"""What a use leaves in hand: how long without charging, what charges and when, what is missing, what is to spare.

The figures are those of the studies at the likely values; how often they hold is in `chance.py`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.result import Assessment
from ampwright.assessment.served import failures
from ampwright.assessment.when import clock_of_step, day_of_step
from ampwright.climate.ensemble import Ensemble
from ampwright.climate.series import SunSeries, adjusted, step_hours
from ampwright.energy.ageing import BatteryLife, battery_life
from ampwright.energy.charger_row import SourceKind
from ampwright.energy.endurance import autonomy_h, storage_days
from ampwright.energy.result import EnergyResult
from ampwright.energy.schedule import STATES, schedule_of
from ampwright.job.place import Season
from ampwright.records import record

__all__ = ["FirstFailure", "LoadEnergy", "Outlook", "outlook_of"]

DULL_FRAC = 0.05
"""A dull day is one that only this share of the days stays below (docs/choices.md#dull-day)."""
CHARGING_W = 1.0
"""A source that gives less is not told as charging (docs/choices.md#charging-hours)."""


@record
class LoadEnergy:
    """What one load got and missed over the use."""

    load: str
    """Id."""
    name: str
    """Plain description."""
    is_essential: bool
    """True when it decides the verdict."""
    given_wh: float
    """Energy it got, from battery or mains."""
    missing_wh: float
    """Energy it wanted and did not get."""


@record
class FirstFailure:
    """The first load that fails at the likely values: off, or its contents out of their range."""

    load: str
    """Id of the load that fails first; an essential one where several fail at once."""
    name: str
    """Plain description."""
    day: int
    """Day of the use, from 1."""
    clock: str
    """Clock time "HH:MM"."""


@record
class Outlook:
    """What a use leaves in hand at the likely values."""

    autonomy_h: float
    """From full to the first essential load off, nothing charging; infinite = beyond 60 days."""
    dull_day_kwh_m2: float | None
    """Irradiation of a dull day, of a horizontal plane; None = no runs of weather, or no panel."""
    dull_autonomy_h: float | None
    """The same as `autonomy_h` with panels alone under one dull day after another; None likewise."""
    storage_days: float
    """Days in store from full to cut-off; infinite when nothing drains."""
    loads: tuple[LoadEnergy, ...]
    """What each load got and missed."""
    first_failure: FirstFailure | None
    """What fails first; None = nothing does."""
    road_h: float
    """Hours of driving in the use."""
    idle_h: float
    """Hours of idling in the use."""
    mains_h: float
    """Hours hooked up in the use."""
    engine_charging_h: float
    """Hours in which anything driven by the engine charges or carries loads."""
    mains_charging_h: float
    """Hours in which a mains charger charges or carries loads."""
    panel_possible_wh: float
    """What the panels' controllers could have given over the use."""
    panel_surplus_factor: float | None
    """That over what was taken of it; None without panels, or where nothing was taken."""
    life: BatteryLife | None
    """Expected life of the battery; None where nothing of it is stated."""
    lowest_charge_frac: float
    """Lowest state of charge of the use."""


def outlook_of(found: Assessment, sun: SunSeries, weather: Ensemble | None) -> Outlook:
    """Return what a use leaves in hand.

    Parameters
    ----------
    sun : sun and air the assessment was made with
    weather : runs of weather that say what a dull day is; None = there are none
    """
    design, energy = found.design, found.energy
    path_ohm = found.network.path_ohm
    possible_wh, taken_wh = _panel_wh(energy)
    dull = None
    if weather is not None and possible_wh > 0.0:
        dull = dull_day(weather, design.job.season)
    panels: frozenset[SourceKind] = frozenset({"panel"})
    hours = _state_hours(found)
    return Outlook(
        autonomy_h=autonomy_h(design, sun, path_ohm=path_ohm),
        dull_day_kwh_m2=None if dull is None else float(dull.ghi_w_m2.sum()) * step_hours(dull) / 1000.0,
        dull_autonomy_h=None
        if dull is None
        else autonomy_h(design, dull, path_ohm=path_ohm, charging=panels),
        storage_days=storage_days(design),
        loads=_loads(found),
        first_failure=_first_failure(found),
        road_h=hours[STATES.index("road")],
        idle_h=hours[STATES.index("idle")],
        mains_h=hours[STATES.index("hooked-up")],
        engine_charging_h=_charging_h(energy, "alternator"),
        mains_charging_h=_charging_h(energy, "mains"),
        panel_possible_wh=possible_wh,
        panel_surplus_factor=possible_wh / taken_wh if taken_wh > 0.0 else None,
        life=battery_life(design, energy),
        lowest_charge_frac=float(energy.soc_frac.min()),
    )


def dull_day(weather: Ensemble, season: Season) -> SunSeries:
    """Return the day of the runs that only a twentieth of all their days stays below, the season's factors applied."""
    daily = weather.daily.irradiation_kwh_m2_day
    wanted = np.quantile(daily, DULL_FRAC)
    member, day = np.unravel_index(int(np.argmin(np.abs(daily - wanted))), daily.shape)
    run = weather.member(int(member))
    steps = slice(int(day) * run.steps_per_day, (int(day) + 1) * run.steps_per_day)
    one = SunSeries(
        start_day=(run.start_day - 1 + int(day)) % 365 + 1,
        day_count=1,
        steps_per_day=run.steps_per_day,
        ghi_w_m2=run.ghi_w_m2[steps],
        dni_w_m2=run.dni_w_m2[steps],
        dhi_w_m2=run.dhi_w_m2[steps],
        extra_normal_w_m2=run.extra_normal_w_m2[steps],
        sun_elevation_deg=run.sun_elevation_deg[steps],
        sun_azimuth_deg=run.sun_azimuth_deg[steps],
        ambient_degc=run.ambient_degc[steps],
    )
    return adjusted(one, sun_factor=season.sun_factor, warmer_k=season.warmer_k)


def _loads(found: Assessment) -> tuple[LoadEnergy, ...]:
    given_wh = found.energy.load_w.sum(axis=0) * found.energy.step_h
    missing_wh = found.energy.unserved_wh
    return tuple(
        LoadEnergy(
            load=load.id,
            name=load.name,
            is_essential=load.is_essential,
            given_wh=float(given_wh[load.index]),
            missing_wh=float(missing_wh[load.index]),
        )
        for load in found.design.loads
    )


def _first_failure(found: Assessment) -> FirstFailure | None:
    energy = found.energy
    failing = failures(found.design, energy)
    off = failing.any(axis=1)
    if not off.any():
        return None
    step = int(np.argmax(off))
    loads = [load for load in found.design.loads if failing[step, load.index]]
    first = next((load for load in loads if load.is_essential), loads[0])
    return FirstFailure(
        load=first.id,
        name=first.name,
        day=day_of_step(energy, step),
        clock=clock_of_step(energy, step),
    )


def _state_hours(found: Assessment) -> list[float]:
    """Return the hours of the use in each state of the vehicle, in the order of `STATES`."""
    schedule = schedule_of(found.design, found.energy.steps_per_day)
    per_plan = schedule.state_frac.sum(axis=1) * found.energy.step_h
    hours: NDArray[np.float64] = per_plan[list(found.design.days)].sum(axis=0)
    return [float(each) for each in hours]


def _columns(energy: EnergyResult, kind: SourceKind) -> list[int]:
    return [column for column, each in enumerate(energy.source_kinds) if each == kind]


def _charging_h(energy: EnergyResult, kind: SourceKind) -> float:
    given_w = energy.source_w[:, _columns(energy, kind)].sum(axis=1)
    return float(np.count_nonzero(given_w > CHARGING_W)) * energy.step_h


def _panel_wh(energy: EnergyResult) -> tuple[float, float]:
    """Return what panels could have given and what was taken of it."""
    columns = _columns(energy, "panel")
    possible = float(energy.source_possible_w[:, columns].sum()) * energy.step_h
    return possible, float(energy.source_w[:, columns].sum()) * energy.step_h

"""How long the battery lasts: in use without any charging, and in store."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries, repeated
from ampwright.energy.bank import bank_table
from ampwright.energy.charger_row import SourceKind
from ampwright.energy.converters import idle_rows
from ampwright.energy.schedule import schedule_of
from ampwright.energy.simulate import energy_model, run_model
from ampwright.job.converters import sides_of
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad
from ampwright.job.joins import relay_joins
from ampwright.parts.battery import Battery

__all__ = ["AUTONOMY_DAYS", "autonomy_h", "standing_drain_a", "storage_days"]

STEPS_PER_DAY = 96
AUTONOMY_DAYS = 60  # docs/choices.md#energy-autonomy-days


def autonomy_h(
    design: Design,
    sun: SunSeries,
    *,
    path_ohm: NDArray[np.float64],
    charging: frozenset[SourceKind] = frozenset(),
) -> float:
    """Return the hours from a full battery to the first essential load going off, without any charging.

    The use's days follow one another again and again; infinite when nothing goes off in 60 days.

    Parameters
    ----------
    charging : kinds of sources that charge all the same, as panels on dull days
    """
    days = tuple(np.resize(np.array(design.days), AUTONOMY_DAYS).tolist())
    series = sun if sun.day_count == 1 else repeated(sun, AUTONOMY_DAYS)
    model = energy_model(replace(design, days=days), series, path_ohm=path_ohm)
    kept = np.array([row.kind in charging for row in model.chargers], np.float64)
    duty = model.steps.duty_frac.copy()
    duty[:, duty.shape[1] - len(model.consumers.returns) :] = 0.0  # the engine never runs
    steps = model.steps._replace(
        limit_a=model.steps.limit_a * kept,
        available_w=model.steps.available_w * kept,
        duty_frac=duty,
    )
    out = run_model(replace(model, steps=steps), start_frac=1.0)
    essential = [design.loads[index].is_essential for index in model.consumers.loads]
    essential += [
        any(load.is_essential for load in design.loads if load.inverter == part)
        for part in model.consumers.inverters
    ]
    essential += [False] * (model.consumers.converter_count + len(model.consumers.returns))
    failed = out.is_unserved[:, np.array(essential, np.bool_)].any(axis=1) | out.is_open
    if not failed.any():
        return math.inf
    return float(np.argmax(failed)) * steps.step_h


def standing_drain_a(design: Design, *, with_battery: bool = True) -> float:
    """Return what parts take from the auxiliary battery with everything off.

    Parameters
    ----------
    with_battery : False leaves out what the battery's own management takes inside its case
    """
    at_vehicle = {join.placed.index for join in relay_joins(design)}
    drain_a = 0.0
    for placed in design.parts:
        is_battery = isinstance(placed.part, Battery)
        if (
            placed.is_on_when == "always"
            and placed.index not in at_vehicle
            and (with_battery or not is_battery)
        ):
            drain_a += placed.part.own_a * (placed.strings if is_battery else 1)
    idle = idle_rows(design, sides_of(design), np.zeros(len(design.nodes)))
    drain_a += sum(row.on_w for placed, row in idle if placed.is_on_when == "always") / design.system_v
    return drain_a


def storage_days(design: Design) -> float:
    """Return the days in store from full to cut-off: "always" drains, loads of state "stored", self-discharge.

    The usable charge is that above the management's cut-off voltage at rest; a load cut-off does not stop
    drains that are always on. Infinite when nothing drains.
    """
    bank = bank_table(design)
    drain_a = bank.self_discharge_a + standing_drain_a(design) + _stored_w(design) / design.system_v
    stop_v = max(bank.cutoff_v, bank.table_v[0])
    stop_ah = float(np.interp(stop_v, bank.table_v, bank.table_ah))
    if drain_a <= 0.0:
        return math.inf
    return (float(bank.table_ah[-1]) - stop_ah) / drain_a / 24.0


def _stored_w(design: Design) -> float:
    """Return the mean power of the loads that are written to run while stored, over a day of nothing else."""
    plan = replace(design.plans[0], otherwise="stored", periods=())
    stored = replace(design, plans=(plan,))
    duty = schedule_of(stored, STEPS_PER_DAY).duty_frac[0].mean(axis=0)
    named = [load for load in design.loads if load.inverter < 0 and _runs_stored(load)]
    return math.fsum(load.power_w * float(duty[load.index]) for load in named)


def _runs_stored(load: DesignLoad) -> bool:
    return load.fridge is None and any("stored" in when.states for when in load.when)

"""How long a refrigerator keeps its contents below a limit when its supply fails at the worst moment of a use."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.endurance import AUTONOMY_DAYS
from ampwright.energy.fridges import fridge_table
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design

__all__ = ["hold_over_h"]

Array = NDArray[np.float64]


class _Cabinet(NamedTuple):
    """One refrigerator over the steps in which it is used, and what it is kept below."""

    degc: Array
    ice_wh: Array
    air_degc: Array
    leak_w_per_k: Array
    capacity_wh_per_k: float
    set_degc: float
    ice_full_wh: float
    limit_degc: float


def hold_over_h(design: Design, energy: EnergyResult, column: int, *, limit_degc: float) -> float:
    """Return the hours from the worst moment to the limit, without supply and opened as usual; infinite = beyond 60 days.

    Parameters
    ----------
    column : the refrigerator, by its place in `energy.fridge_loads`

    Notes
    -----
    The worst moment is the one with the least time to the limit if the air stayed as it is; from there the air goes on
    as in the use, and from its end as from its start (docs/choices.md#hold-over).
    """
    used = energy.fridge_is_used[:, column]
    if not used.any():
        return math.inf
    table = fridge_table(design, energy.fridge_loads)
    cabinet = _Cabinet(
        degc=energy.fridge_degc[used, column],
        ice_wh=energy.fridge_ice_wh[used, column],
        air_degc=energy.fridge_air_degc[used, column],
        leak_w_per_k=energy.fridge_leak_w_per_k[used, column],
        capacity_wh_per_k=float(table.capacity_wh_per_k[column]),
        set_degc=float(table.set_degc[column]),
        ice_full_wh=float(table.ice_wh[column]),
        limit_degc=limit_degc,
    )
    times_h = _steady_h(cabinet)
    worst = int(np.argmin(times_h))
    return _walked_h(cabinet, worst, energy.step_h) if math.isfinite(times_h[worst]) else math.inf


def _steady_h(cabinet: _Cabinet) -> Array:
    """Return the hours to the limit from every step if the air stayed as it is (n_used,)."""
    warmer_k = cabinet.air_degc - cabinet.set_degc
    with np.errstate(divide="ignore", invalid="ignore"):
        ice_h = np.where(
            cabinet.ice_wh > 0.0, cabinet.ice_wh / (cabinet.leak_w_per_k * np.maximum(warmer_k, 0.0)), 0.0
        )
        rise = (cabinet.air_degc - cabinet.degc) / (cabinet.air_degc - cabinet.limit_degc)
        rise_h = cabinet.capacity_wh_per_k / cabinet.leak_w_per_k * np.log(rise)
    reaches = cabinet.air_degc > cabinet.limit_degc
    result: Array = np.where(
        cabinet.degc >= cabinet.limit_degc, 0.0, np.where(reaches, ice_h + rise_h, math.inf)
    )
    return result


def _walked_h(cabinet: _Cabinet, worst: int, step_h: float) -> float:
    """Return the hours from the end of a step to the limit, the air going on as in the use."""
    from ampwright.energy.physics.kernel import fridge_step  # noqa: PLC0415 - the compiler is heavy

    degc, ice_wh = float(cabinet.degc[worst]), float(cabinet.ice_wh[worst])
    if degc >= cabinet.limit_degc:
        return 0.0
    for number in range(round(AUTONOMY_DAYS * 24.0 / step_h)):
        at = (worst + 1 + number) % cabinet.degc.size
        before = degc
        degc, ice_wh, _ = fridge_step(
            before,
            ice_wh,
            0.0,
            float(cabinet.air_degc[at]),
            float(cabinet.leak_w_per_k[at]),
            cabinet.capacity_wh_per_k,
            cabinet.set_degc,
            cabinet.ice_full_wh,
            step_h,
        )
        if degc >= cabinet.limit_degc:
            return step_h * (number + (cabinet.limit_degc - before) / (degc - before))
    return math.inf

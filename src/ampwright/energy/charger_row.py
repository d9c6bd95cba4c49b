"""One charger over the whole use, and the small laws all chargers share."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ampwright.job.design import Design, DesignPart
from ampwright.records import record

__all__ = [
    "LEAST_PATH_OHM",
    "ChargerRow",
    "SourceKind",
    "charger_path_ohm",
    "derating_frac",
    "path_of_node_ohm",
    "set_charge_v",
    "set_output_a",
]

SourceKind = Literal["panel", "alternator", "mains"]
LEAST_PATH_OHM = 0.001  # docs/choices.md#energy-least-path


@record
class ChargerRow:
    """A charger's limits in every step."""

    label: str
    """Id of the placed part."""
    part: int
    """Index of the placed part; -1 for a second alternator."""
    kind: SourceKind
    """Where its energy comes from."""
    set_v: float
    """Charge voltage at its output."""
    path_ohm: float
    """Loop resistance from its output to the battery."""
    efficiency_frac: float
    """Output over input."""
    limit_a: NDArray[np.float64]
    """Current limit (n_steps,)."""
    available_w: NDArray[np.float64]
    """Output power it could give (n_steps,)."""


def path_of_node_ohm(design: Design, path_ohm: NDArray[np.float64], node: str) -> float:
    """Return the loop resistance to a node; 0 where the wiring does not tell."""
    index = design.node_of(node)
    value = float(path_ohm[index]) if index >= 0 else 0.0
    return value if math.isfinite(value) else 0.0


def charger_path_ohm(design: Design, path_ohm: NDArray[np.float64], node: str) -> float:
    """Return the loop resistance of a charger's output, never below 1 mohm."""
    return max(path_of_node_ohm(design, path_ohm, node), LEAST_PATH_OHM)


def set_charge_v(placed: DesignPart, delivered_v: float) -> float:
    """Return the absorption voltage set, or as delivered."""
    setting = placed.setting
    return setting.charge_v if setting is not None and setting.charge_v is not None else delivered_v


def set_output_a(placed: DesignPart, rated_a: float) -> float:
    """Return the output current limit: what it was found to give, else the rating; or a lower setting."""
    setting = placed.setting
    limit = setting.output_limit_a if setting is not None else None
    most_a = rated_a if placed.output_a is None else placed.output_a
    return most_a if limit is None else min(most_a, limit)


def derating_frac(
    air_degc: NDArray[np.float64], *, start_degc: float, end_degc: float
) -> NDArray[np.float64]:
    """Return the part of the output left in hot air: linear from 1 at the start to 0 at the end."""
    span = max(end_degc - start_degc, 1e-9)
    result: NDArray[np.float64] = np.clip((end_degc - air_degc) / span, 0.0, 1.0)
    return result

"""Which loads a run of the energy study leaves unserved, and when the first one fails."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.run_out import has_limits, out_of_range
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design

__all__ = ["failures"]

Flags = NDArray[np.bool_]


def failures(design: Design, energy: EnergyResult) -> Flags:
    """Return where each load fails: it wants power and gets none, or its contents leave their range.

    Returns
    -------
    array : (n_steps, n_loads); a gap in the supply of a refrigerator with limits is no failure
    """
    found = energy.is_unserved.copy()
    for column, index in enumerate(energy.fridge_loads):
        if has_limits(design.loads[index]):
            found[:, index] = out_of_range(design, energy, column)
    return found

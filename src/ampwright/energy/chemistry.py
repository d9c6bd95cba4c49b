"""What the cell chemistry decides: rest voltage by state of charge, resistance in the cold, charge acceptance."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.standards.csv_table import table_rows

__all__ = ["CHEMISTRIES", "Chemistry", "open_circuit"]


@record
class Chemistry:
    """Open-circuit table of one cell."""

    soc_frac: NDArray[np.float64]
    """State of charge, rising from 0 to 1 (n_points,)."""
    cell_v: NDArray[np.float64]
    """Voltage of one cell at rest (n_points,)."""


class Traits(NamedTuple):
    """Figures of a chemistry beside its table."""

    cell_nominal_v: float
    doubling_k: float
    acceptance_h: float


# Cells in a case: nominal voltage over 3.2 V (lfp) or 2 V (lead-acid), common practice.
# Doubling of resistance in the cold: docs/choices.md#energy-cold-resistance; charge acceptance:
# docs/choices.md#energy-acceptance.
CHEMISTRIES = MappingProxyType(
    {
        "lfp": Traits(3.2, 25.0, 0.0),
        "agm": Traits(2.0, 50.0, 1.5),
        "gel": Traits(2.0, 50.0, 2.0),
        "flooded": Traits(2.0, 50.0, 2.0),
    }
)


@cache
def open_circuit(chemistry: str) -> Chemistry:
    """Return the open-circuit table of a chemistry; sources stand in the head of its data file."""
    rows = [
        row
        for row in table_rows("ampwright.energy", "data/open_circuit_v.csv")
        if row["chemistry"] == chemistry
    ]
    if not rows:
        raise TableError(f"no open-circuit table for '{chemistry}'; known are {', '.join(CHEMISTRIES)}")
    return Chemistry(
        soc_frac=np.array([float(row["soc_frac"]) for row in rows]),
        cell_v=np.array([float(row["cell_v"]) for row in rows]),
    )

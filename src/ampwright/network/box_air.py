"""What the warm air of enclosures does to the rest of a design: runs that end in them, chargers over the year.

Answers how hot a run gets that ends at a part in a box, and how hot a box is for any air around it.
The balance itself is in `heat.py`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

import numpy as np

from ampwright.job.design import Design
from ampwright.network.heat import BoxInUse, EnclosureHeat, boxes_in_use, fixed_point
from ampwright.network.result import FloatArray
from ampwright.parts.charger import AlternatorCharger, MainsCharger
from ampwright.parts.inverter import Inverter

__all__ = ["box_air", "warmed"]

AROUND_DEGC = np.arange(80.0, -41.0, -5.0)
"""Air around a box for which its inside is found, hottest first; a straight line between (docs/choices.md#box-air)."""
HALVINGS = 16
"""Finds the air to some 4 mK."""
FALLING_KINDS = (AlternatorCharger, Inverter, MainsCharger)


def warmed(design: Design, heat: tuple[EnclosureHeat, ...]) -> Design:
    """Return the design with every run as hot as the hottest enclosure it ends in; the same one if none is hotter.

    A device sits near an end of its run, so its temperature follows with the run's.
    """
    air_at: dict[int, float] = {}
    for box in heat:
        for placed in design.parts:
            if placed.inside == box.part:
                air_at.update(dict.fromkeys(design.nodes_of(placed), box.air_degc))
    hotter = {
        run.index: max(air_at.get(run.start, -np.inf), air_at.get(run.end, -np.inf)) for run in design.runs
    }
    if all(hotter[run.index] <= run.ambient_max_degc for run in design.runs):
        return design
    runs = tuple(
        dataclasses.replace(run, ambient_max_degc=hotter[run.index])
        if hotter[run.index] > run.ambient_max_degc
        else run
        for run in design.runs
    )
    return dataclasses.replace(design, runs=runs)


def box_air(design: Design, peak_a: FloatArray) -> Mapping[int, FloatArray]:
    """Return for each enclosure with a part that gives less when hot the air inside against the air around.

    Two rows (2, n_points): air around, rising, and air inside with everything at the output it still gives.
    Keys are indices of the enclosures' parts. Sun on the box is not counted here: it shines for hours only.
    """
    found: dict[int, FloatArray] = {}
    for use in boxes_in_use(design, peak_a):
        if any(isinstance(part.part, FALLING_KINDS) for part in use.inside):
            found[use.part] = _course(design, dataclasses.replace(use, sun_k=0.0))
    return found


def _course(design: Design, use: BoxInUse) -> FloatArray:
    """Return air around and inside down to where everything gives all it can; cooler still, the rise stays."""
    points: list[tuple[float, float]] = []
    for around in AROUND_DEGC.tolist():
        heat = fixed_point(design, use, around, halvings=HALVINGS)
        points.append((around, heat.air_degc))
        if all(part.output_frac >= 1.0 for part in heat.parts):
            break
    coolest, inside = points[-1]
    points.append((coolest - 200.0, inside - 200.0))
    return np.array(points[::-1]).T

"""Resistance of every branch: warm for voltages, cold copper for the largest fault, hot for the smallest."""

from __future__ import annotations

import numpy as np

from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.network.result import FloatArray
from ampwright.sources import Source, own_choice
from ampwright.standards.iec_60228.temperature import resistance_at_ohm_per_km

__all__ = ["CONDUCTOR_RISE_K", "WORKING_TEMPERATURE_SOURCE", "cold_copper_ohm", "hot_ohm", "working_ohm"]

CONDUCTOR_RISE_K = 15.0
"""Conductor above the hottest air of its zones, in K: this project's own choice.

The true rise is (Tr - Ta)·(I/Iz)², so it would need the ampacity that is judged later. 15 K is what a
conductor of 105 °C in 50 °C air has at about half its capacity (I/Iz = 0.52), and more than cables sized for
voltage drop at 12 V usually reach; 10 K more would add 3.3 % to the copper's resistance.
"""

WORKING_TEMPERATURE_SOURCE: Source = own_choice("conductor-working-temperature")


def working_ohm(design: Design) -> FloatArray:
    """Return the loop resistance of each branch at working temperature (n_runs + n_links,)."""
    runs = [
        resistance_at_ohm_per_km(run.conductor_20_ohm, conductor_degc=run.ambient_max_degc + CONDUCTOR_RISE_K)
        + run.fixed_ohm
        for run in design.runs
    ]
    return np.array(runs + [link.resistance_ohm for link in design.links], dtype=np.float64)


def cold_copper_ohm(design: Design) -> FloatArray:
    """Return the copper of each branch at 20 degC, all else at zero (n_runs + n_links,)."""
    return np.array(
        [run.conductor_20_ohm for run in design.runs] + [0.0] * len(design.links), dtype=np.float64
    )


def hot_ohm(design: Design) -> FloatArray:
    """Return the loop resistance of each branch with each conductor as hot as its insulation bears for long.

    Joints, devices, plugs, chassis return and paths inside parts are counted (n_runs + n_links,).
    """
    runs = [_hot_copper_ohm(run) + run.fixed_ohm for run in design.runs]
    return np.array(runs + [link.resistance_ohm for link in design.links], dtype=np.float64)


def _hot_copper_ohm(run: DesignRun) -> float:
    conductors = ((run.cable, run.length_m), (run.back_cable, run.back_length_m))
    return sum(
        resistance_at_ohm_per_km(cable.resistance_ohm_per_km, conductor_degc=cable.insulation_degc)
        * length_m
        / 1000.0
        for cable, length_m in conductors
        if cable is not None
    )

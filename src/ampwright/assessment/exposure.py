"""Highest voltage a node can see: charging, or panels on the coldest morning without load."""

from __future__ import annotations

import math

from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.result import NetworkResult
from ampwright.parts.converter import Converter
from ampwright.parts.panel import Panel

__all__ = ["cold_open_circuit_v", "highest_v"]

STC_DEGC = 25.0  # standard test conditions, IEC 61215 (from memory)


def cold_open_circuit_v(panel: Panel, in_series: int, coldest_degc: float) -> float:
    """Return the open-circuit voltage of a string at the coldest cell temperature.

    Linear temperature coefficient of the data sheet, IEC 60891 method (from memory); a cell before sunrise
    is as cold as the air.
    """
    return (
        panel.open_circuit_v * in_series * (1.0 + panel.open_circuit_v_frac_per_k * (coldest_degc - STC_DEGC))
    )


def highest_v(design: Design, network: NetworkResult, node: int) -> float:
    """Return the highest voltage of a node; NaN where it is not known.

    A node can see its source without any drop, when nothing draws; a panel's node its cold open-circuit voltage.
    """
    root = int(network.root[node])
    if root < 0:
        return math.nan
    held = {design.node_of(f"{placed.id}.out") for placed, _ in design.placed(Converter)}
    if root in {design.node_of(design.parts[design.battery].id), design.node_of(STARTER_NODE), *held}:
        found = [float(network.node_high_v[node]), float(network.node_high_v[root])]
    else:
        coldest_degc = design.job.season.coldest_degc
        found = [float(network.node_high_v[node])] + [
            cold_open_circuit_v(panel, placed.in_series, coldest_degc)
            for placed, panel in design.placed(Panel)
            if int(network.root[design.node_of(placed.id)]) == root
        ]
    return math.nan if any(math.isnan(voltage) for voltage in found) else max(found)

"""How far the voltage falls when the heaviest load comes on: in the battery, and on the way to an inverter.

The network's corners hold the battery's terminals at one voltage; here they give way by its own resistance.
"""

from __future__ import annotations

import math

from ampwright.energy.bank import bank_table
from ampwright.job.design import Design
from ampwright.network.corners import battery_low_v
from ampwright.network.result import NetworkResult, OperatingPoint
from ampwright.records import record

__all__ = ["Sag", "battery_ohm", "heaviest_a", "sag_of"]


@record
class Sag:
    """The battery just above its low limit, at rest, and then with a load."""

    rest_v: float
    """Battery's terminals before the load comes on."""
    terminal_v: float
    """Battery's terminals with the load; NaN where it cannot carry it."""
    current_a: float
    """Current with the load."""
    resistance_ohm: float
    """Resistance of the battery, cold."""


def battery_ohm(design: Design, cell_degc: float) -> float:
    """Return the battery's resistance at a cell temperature."""
    from ampwright.energy.physics.kernel import cold_factor  # noqa: PLC0415 - the compiler is heavy

    bank = bank_table(design)
    return bank.resistance_ohm * cold_factor(cell_degc, bank.doubling_k)


def heaviest_a(design: Design, points: tuple[OperatingPoint, ...]) -> float:
    """Return the largest current out of the battery over corners; NaN where it is not known.

    Corners without a known voltage at the battery are no corners of the battery.
    """
    node = design.node_of(design.parts[design.battery].id)
    ways = [
        (run.index, 1.0 if run.start == node else -1.0) for run in design.runs if node in {run.start, run.end}
    ]
    own_w = sum(load.peak_w for load in design.loads if load.node == node)
    known = [point for point in points if not math.isnan(point.node_v[node])]
    if not ways or not known:
        return math.nan
    sums = [
        sum(sign * float(point.run_a[index]) for index, sign in ways) + own_w / float(point.node_v[node])
        for point in known
    ]
    return math.nan if any(math.isnan(total) for total in sums) else max(*sums, 0.0)


def sag_of(design: Design, network: NetworkResult, cell_degc: float) -> Sag:
    """Return the sag at the load cut-off when everything of the use that can run together comes on.

    Notes
    -----
    All of the load is taken as constant power P = V I of the corner, which is never less current than the true mix:
    V + R P / V = E, so V = (E + sqrt(E² - 4 R P)) / 2; no steady voltage where E² < 4 R P.
    """
    rest_v, ohm = battery_low_v(design), battery_ohm(design, cell_degc)
    power_w = rest_v * heaviest_a(design, network.points)
    inside = rest_v**2 - 4.0 * ohm * power_w
    if math.isnan(inside) or inside < 0.0:
        return Sag(rest_v=rest_v, terminal_v=math.nan, current_a=power_w / rest_v, resistance_ohm=ohm)
    terminal_v = 0.5 * (rest_v + math.sqrt(inside))
    return Sag(rest_v=rest_v, terminal_v=terminal_v, current_a=power_w / terminal_v, resistance_ohm=ohm)

"""What loads behind step-down converters mean at the battery: their power, its parts, and the converters' idle draw.

A converter holds its output whatever the battery's voltage, so all behind it is constant power at its input. Loads
share cables behind it no more than elsewhere in the energy study: each is reckoned alone on its way.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.job.converters import Sides, placed_converters
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.parts.converter import Converter
from ampwright.records import record

__all__ = ["KINDS", "BusRow", "at_bus", "bus_row", "idle_rows", "inlet_ohm"]

Array = NDArray[np.float64]
KINDS = {"power": 0, "current": 1, "resistance": 2}


@record
class BusRow:
    """One consumer as the battery's bus sees it."""

    kind: int
    """Constant power, current or resistance, as in `KINDS`."""
    on_w: float
    """Power while on, at the nominal voltage of the battery's side."""
    peak_w: float
    """Highest power."""
    path_ohm: float
    """Loop resistance from the battery."""
    load_frac: float = 1.0
    """Part of the power that arrives at the load."""
    cable_frac: float = 0.0
    """Part that is lost in cables behind converters."""
    lock_v: float = 0.0
    """Voltage below which the converter at its head switches off; 0 = none."""
    unlock_v: float = 0.0
    """Voltage at which that one starts again."""

    @property
    def loss_frac(self) -> float:
        """Part that converters lose."""
        return max(1.0 - self.load_frac - self.cable_frac, 0.0)


def bus_row(design: Design, load: DesignLoad, sides: Sides, path_ohm: Array) -> BusRow:
    """Return the row of a DC load, carried through the converters between it and the battery."""
    own_ohm = _finite(path_ohm, load.node)
    if load.node < 0 or sides.converter[load.node] < 0:
        return BusRow(kind=KINDS[load.behaves], on_w=load.power_w, peak_w=load.peak_w, path_ohm=own_ohm)
    nominal_v = sides.nominal_v[load.node]
    placed = design.parts[sides.converter[load.node]]
    held_v = _part(placed).output_v
    running, peak = (
        _consumer_a(KINDS[load.behaves], watts, own_ohm, (nominal_v, held_v))
        for watts in (load.power_w, load.peak_w)
    )
    cable_w = running * running * own_ohm
    row = at_bus(design, placed, sides, path_ohm, (held_v * running, held_v * peak))
    on_w = row.on_w if row.on_w > 0.0 else 1.0
    return BusRow(
        kind=0,
        on_w=row.on_w,
        peak_w=row.peak_w,
        path_ohm=row.path_ohm,
        load_frac=(held_v * running - cable_w) / on_w,
        cable_frac=(cable_w + row.cable_frac * row.on_w) / on_w,
        lock_v=row.lock_v,
        unlock_v=row.unlock_v,
    )


def _consumer_a(kind: int, watts: float, ohm: float, voltages: tuple[float, float]) -> float:
    from ampwright.energy.physics.kernel import consumer_a  # noqa: PLC0415 - the compiler is heavy

    return float(consumer_a(kind, watts, ohm, *voltages))


def at_bus(
    design: Design, placed: DesignPart, sides: Sides, path_ohm: Array, given_w: tuple[float, float]
) -> BusRow:
    """Return what a converter's output, running and at peak, takes from the battery's bus; idle draws apart."""
    running_w, peak_w = given_w
    cable_w = 0.0
    while True:
        part = _part(placed)
        running_w, peak_w = running_w / part.efficiency_frac, peak_w / part.efficiency_frac
        node = design.node_of(f"{placed.id}.in")
        above = sides.converter[node]
        if above < 0 or above == placed.index:
            break
        ohm, held_v = _finite(path_ohm, node), _part(design.parts[above]).output_v
        amps, peak_a = (_consumer_a(0, watts, ohm, (held_v, held_v)) for watts in (running_w, peak_w))
        cable_w += amps * amps * ohm
        running_w, peak_w = held_v * amps, held_v * peak_a
        placed = design.parts[above]
    return BusRow(
        kind=0,
        on_w=running_w,
        peak_w=peak_w,
        path_ohm=inlet_ohm(design, placed, path_ohm),
        cable_frac=cable_w / running_w if running_w > 0.0 else 0.0,
        lock_v=part.input_stop_v,
        unlock_v=part.input_start_v,
    )


def idle_rows(design: Design, sides: Sides, path_ohm: Array) -> tuple[tuple[DesignPart, BusRow], ...]:
    """Return the idle draw of every converter that the auxiliary battery feeds, as a row of its own."""
    found: list[tuple[DesignPart, BusRow]] = []
    for placed, part in placed_converters(design):
        node = design.node_of(f"{placed.id}.in")
        if sides.is_vehicle[node]:
            continue
        above = sides.converter[node]
        if above >= 0 and above != placed.index:
            row = at_bus(design, design.parts[above], sides, path_ohm, (part.idle_w, part.idle_w))
        else:
            row = BusRow(
                kind=0,
                on_w=part.idle_w,
                peak_w=part.idle_w,
                path_ohm=inlet_ohm(design, placed, path_ohm),
                lock_v=part.input_stop_v,
                unlock_v=part.input_start_v,
            )
        found.append((placed, row))
    return tuple(found)


def inlet_ohm(design: Design, placed: DesignPart, path_ohm: Array) -> float:
    """Return the loop resistance to a converter's input; 0 where the wiring does not tell."""
    return _finite(path_ohm, design.node_of(f"{placed.id}.in"))


def _part(placed: DesignPart) -> Converter:
    if not isinstance(placed.part, Converter):
        message = f"'{placed.id}' is no converter"
        raise TypeError(message)
    return placed.part


def _finite(path_ohm: Array, node: int) -> float:
    value = float(path_ohm[node]) if node >= 0 else 0.0
    return value if np.isfinite(value) else 0.0

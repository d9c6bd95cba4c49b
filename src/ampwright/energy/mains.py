"""What mains chargers give while hooked up, behind the limit of the post and the AC loads on it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.charger_row import (
    ChargerRow,
    charger_path_ohm,
    derating_frac,
    set_charge_v,
    set_output_a,
)
from ampwright.energy.frame import Frame
from ampwright.energy.schedule import Schedule
from ampwright.energy.sources_map import SourceMap
from ampwright.job.design import Design, DesignPart
from ampwright.parts.charger import MainsCharger
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["has_transfer", "mains_rows"]

Array = NDArray[np.float64]


@record
class MainsDevice:
    """A mains charger, or the charger in an inverter, in the same words."""

    placed: DesignPart
    """The placed part."""
    node: str
    """Node of its output."""
    mains_v: float
    """Mains voltage."""
    input_w: float
    """Largest power from the mains."""
    output_a: float
    """Largest output current."""
    charge_v: float
    """Absorption voltage as delivered."""
    efficiency_frac: float
    """Output over input."""
    derate_start_degc: float
    """Air temperature where the output begins to fall."""
    derate_end_degc: float
    """Air temperature where it reaches zero."""


def mains_rows(frame: Frame) -> list[ChargerRow]:
    """Return one row per mains charger; they take what the post has left in the order given."""
    design, calendar = frame.design, frame.calendar
    hooked = calendar.by_plan(frame.schedule.state("hooked-up"))
    used_w = calendar.by_plan(_ac_loads_w(design, frame.schedule))
    left_w: Array | None = None
    rows = []
    for device in _devices(design, frame.wiring):
        if left_w is None:
            left_w = np.maximum(design.mains_limit_a * device.mains_v * hooked - used_w, 0.0)
        placed = device.placed
        there = hooked * frame.presence(placed)
        heat = derating_frac(
            frame.working_degc(placed),
            start_degc=device.derate_start_degc,
            end_degc=device.derate_end_degc,
        )
        limit = set_output_a(placed, device.output_a) * there * heat
        set_v = set_charge_v(placed, device.charge_v)
        wanted = np.minimum(device.input_w * there, limit * set_v / device.efficiency_frac)
        taken = np.minimum(wanted, left_w)
        left_w = left_w - taken
        rows.append(
            ChargerRow(
                label=placed.id,
                part=placed.index,
                kind="mains",
                set_v=set_v,
                path_ohm=charger_path_ohm(design, frame.path_ohm, device.node),
                efficiency_frac=device.efficiency_frac,
                limit_a=limit,
                available_w=taken * device.efficiency_frac,
            )
        )
    return rows


def _ac_loads_w(design: Design, schedule: Schedule) -> Array:
    """AC power on the mains while hooked up, inverters with a transfer switch only."""
    total = np.zeros(schedule.mains_frac.shape[:2])
    for load in design.loads:
        if load.inverter >= 0 and has_transfer(design, load.inverter):
            total = total + schedule.mains_frac[:, :, load.index] * load.power_w
    return total


def has_transfer(design: Design, inverter: int) -> bool:
    """Return whether an inverter hands its loads to the mains while hooked up."""
    part = design.parts[inverter].part
    return isinstance(part, Inverter) and part.transfer_s > 0.0


def _devices(design: Design, wiring: SourceMap) -> list[MainsDevice]:
    devices = []
    for index in wiring.chargers:
        placed = design.parts[index]
        part = placed.part
        limit = placed.setting.input_limit_a if placed.setting is not None else None
        if isinstance(part, MainsCharger):
            device = MainsDevice(
                placed=placed,
                node=f"{placed.id}.out",
                mains_v=part.input_ac_v,
                input_w=part.input_max_w,
                output_a=part.output_max_a,
                charge_v=part.charge_v,
                efficiency_frac=part.efficiency_frac,
                derate_start_degc=part.derate_start_degc,
                derate_end_degc=part.derate_end_degc,
            )
        elif isinstance(part, Inverter):
            device = MainsDevice(
                placed=placed,
                node=placed.id,
                mains_v=part.output_ac_v,
                input_w=part.charger_input_max_w,
                output_a=part.charger_max_a,
                charge_v=part.charge_v,
                # The record states no efficiency of the charger; docs/choices.md#energy-inverter-charger.
                efficiency_frac=part.efficiency_100_frac,
                derate_start_degc=part.derate_start_degc,
                derate_end_degc=part.derate_end_degc,
            )
        else:
            continue
        devices.append(device if limit is None else _limited(device, limit))
    return devices


def _limited(device: MainsDevice, input_a: float) -> MainsDevice:

    return replace(device, input_w=min(device.input_w, input_a * device.mains_v))

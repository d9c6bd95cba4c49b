"""What every node takes or gives at a corner: constant power, current and conductance."""

from __future__ import annotations

import numpy as np

from ampwright.errors import AmpwrightError
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE, terminals
from ampwright.job.wiring import Attached
from ampwright.network.result import FloatArray, IntArray
from ampwright.network.tree import EVERYTHING
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.parts.panel import Panel
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import Sensor
from ampwright.records import record

__all__ = [
    "Demand",
    "charge_setting_v",
    "charger_input",
    "charger_outputs",
    "inverter_w",
    "load_current_a",
    "load_demand",
    "nominal_by_root",
    "output_limit_a",
    "panel_currents",
]

BatteryCharger = AlternatorCharger | MainsCharger | PanelController


@record
class Demand:
    """Loads of every node, each (n_nodes,); negative = gives."""

    power_w: FloatArray
    """Constant power."""
    current_a: FloatArray
    """Constant current."""
    conductance_siemens: FloatArray
    """Constant resistance, as its inverse."""


def load_demand(
    design: Design,
    root: IntArray,
    loads: tuple[int, ...],
    *,
    is_light: bool = False,
    present: frozenset[Attached] = EVERYTHING,
) -> Demand:
    """Return the demand of some loads at their peaks, with inverters and own consumption of electronics.

    `is_light` leaves out the own consumption of everything that is not always on; parts that are not
    `present` take nothing.
    """
    count = len(design.nodes)
    demand = Demand(power_w=np.zeros(count), current_a=np.zeros(count), conductance_siemens=np.zeros(count))
    nominal = nominal_by_root(design)
    for index in loads:
        load = design.loads[index]
        if load.node >= 0:
            _add_load(demand, load, nominal.get(int(root[load.node]), design.system_v))
    for placed in design.parts:
        if placed.part_of not in present or (is_light and placed.is_on_when != "always"):
            continue
        node = _supply_node(design, placed)
        if node >= 0:
            demand.current_a[node] += placed.part.own_a
            if isinstance(placed.part, Inverter):
                demand.power_w[node] += inverter_w(design, placed, placed.part, loads)
    return demand


def nominal_by_root(design: Design) -> dict[int, float]:
    """Return the nominal voltage of each island that has another than the auxiliary battery's, by its root."""
    found = {design.node_of(name): design.vehicle.system_v for name in (STARTER_NODE, SECOND_NODE)}
    found |= {
        design.node_of(f"{placed.id}.out"): part.output_nominal_v for placed, part in design.placed(Converter)
    }
    found.pop(-1, None)
    return found


def _add_load(demand: Demand, load: DesignLoad, nominal_v: float) -> None:
    if load.behaves == "power":
        demand.power_w[load.node] += load.peak_w
    elif load.behaves == "current":
        demand.current_a[load.node] += load.peak_w / nominal_v
    else:
        demand.conductance_siemens[load.node] += load.peak_w / (nominal_v * nominal_v)


def load_current_a(load: DesignLoad, node_v: float, nominal_v: float) -> float:
    """Return the current of a load at its peak and at some voltage, by its behaviour."""
    if load.behaves == "power":
        return load.peak_w / node_v
    if load.behaves == "current":
        return load.peak_w / nominal_v
    return load.peak_w / (nominal_v * nominal_v) * node_v


def _supply_node(design: Design, placed: DesignPart) -> int:
    """Node a part's own consumption is taken from: the battery side of a charger; -1 for a part without."""
    endings = terminals(placed.part)
    if not endings or isinstance(placed.part, Panel):
        return -1
    is_charger = ".out" in endings and not isinstance(placed.part, Converter | Relay | Sensor)
    return design.node_of(f"{placed.id}{'.out' if is_charger else endings[0]}")


def inverter_w(design: Design, placed: DesignPart, part: Inverter, loads: tuple[int, ...]) -> float:
    """Return the DC power of an inverter; it gives no more than its overload power, it switches off instead."""
    ac_w = sum(design.loads[index].peak_w for index in loads if design.loads[index].inverter == placed.index)
    if ac_w == 0.0 and placed.is_on_when == "loads-use":
        return 0.0
    return inverter_dc_w(part, min(ac_w, part.overload_w))


def charge_setting_v(placed: DesignPart) -> float:
    """Return the absorption voltage a charging part is set to; 0 for a part that does not charge."""
    part = placed.part
    if not isinstance(part, BatteryCharger) and not (isinstance(part, Inverter) and part.charger_max_a > 0.0):
        return 0.0
    setting = placed.setting
    return setting.charge_v if setting is not None and setting.charge_v is not None else part.charge_v


def output_limit_a(placed: DesignPart) -> float:
    """Return the largest charging current a part gives as set, by label or reading, whichever is more; 0 for other parts."""
    part = placed.part
    if isinstance(part, BatteryCharger):
        limit_a = part.output_max_a
    elif isinstance(part, Inverter):
        limit_a = part.charger_max_a
    else:
        return 0.0
    limit_a = max(limit_a, placed.output_a or 0.0)
    set_a = placed.setting.output_limit_a if placed.setting is not None else None
    return limit_a if set_a is None else min(limit_a, set_a)


def charger_outputs(
    design: Design, kinds: tuple[type, ...], present: frozenset[Attached] = EVERYTHING
) -> tuple[tuple[int, float], ...]:
    """Return node and full output current of every charging part of some kinds that is present."""
    outputs: list[tuple[int, float]] = []
    for placed in design.parts:
        if isinstance(placed.part, kinds) and placed.part_of in present:
            ending = "" if isinstance(placed.part, Inverter) else ".out"
            node = design.node_of(f"{placed.id}{ending}")
            if node >= 0:
                outputs.append((node, output_limit_a(placed)))
    return tuple(outputs)


def charger_input(placed: DesignPart, part: AlternatorCharger) -> tuple[float, float | None]:
    """Return the input power of an alternator charger at full output, and the input current limit if set."""
    if part.efficiency_frac <= 0.0:
        raise AmpwrightError(f"part '{part.id}': efficiency_frac is 0; give output power over input power")
    power_w = output_limit_a(placed) * charge_setting_v(placed) / part.efficiency_frac
    return power_w, placed.setting.input_limit_a if placed.setting is not None else None


def panel_currents(design: Design) -> tuple[tuple[int, float, float], ...]:
    """Return node, short-circuit current and voltage at maximum power of every placed group of panels."""
    return tuple(
        (
            design.node_of(placed.id),
            placed.strings * panel.short_circuit_a,
            placed.in_series * panel.max_power_v,
        )
        for placed, panel in design.placed(Panel)
    )

"""What panels and their controllers could give in every step."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.plane import cell_degc
from ampwright.energy.charger_row import (
    ChargerRow,
    charger_path_ohm,
    path_of_node_ohm,
    set_charge_v,
    set_output_a,
)
from ampwright.energy.frame import Frame
from ampwright.energy.panel_curve import section_power_frac, sectioned_current_a
from ampwright.energy.sunlight import clean_frac, mounting_of, sunlight_w_m2
from ampwright.job.design import DesignPart
from ampwright.parts.charger import PanelController
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["panel_rows"]

Array = NDArray[np.float64]
FULL_SUN_W_M2 = 1000.0  # standard test conditions, IEC 61215 (from memory)
TEST_CELL_DEGC = 25.0  # standard test conditions, IEC 61215 (from memory)


@record
class PanelOutput:
    """One panel, or one set of strings, in every step; arrays (n_steps,)."""

    power_w: Array
    """Power at its maximum-power point, cable to the controller taken off."""
    held_a: Array
    """Current at the charge voltage of its controller, cable to it added."""
    open_v: Array
    """Open-circuit voltage."""
    best_v: Array
    """Voltage at maximum power."""


def panel_rows(frame: Frame, *, rest_v: float) -> list[ChargerRow]:
    """Return one row per connected panel controller.

    A maximum-power controller gives the panels' power times its efficiency. A switching one lets through the current
    that the panels have at the charge voltage. Either is silent while the panel does not reach the battery.

    Parameters
    ----------
    rest_v : battery voltage that the panels must exceed
    """
    design, path_ohm = frame.design, frame.path_ohm
    rows: list[ChargerRow] = []
    for index, panels in frame.wiring.panels:
        placed = design.parts[index]
        controller = placed.part
        if not isinstance(controller, PanelController):
            continue
        inlet_ohm = path_of_node_ohm(design, path_ohm, f"{placed.id}.in")
        set_v = set_charge_v(placed, controller.charge_v)
        outputs = [_output(frame, design.parts[panel], inlet_ohm=inlet_ohm, set_v=set_v) for panel in panels]
        limit_a = set_output_a(placed, controller.output_max_a)
        rows.append(
            ChargerRow(
                label=placed.id,
                part=index,
                kind="panel",
                set_v=set_v,
                path_ohm=charger_path_ohm(design, path_ohm, f"{placed.id}.out"),
                efficiency_frac=controller.efficiency_frac,
                **_limits(controller, outputs, limit_a=limit_a, set_v=set_v, rest_v=rest_v),
            )
        )
    return rows


def _limits(
    controller: PanelController, outputs: list[PanelOutput], *, limit_a: float, set_v: float, rest_v: float
) -> dict[str, Array]:
    start_v = rest_v + controller.start_above_battery_v
    if controller.tracking == "switching":
        current = sum(one.held_a * (one.open_v >= start_v) for one in outputs)
        shown = np.minimum(np.asarray(current) * controller.efficiency_frac, limit_a)
        return {"limit_a": shown, "available_w": shown * set_v}
    awake = [(one.open_v >= start_v) & (one.best_v >= rest_v) for one in outputs]
    power = sum(one.power_w * on for one, on in zip(outputs, awake, strict=True))
    available = np.asarray(power) * controller.efficiency_frac
    return {"limit_a": np.full(available.shape, limit_a), "available_w": available}


def _output(frame: Frame, placed: DesignPart, *, inlet_ohm: float, set_v: float) -> PanelOutput:
    panel = placed.part
    if not isinstance(panel, Panel):
        message = f"'{placed.id}' is no panel"
        raise TypeError(message)
    sunlight = sunlight_w_m2(frame, placed)
    cell = cell_degc(
        sunlight, frame.calendar.all_days(frame.sun.ambient_degc), mounting=mounting_of(placed, panel)
    )
    share = sunlight * clean_frac(frame, panel) * ((1.0 - placed.shade_frac) / FULL_SUN_W_M2)
    warmer = cell - TEST_CELL_DEGC
    sections = placed.panel.section_shade_frac
    rated_w = panel.power_w * placed.case_count * (section_power_frac(panel, sections) if sections else 1.0)
    power = np.maximum(share * rated_w * (1.0 + panel.power_frac_per_k * warmer), 0.0)
    volt_factor = 1.0 + panel.open_circuit_v_frac_per_k * warmer
    best_v = np.maximum(panel.max_power_v * placed.in_series * volt_factor, 1.0)
    cable_ohm = max(inlet_ohm, path_of_node_ohm(frame.design, frame.path_ohm, placed.id))
    short_a = share * panel.short_circuit_a * placed.strings
    return PanelOutput(
        power_w=np.maximum(power - (power / best_v) ** 2 * cable_ohm, 0.0),
        held_a=placed.strings
        * sectioned_current_a(
            panel,
            (set_v + short_a * cable_ohm) / placed.in_series,
            sections,
            light_frac=share,
            volt_factor=volt_factor,
        ),
        open_v=panel.open_circuit_v * placed.in_series * volt_factor * (sunlight > 0.0),
        best_v=best_v,
    )

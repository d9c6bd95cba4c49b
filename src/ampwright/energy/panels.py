"""What panels and their controllers could give in every step."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.plane import cell_degc, plane_w_m2
from ampwright.energy.charger_row import (
    ChargerRow,
    charger_path_ohm,
    path_of_node_ohm,
    set_charge_v,
    set_output_a,
)
from ampwright.energy.frame import Frame
from ampwright.job.design import DesignPart
from ampwright.parts.charger import PanelController
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["panel_rows"]

Array = NDArray[np.float64]
SOIL_AND_MISMATCH_FRAC = 0.95  # docs/choices.md#energy-soiling
FULL_SUN_W_M2 = 1000.0  # standard test conditions, IEC 61215 (from memory)
TEST_CELL_DEGC = 25.0  # standard test conditions, IEC 61215 (from memory)


@record
class PanelOutput:
    """One panel, or one set of strings, in every step; arrays (n_steps,)."""

    power_w: Array
    """Power at its maximum-power point, cable to the controller taken off."""
    short_a: Array
    """Current into a low voltage."""
    open_v: Array
    """Open-circuit voltage."""
    best_v: Array
    """Voltage at maximum power."""


def panel_rows(frame: Frame, *, rest_v: float) -> list[ChargerRow]:
    """Return one row per connected panel controller.

    A maximum-power controller gives the panels' power times its efficiency. A switching one lets the short-circuit
    current through at the battery's voltage. Either is silent while the panel does not reach the battery.

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
        outputs = [_output(frame, design.parts[panel], inlet_ohm=inlet_ohm) for panel in panels]
        set_v = set_charge_v(placed, controller.charge_v)
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
    awake = [(one.open_v >= start_v) & (one.best_v >= rest_v) for one in outputs]
    if controller.tracking == "switching":
        current = sum(one.short_a * on for one, on in zip(outputs, awake, strict=True))
        shown = np.minimum(np.asarray(current) * controller.efficiency_frac, limit_a)
        return {"limit_a": shown, "available_w": shown * set_v}
    power = sum(one.power_w * on for one, on in zip(outputs, awake, strict=True))
    available = np.asarray(power) * controller.efficiency_frac
    return {"limit_a": np.full(available.shape, limit_a), "available_w": available}


def _output(frame: Frame, placed: DesignPart, *, inlet_ohm: float) -> PanelOutput:
    panel = placed.part
    if not isinstance(panel, Panel):
        message = f"'{placed.id}' is no panel"
        raise TypeError(message)
    calendar, sun = frame.calendar, frame.sun
    season = frame.design.job.season
    plane = plane_w_m2(
        sun, tilt_deg=placed.tilt_deg, azimuth_deg=placed.azimuth_deg % 360.0, albedo_frac=season.albedo_frac
    )
    plan_factor = np.array([plan.sun_factor for plan in frame.design.plans])
    day_factor = np.repeat(plan_factor[calendar.plan_of_day], calendar.steps_per_day)
    sunlight = calendar.all_days(plane) * day_factor * frame.presence(placed)
    cell = cell_degc(
        sunlight,
        calendar.all_days(sun.ambient_degc),
        mounting="open-rack" if panel.is_portable else "roof-gap",
    )
    share = sunlight * ((1.0 - placed.shade_frac) * SOIL_AND_MISMATCH_FRAC / FULL_SUN_W_M2)
    warmer = cell - TEST_CELL_DEGC
    count = placed.strings * placed.in_series
    power = np.maximum(share * panel.power_w * count * (1.0 + panel.power_frac_per_k * warmer), 0.0)
    volt_factor = 1.0 + panel.open_circuit_v_frac_per_k * warmer
    best_v = np.maximum(panel.max_power_v * placed.in_series * volt_factor, 1.0)
    cable_ohm = max(inlet_ohm, path_of_node_ohm(frame.design, frame.path_ohm, placed.id))
    return PanelOutput(
        power_w=np.maximum(power - (power / best_v) ** 2 * cable_ohm, 0.0),
        short_a=share * panel.short_circuit_a * placed.strings,
        open_v=panel.open_circuit_v * placed.in_series * volt_factor * (sunlight > 0.0),
        best_v=best_v,
    )

"""The auxiliary battery of a design as the kernel's two-pole."""

from __future__ import annotations

from ampwright.energy.chemistry import CHEMISTRIES, open_circuit
from ampwright.energy.tables import BankTable
from ampwright.job.design import Design

__all__ = ["bank_capacity_ah", "bank_table"]

HOURS_PER_MONTH = 365.25 * 24.0 / 12.0
CELL_HEAT_WH_PER_KG_K = 0.28  # about 1000 J/(kg K), common practice for cells and lead-acid, no source
WH_PER_KG = 100.0  # docs/choices.md#energy-mass, only where the part states none
LAG_H = 6.0  # docs/choices.md#energy-cell-lag
HEATER_MARGIN_K = 2.0  # docs/choices.md#energy-heater-margin
NEVER_A = 1e9


def bank_capacity_ah(design: Design) -> float:
    """Return the rated capacity of the whole bank."""
    return design.battery_part().capacity_ah * design.parts[design.battery].strings


def bank_table(design: Design) -> BankTable:
    """Return the battery's figures for the kernel.

    Notes
    -----
    A bank of lithium cells is reckoned with a management system, built in or not; a lead-acid one without
    it is only blocked when it is empty. Low-voltage harm is then for a rule to find.
    """
    part = design.battery_part()
    placed = design.parts[design.battery]
    traits = CHEMISTRIES[part.chemistry]
    cells = round(part.nominal_v / traits.cell_nominal_v) * placed.in_series
    curve = open_circuit(part.chemistry)
    capacity_ah = bank_capacity_ah(design)
    cases = placed.strings * placed.in_series
    mass_kg = part.mass_kg if part.mass_kg > 0.0 else part.capacity_ah * part.nominal_v / WH_PER_KG
    is_managed = part.is_management_inside or part.chemistry == "lfp"
    series = placed.in_series
    return BankTable(
        table_ah=curve.soc_frac * capacity_ah,
        table_v=curve.cell_v * cells,
        resistance_ohm=part.resistance_ohm * series / placed.strings,
        doubling_k=traits.doubling_k,
        efficiency_frac=max(part.charge_efficiency_frac, 0.01),
        self_discharge_a=capacity_ah * part.self_discharge_frac_per_month / HOURS_PER_MONTH,
        acceptance_h=traits.acceptance_h,
        cutoff_v=part.cutoff_v * series if is_managed else 0.0,
        reconnect_v=part.reconnect_v * series,
        discharge_max_a=part.discharge_max_a * placed.strings if is_managed else NEVER_A,
        discharge_min_degc=part.discharge_min_degc if is_managed else -273.15,
        charge_max_v=part.charge_max_v * series if is_managed else NEVER_A,
        charge_again_v=part.float_v * series,
        charge_min_degc=part.charge_min_degc if is_managed else -273.15,
        charge_max_degc=part.charge_max_degc if is_managed else 1000.0,
        heater_w=part.heater_w * cases,
        heater_stop_degc=part.charge_min_degc + HEATER_MARGIN_K,
        cooling_w_per_k=mass_kg * cases * CELL_HEAT_WH_PER_KG_K / LAG_H,
        lag_h=LAG_H,
    )

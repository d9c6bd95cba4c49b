"""The auxiliary battery of a design as the kernel's two-pole."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.chemistry import CHEMISTRIES, open_circuit
from ampwright.energy.kinetic import kinetic_of
from ampwright.energy.tables import BankTable, table_slopes
from ampwright.job.design import Design

__all__ = ["bank_capacity_ah", "bank_table", "charge_at_ah", "rest_v", "soc_at_frac"]

Array = NDArray[np.float64]

HOURS_PER_MONTH = 365.25 * 24.0 / 12.0
CELL_HEAT_WH_PER_KG_K = 0.28  # about 1000 J/(kg K), common practice for cells and lead-acid, no source
WH_PER_KG = 100.0  # docs/choices.md#energy-mass, only where the part states none
LAG_H = 6.0  # docs/choices.md#energy-cell-lag
HEATER_MARGIN_K = 2.0  # docs/choices.md#energy-heater-margin
NEVER_A = 1e9
LEAD_COLD_LOSS_FRAC_PER_K = 0.006  # docs/choices.md#lead-acid-cold
LITHIUM_COLD_LOSS_FRAC_PER_K = 0.008  # docs/choices.md#lithium-cold


def bank_capacity_ah(design: Design) -> float:
    """Return the rated capacity of the whole bank; slow discharge takes more out of lead-acid (`BankTable.table_ah`)."""
    return design.battery_part().capacity_ah * design.parts[design.battery].strings


def charge_at_ah(bank: BankTable, soc_frac: float) -> float:
    """Return the charge of a bank at a state of charge: full less what is missing of the rated capacity.

    Slow discharge takes more than the rated capacity out of lead-acid, so that a little is left at zero.
    """
    return soc_frac * bank.rated_ah + (float(bank.table_ah[-1]) - bank.rated_ah)


def soc_at_frac(bank: BankTable, charge_ah: Array) -> Array:
    """Return the state of charge by charge, 0 where more than the rated capacity is missing; same shape."""
    found: Array = np.maximum((charge_ah - (bank.table_ah[-1] - bank.rated_ah)) / bank.rated_ah, 0.0)
    return found


def rest_v(design: Design, soc_frac: float) -> float:
    """Return the rest voltage of a design's bank at a state of charge."""
    bank = bank_table(design)
    return float(np.interp(charge_at_ah(bank, soc_frac), bank.table_ah, bank.table_v))


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
    kinetic = kinetic_of(part)
    table_ah, table_v = _with_charge_below_zero(
        curve.soc_frac * capacity_ah,
        curve.cell_v * cells,
        beyond_ah=capacity_ah * (kinetic.total_factor - 1.0),
    )
    cases = placed.strings * placed.in_series
    mass_kg = part.mass_kg if part.mass_kg > 0.0 else part.capacity_ah * part.nominal_v / WH_PER_KG
    is_managed = part.is_management_inside or part.chemistry == "lfp"
    series = placed.in_series
    return BankTable(
        table_ah=table_ah,
        table_v=table_v,
        slopes=table_slopes(table_ah, table_v),
        rated_ah=capacity_ah,
        resistance_ohm=part.resistance_ohm * series / placed.strings,
        doubling_k=traits.doubling_k,
        efficiency_frac=max(part.charge_efficiency_frac, 0.01),
        self_discharge_a=capacity_ah * part.self_discharge_frac_per_month / HOURS_PER_MONTH,
        acceptance_h=traits.acceptance_h,
        available_frac=kinetic.available_frac,
        exchange_per_h=kinetic.exchange_per_h,
        cold_loss_frac_per_k=LITHIUM_COLD_LOSS_FRAC_PER_K
        if part.chemistry == "lfp"
        else LEAD_COLD_LOSS_FRAC_PER_K,
        cutoff_v=part.cutoff_v * series if is_managed else 0.0,
        reconnect_v=part.reconnect_v * series,
        discharge_max_a=part.discharge_max_a * placed.strings if is_managed else NEVER_A,
        discharge_min_degc=part.discharge_min_degc if is_managed else -273.15,
        charge_max_v=part.charge_max_v * series if is_managed else NEVER_A,
        charge_again_v=part.float_v * series,
        charge_min_degc=part.charge_min_degc if is_managed else -273.15,
        charge_max_degc=part.charge_max_degc if is_managed else 1000.0,
        heater_w=part.heater_w * cases,
        heater_free_w=part.heater_w * cases if part.heater_feeds_from == "battery" else 0.0,
        heater_stop_degc=part.charge_min_degc + HEATER_MARGIN_K,
        cooling_w_per_k=mass_kg * cases * CELL_HEAT_WH_PER_KG_K / LAG_H,
        lag_h=LAG_H,
    )


def _with_charge_below_zero(charge_ah: Array, rest_v: Array, *, beyond_ah: float) -> tuple[Array, Array]:
    """Return the table with the charge that is left at a state of charge of 0; its first piece goes on below."""
    if beyond_ah <= 0.0:
        return charge_ah, rest_v
    below_v = rest_v[0] - (rest_v[1] - rest_v[0]) / (charge_ah[1] - charge_ah[0]) * beyond_ah
    return np.concatenate([[0.0], charge_ah + beyond_ah]), np.concatenate([[below_v], rest_v])

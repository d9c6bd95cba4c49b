"""What the energy study gives: books of the whole use, and the course of everything step by step."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.alternator import AlternatorState
from ampwright.energy.charger_row import SourceKind
from ampwright.records import record

__all__ = ["EnergyLedger", "EnergyResult", "summed"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


def summed(values: Array) -> Array:
    """Return the sum of each column; four times as fast as `sum`, which goes along many short rows."""
    total: Array = np.einsum("ij->j", values)
    return total


@record
class EnergyLedger:
    """Energy of the battery's bus over the whole use; every term was added up on its own."""

    panel_wh: float
    """Given by panel controllers at their outputs."""
    alternator_wh: float
    """Given by alternator chargers at their outputs."""
    mains_wh: float
    """Given by mains chargers at their outputs."""
    charger_loss_wh: float
    """Lost in the chargers before their outputs; not part of the balance."""
    load_wh: Array
    """Taken by each load at its terminals, from the battery's bus (n_loads,)."""
    mains_load_wh: Array
    """Taken by each load straight from the mains; not part of the balance (n_loads,)."""
    inverter_loss_wh: float
    """Lost in inverters, idle power included."""
    standby_wh: float
    """Own consumption of parts."""
    heater_wh: float
    """Cell heaters."""
    cable_loss_wh: float
    """Lost in cables to loads, inverters and converters, and from chargers."""
    battery_loss_wh: float
    """Lost in the battery's resistance."""
    coulombic_loss_wh: float
    """Charge that went in and was not stored."""
    self_discharge_wh: float
    """Lost inside the battery at rest."""
    stored_change_wh: float
    """Energy in the battery at the end less at the start."""
    converter_loss_wh: float = 0.0
    """Lost in step-down converters, idle power included."""
    returned_wh: float = 0.0
    """Given back to the vehicle through a closed relay while the alternator was held low."""

    @property
    def source_wh(self) -> float:
        """All that came in."""
        return self.panel_wh + self.alternator_wh + self.mains_wh

    @property
    def imbalance_wh(self) -> float:
        """What came in less what went out, was lost or stored; rounding only."""
        taken = float(self.load_wh.sum()) + self.inverter_loss_wh + self.standby_wh + self.heater_wh
        taken += self.converter_loss_wh + self.returned_wh
        lost = self.cable_loss_wh + self.battery_loss_wh + self.coulombic_loss_wh + self.self_discharge_wh
        return self.source_wh - taken - lost - self.stored_change_wh

    @property
    def throughput_wh(self) -> float:
        """All that moved: came in, or out of the battery."""
        return self.source_wh + abs(self.stored_change_wh) + float(self.load_wh.sum())


@record
class EnergyResult:
    """Course of a use; n_steps = days of the use times steps per day."""

    steps_per_day: int
    """Steps of a day."""
    day_of_step: NDArray[np.int64]
    """Day of the use, from 0 (n_steps,)."""
    minute_of_step: NDArray[np.int64]
    """Minute of the day at which the step begins (n_steps,)."""
    plan_of_step: NDArray[np.int64]
    """Index of the day plan (n_steps,)."""
    soc_frac: Array
    """State of charge at the start of each step, and at the end of the last (n_steps + 1,)."""
    battery_v: Array
    """Mean terminal voltage (n_steps,)."""
    battery_low_v: Array
    """Terminal voltage with all loads of the slot at their peaks, the battery alone feeding them (n_steps,).

    docs/choices.md#energy-peak-alone"""
    battery_a: Array
    """Mean current, positive = charging (n_steps,)."""
    battery_peak_a: Array
    """Highest discharging current, peaks included, the battery alone feeding them (n_steps,)."""
    cell_degc: Array
    """Cell temperature at the start of the step (n_steps,)."""
    source_labels: tuple[str, ...]
    """Ids of the chargers (n_sources)."""
    source_kinds: tuple[SourceKind, ...]
    """What each charger is fed by (n_sources)."""
    source_w: Array
    """Mean output power of each charger (n_steps, n_sources)."""
    source_possible_w: Array
    """Output power each charger could have given (n_steps, n_sources)."""
    load_w: Array
    """Mean power each load got, from battery or mains (n_steps, n_loads)."""
    unserved_w: Array
    """Mean power each load wanted and did not get (n_steps, n_loads)."""
    is_unserved: Flags
    """True where a load wanted power and got none or too little (n_steps, n_loads)."""
    fridge_loads: tuple[int, ...]
    """Indices of the loads that are refrigerators (n_fridges)."""
    fridge_degc: Array
    """Cabinet temperature at the end of the step (n_steps, n_fridges)."""
    fridge_ice_wh: Array
    """Latent heat left in the ice lining at the end of the step (n_steps, n_fridges)."""
    fridge_air_degc: Array
    """Air at it (n_steps, n_fridges)."""
    fridge_leak_w_per_k: Array
    """Its heat leak, openings included (n_steps, n_fridges)."""
    fridge_is_used: Flags
    """False while it is away or in store; its temperature is then held at the set one (n_steps, n_fridges)."""
    fridge_heat_wh: Array
    """Heat leaked in, heat pumped out, heat brought in while not in use (3, n_fridges)."""
    is_cut_off: Flags
    """Load cut-off open (n_steps,)."""
    is_management_open: Flags
    """Discharge blocked: management, frost, or empty (n_steps,)."""
    is_charge_blocked: Flags
    """Charge blocked: cold, heat or too high a voltage (n_steps,)."""
    inverter_parts: tuple[int, ...]
    """Parts that are inverters (n_inverters)."""
    inverter_peak_w: Array
    """AC power from the battery with all loads of the slot at their peaks (n_steps, n_inverters)."""
    inverter_peak_va: Array
    """The same as apparent power (n_steps, n_inverters)."""
    wanted_charge_a: Array
    """What all chargers together would drive, tapering not counted (n_steps,)."""
    alternator: tuple[AlternatorState, ...]
    """Balance of the alternator in each state; empty without one."""
    unconnected: tuple[int, ...]
    """Parts of panels and chargers that give nothing for want of a connection."""
    ledger: EnergyLedger
    """Books of the whole use."""
    leg_of_day: tuple[str, ...] = ()
    """Name of the place of each day (n_days); empty where the use stays at one place."""
    charge_min_degc: float = -273.15
    """Lowest cell temperature at which the battery may be charged; by default none."""

    @property
    def step_h(self) -> float:
        """Length of a step."""
        return 24.0 / self.steps_per_day

    @property
    def day_count(self) -> int:
        """Days of the use."""
        return self.day_of_step.size // self.steps_per_day

    @property
    def unserved_wh(self) -> Array:
        """Energy each load wanted and did not get over the use (n_loads,).

        A refrigerator that is off asks for its whole power all the time; what it misses is no more than its mean draw
        while it is served (docs/choices.md#fridge-missing).
        """
        total: Array = summed(self.unserved_w) * self.step_h
        for column, load in enumerate(self.fridge_loads):
            off, used = self.is_unserved[:, load], self.fridge_is_used[:, column]
            served = used & ~off
            mean_w = float(self.load_w[served, load].mean()) if served.any() else 0.0
            if off.any() and mean_w > 0.0:
                total[load] = min(total[load], float(np.count_nonzero(off)) * self.step_h * mean_w)
        return total

    @property
    def load_wh_per_day(self) -> Array:
        """Mean energy of a day each load got, from battery or mains (n_loads,)."""
        mean: Array = summed(self.load_w) * (24.0 / self.load_w.shape[0])
        return mean

    @property
    def source_wh_per_day(self) -> Array:
        """Mean energy of a day each charger gave (n_sources,)."""
        mean: Array = summed(self.source_w) * (24.0 / self.source_w.shape[0])
        return mean

    @property
    def wanted_charge_max_a(self) -> float:
        """Largest current all chargers together would drive."""
        return float(self.wanted_charge_a.max(initial=0.0))

    @property
    def is_too_cold(self) -> Flags:
        """Cells too cold to be charged (n_steps,)."""
        cold: Flags = self.cell_degc < self.charge_min_degc
        return cold

    @property
    def cold_blocked_hours(self) -> float:
        """Hours in which the cells were too cold to be charged though a charger could have given."""
        could = self.source_possible_w.sum(axis=1) > 0.0
        return float(np.count_nonzero(self.is_too_cold & could)) * self.step_h

    @property
    def daily_low_frac(self) -> Array:
        """Lowest state of charge of each day (n_days,)."""
        lows: Array = self.soc_frac[1:].reshape(-1, self.steps_per_day).min(axis=1)
        return lows

    @property
    def trend_frac(self) -> float:
        """State of charge at the end less at the start."""
        return float(self.soc_frac[-1] - self.soc_frac[0])

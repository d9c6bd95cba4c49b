"""Made-up tables for the kernel; as a script it runs one case and writes the result to a file.

Run with NUMBA_DISABLE_JIT=1 the same functions are plain Python.
"""

from __future__ import annotations

import sys

import numpy as np

from ampwright.energy import kernel, tables
from ampwright.energy.chemistry import open_circuit

FLAT = (np.array([0.0, 100.0]), np.array([13.0, 13.0]))


def bank(capacity_ah=100.0, *, chemistry="lfp", curve=None, **changes):
    """LFP bank of 100 Ah without losses unless changed."""
    table = open_circuit(chemistry)
    cells = 4 if chemistry == "lfp" else 6
    table_ah, table_v = curve or (table.soc_frac * capacity_ah, table.cell_v * cells)
    plain = tables.BankTable(
        table_ah=table_ah,
        table_v=table_v,
        slopes=tables.table_slopes(table_ah, table_v),
        rated_ah=capacity_ah,
        resistance_ohm=1e-9,
        doubling_k=25.0,
        efficiency_frac=1.0,
        self_discharge_a=0.0,
        acceptance_h=0.0,
        available_frac=1.0,
        exchange_per_h=0.0,
        cold_loss_frac_per_k=0.0,
        cutoff_v=0.0,
        reconnect_v=0.0,
        discharge_max_a=1e9,
        discharge_min_degc=-30.0,
        charge_max_v=1e9,
        charge_again_v=1e9,
        charge_min_degc=0.0,
        charge_max_degc=50.0,
        heater_w=0.0,
        heater_free_w=0.0,
        heater_stop_degc=2.0,
        cooling_w_per_k=1.0,
        lag_h=6.0,
    )
    return plain._replace(**changes)


def consumers(count, **changes):
    """Constant powers without cables or cut-off unless changed."""
    plain = tables.ConsumerTable(
        kind=np.zeros(count, np.int64),
        path_ohm=np.zeros(count),
        nominal_v=12.0,
        is_cut=np.ones(count, np.bool_),
        lock_v=np.zeros(count),
        unlock_v=np.zeros(count),
        shed_v=np.zeros(count),
        shed_back_v=np.zeros(count),
        fridge=np.full(count, -1, np.int64),
        has_cutoff=False,
        open_v=0.0,
        close_v=0.0,
    )
    return plain._replace(**changes)


def fridges(count=0, **changes):
    """Cabinets of 1 W/K held at 5 degC."""
    plain = tables.FridgeTable(
        set_degc=np.full(count, 5.0),
        capacity_wh_per_k=np.full(count, 12.0),
        ice_wh=np.zeros(count),
        running_w=np.full(count, 60.0),
        carnot_frac=np.full(count, 0.3),
        evaporator_below_k=np.full(count, 10.0),
        condenser_above_k=np.full(count, 15.0),
    )
    return plain._replace(**changes)


def steps(n_steps, *, on_w=(), duty=1.0, limit_a=(), available_w=(), n_fridges=0, **changes):
    """Quarter hours, everything constant, at 25 degC unless changed."""
    power = np.tile(np.asarray(on_w, float), (n_steps, 1))
    plain = tables.StepTable(
        step_h=0.25,
        row=np.arange(n_steps),
        on_w=power,
        duty_frac=np.full(power.shape, duty),
        peak_w=power.copy(),
        long_w=np.zeros(power.shape),
        ac_w=np.zeros(power.shape),
        loss_w=np.zeros(power.shape),
        standby_w=np.zeros(n_steps),
        limit_a=np.tile(np.asarray(limit_a, float), (n_steps, 1)),
        available_w=np.tile(np.asarray(available_w, float), (n_steps, 1)),
        zone_degc=np.full(n_steps, 25.0),
        air_degc=np.full((n_steps, n_fridges), 30.0),
        leak_w_per_k=np.ones((n_steps, n_fridges)),
        is_used=np.ones((n_steps, n_fridges), np.bool_),
    )
    return plain._replace(**changes)


def sources(set_v=(), path_ohm=()):
    """Chargers."""
    return tables.SourceTable(set_v=np.asarray(set_v, float), path_ohm=np.asarray(path_ohm, float))


def run(bank, consumers, sources, fridges, steps, start_ah, *, start_degc=25.0):  # noqa: PLR0917
    """Run the kernel."""
    out = tables.empty_result(steps)
    active = tables.empty_active(
        consumers.kind.size, sources.set_v.size, fridges, start_ah=start_ah, start_degc=start_degc
    )
    kernel.run(bank, consumers, sources, fridges, steps, active, (0, steps.row.size), out)
    return out


def random_case(seed, *, n_days=2, strength=1.0, start_frac=None, chemistry="lfp", has_cutoff=True):
    """Everything at once: three kinds of load, a refrigerator with ice, chargers, cold nights, cut-offs."""
    rng = np.random.default_rng(seed)
    n_el, n_src, n = 6, 3, 96 * n_days
    hour = (np.arange(n) % 96) / 4.0
    on_w = rng.uniform(5.0, 400.0, n_el) * strength
    case_steps = steps(n, on_w=on_w, n_fridges=1)
    duty = np.where(rng.uniform(size=(n, n_el)) < 0.5, rng.uniform(0.0, 1.0, (n, n_el)), 0.0)
    duty[:, 0] = 1.0
    daylight = np.maximum(np.sin((hour - 6.0) / 12.0 * np.pi), 0.0)
    case_steps.on_w[:, 0] = 60.0
    ac_share = rng.uniform(0.5, 0.9)
    mean_w = duty[:, 5] * case_steps.on_w[:, 5]
    ac_w, loss_w = np.zeros((n, n_el)), np.zeros((n, n_el))
    ac_w[:, 5], loss_w[:, 5] = mean_w * ac_share, mean_w * (1.0 - ac_share)
    case_steps = case_steps._replace(
        duty_frac=duty,
        peak_w=np.where(duty > 0.0, case_steps.on_w * 1.5, 0.0),
        long_w=np.where(duty > 0.0, case_steps.on_w * (rng.uniform(size=n_el) < 0.3), 0.0),
        ac_w=ac_w,
        loss_w=loss_w,
        standby_w=np.full(n, rng.uniform(0.0, 3.0)),
        limit_a=np.column_stack([np.full(n, 20.0), 30.0 * (abs(hour - 9.0) < 1.0), np.full(n, 10.0)]),
        available_w=np.column_stack(
            [daylight * rng.uniform(0, 600), 400.0 * (abs(hour - 9.0) < 1.0), daylight * 100.0]
        ),
        zone_degc=rng.uniform(-15.0, 40.0) + 8.0 * daylight,
        air_degc=(rng.uniform(0.0, 40.0) + 8.0 * daylight)[:, None],
        is_used=(rng.uniform(size=(n, 1)) < 0.98),
    )
    case_bank = bank(
        chemistry=chemistry,
        resistance_ohm=rng.uniform(0.003, 0.03),
        efficiency_frac=rng.uniform(0.8, 1.0),
        self_discharge_a=0.01,
        acceptance_h=0.0 if chemistry == "lfp" else 2.0,
        available_frac=1.0 if chemistry == "lfp" else rng.uniform(0.2, 0.8),
        exchange_per_h=0.0 if chemistry == "lfp" else rng.uniform(0.1, 2.0),
        cold_loss_frac_per_k=0.008 if chemistry == "lfp" else 0.006,
        cutoff_v=10.4,
        reconnect_v=12.0,
        discharge_max_a=100.0,
        charge_max_v=14.6,
        charge_again_v=13.5,
        heater_w=float(rng.choice([0.0, 60.0])),
        heater_free_w=float(rng.choice([0.0, 30.0])),
    )
    case_consumers = consumers(
        n_el,
        kind=np.array([0, 0, 1, 2, 0, 0]),
        path_ohm=rng.uniform(0.0, 0.1, n_el),
        is_cut=np.array([True, True, True, True, False, False]),
        lock_v=np.array([10.5, 0.0, 0.0, 0.0, 0.0, 10.8]),
        unlock_v=np.array([11.6, 0.0, 0.0, 0.0, 0.0, 11.8]),
        shed_v=np.array([0.0, 0.0, 12.3, 12.3, 0.0, 0.0]),
        shed_back_v=np.array([0.0, 0.0, 13.0, 13.0, 0.0, 0.0]),
        fridge=np.array([0, -1, -1, -1, -1, -1]),
        has_cutoff=has_cutoff,
        open_v=11.8,
        close_v=12.8,
    )
    case_sources = sources(rng.uniform(13.5, 14.6, n_src), rng.uniform(0.001, 0.03, n_src))
    frac = rng.choice([0.0, 0.02, 0.3, 0.9, 1.0]) if start_frac is None else start_frac
    case_fridges = fridges(1, ice_wh=rng.choice([0.0, 200.0], 1))
    return case_bank, case_consumers, case_sources, case_fridges, case_steps, float(frac) * 100.0


if __name__ == "__main__":
    np.savez(sys.argv[1], **run(*random_case(int(sys.argv[2])), start_degc=1.0)._asdict())

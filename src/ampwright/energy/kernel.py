"""The step of the energy simulation, its books and the loop over steps.

Laws of single devices are in `physics`, the solution of a step in `bus`. The compiler's cache looks at this
file only: after a change in those two, delete the `*.nbi` files here; the test against plain Python tells.
Nothing may be allocated here (see `compiled`); scratch and state come in `ActiveTable`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.bus.kernel import battery_current_a, level_at_balance_ah, sagging_v, surplus_a
from ampwright.energy.compiled import compiled
from ampwright.energy.physics.kernel import (
    charge_after_ah,
    charger_a,
    coefficient_of_performance,
    cold_factor,
    consumer_a,
    fridge_step,
    level_span_h,
    piece_of,
    table_mean,
    table_value,
    wanted_cooling_w,
)
from ampwright.energy.tables import (
    ActiveTable,
    BankTable,
    ConsumerTable,
    FridgeTable,
    KernelResult,
    SourceTable,
    StepTable,
)

__all__ = ["run"]

RATED_DEGC = 20.0  # lead-acid is rated at this temperature (IEC 60896, second hand)

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
State = tuple[
    float, float, float, float, float, float, float, float, float, bool, bool, bool, bool, bool, int
]
"""Charge, level, level without current, its span, lowest level, guess, resistance, self-discharge, heater; flags; piece."""
Settled = tuple[float, float, float, float, float, float, int, float, bool, bool, bool]
"""Battery current, bus voltage, share of the chargers used, charge, level and voltage at the end, ..."""


@compiled(forceinline=True)
def heater_power_w(
    bank: BankTable, cell_degc: float, zone_degc: float, limits_a: Floats, available_w: Floats, step_h: float
) -> float:
    """Power of the cell heaters: up to the charging limit, and no more than what may feed them has."""
    if bank.heater_w <= 0.0 or cell_degc >= bank.heater_stop_degc:
        return 0.0
    spare_w = bank.heater_free_w
    for k in range(limits_a.size):
        spare_w += min(limits_a[k] * bank.table_v[0], available_w[k])
    keep = math.exp(-step_h / bank.lag_h)
    goal_degc = (bank.heater_stop_degc - cell_degc * keep) / (1.0 - keep)
    return max(min(bank.heater_w, bank.cooling_w_per_k * (goal_degc - zone_degc), spare_w), 0.0)


@compiled(forceinline=True)
def wanted_duty(
    t: int, steps: StepTable, fridges: FridgeTable, temp: Floats, ice: Floats, cop: Floats, duty: Floats
) -> None:
    """Fill in each refrigerator's coefficient of performance and the share of the step it wants to run."""
    for k in range(temp.size):
        air = steps.air_degc[t, k]
        below, above = fridges.evaporator_below_k[k], fridges.condenser_above_k[k]
        cop[k] = coefficient_of_performance(temp[k], air, fridges.carnot_frac[k], below, above)
        duty[k] = 0.0
        if steps.is_used[t, k]:
            cool_w = wanted_cooling_w(
                temp[k],
                ice[k],
                air,
                steps.leak_w_per_k[t, k],
                fridges.capacity_wh_per_k[k],
                fridges.set_degc[k],
                fridges.ice_wh[k],
                steps.step_h,
            )
            duty[k] = cool_w / (cop[k] * fridges.running_w[k])


@compiled(inline="always")
def duty_of(row: int, j: int, steps: StepTable, consumers: ConsumerTable, fridge_duty: Floats) -> float:
    """Share of the step a consumer wants to be on."""
    k = consumers.fridge[j]
    duty = steps.duty_frac[row, j]
    return float(min(duty, fridge_duty[k]) if k >= 0 else duty)


@compiled(forceinline=True)
def gather(
    t: int,
    steps: StepTable,
    consumers: ConsumerTable,
    fridge_duty: Floats,
    lock: Flags,
    shed: Flags,
    is_cut: bool,  # noqa: FBT001
    active: ActiveTable,
) -> tuple[int, bool]:
    """Collect the consumers that are on; their number, and whether a long peak lifts them over the mean."""
    count, is_long, row = 0, False, steps.row[t]
    for j in range(lock.size):
        duty = duty_of(row, j, steps, consumers, fridge_duty)
        if duty <= 0.0 or lock[j] or shed[j] or (is_cut and consumers.is_cut[j]):
            continue
        active.member[count], active.kind[count] = j, consumers.kind[j]
        active.power_w[count], active.duty_frac[count] = steps.on_w[row, j], duty
        active.path_ohm[count], active.peak_w[count] = consumers.path_ohm[j], steps.peak_w[row, j]
        mean_w = duty * steps.on_w[row, j]
        active.long_w[count] = max(steps.long_w[row, j], mean_w)
        is_long = is_long or steps.long_w[row, j] > mean_w
        count += 1
    return count, is_long


@compiled(forceinline=True)
def shed_low(v_end: float, consumers: ConsumerTable, active: ActiveTable, count: int, shed: Flags) -> bool:
    """Shed every consumer that goes before the others at this battery voltage; True if there was one."""
    flipped = False
    for i in range(count):
        j = active.member[i]
        if v_end < consumers.shed_v[j]:
            shed[j] = True
            flipped = True
    return flipped


@compiled(forceinline=True)
def lock_low(v_end: float, consumers: ConsumerTable, active: ActiveTable, count: int, lock: Flags) -> bool:
    """Lock every consumer whose own terminal voltage is below its limit; True if there was one."""
    flipped = False
    for i in range(count):
        j = active.member[i]
        if consumers.lock_v[j] > 0.0:
            amp = consumer_a(
                active.kind[i], active.power_w[i], active.path_ohm[i], consumers.nominal_v, v_end
            )
            if v_end - amp * active.path_ohm[i] < consumers.lock_v[j]:
                lock[j] = True
                flipped = True
    return flipped


@compiled(forceinline=True)
def settle(
    t: int,
    state: State,
    bank: BankTable,
    consumers: ConsumerTable,
    sources: SourceTable,
    steps: StepTable,
    fridge_duty: Floats,
    lock: Flags,
    shed: Flags,
    active: ActiveTable,
) -> Settled:
    """Solve a step again and again until no cut-off changes: currents, voltages and the cut-offs' states."""
    q, level, rested, span_h, floor, guess, ohm, self_a, heat_w = state[:9]
    is_cut, is_open, is_over, is_cold, is_frozen, piece = state[9:]
    dt, nominal_v, limits_a, available_w = (
        steps.step_h,
        consumers.nominal_v,
        steps.limit_a[t],
        steps.available_w[t],
    )
    capacity = bank.table_ah[-1]
    accepted = 1.0 - math.exp(-dt / bank.acceptance_h) if bank.acceptance_h > 0.0 else 1.0
    full_a = accepted * max(capacity - q, 0.0) / (bank.efficiency_frac * dt)
    if span_h > dt:
        full_a = min(full_a, max((capacity - rested) / span_h + self_a, 0.0) / bank.efficiency_frac)
    top_v = 0.0
    for k in range(limits_a.size):
        if limits_a[k] > 0.0 and available_w[k] > 0.0:
            top_v = max(top_v, sources.set_v[k])
    amps, bus, used, end, v_end, sag_v, count, fixed_w = 0.0, 0.0, 1.0, level, 0.0, 0.0, 0, 0.0
    for _ in range(4 + 2 * lock.size):
        stopped = is_open or is_frozen
        count, is_long = 0, False
        if not stopped:
            count, is_long = gather(t, steps, consumers, fridge_duty, lock, shed, is_cut, active)
        fixed_w = 0.0 if stopped else steps.standby_w[steps.row[t]] + heat_w
        now = (level, rested, span_h, floor, self_a, ohm, fixed_w, piece)
        most_a = 0.0 if is_cold or is_over else full_a
        amps, bus, used, is_empty = battery_current_a(
            guess, most_a, bank, now, sources, limits_a, available_w, active, count, nominal_v
        )
        end = min(max(charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h), 0.0), capacity)
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, piece, end)
        # Where the table is steep a mean over the step would overshoot the end of charge and ring about it.
        if amps > 0.0 and (
            surplus_a(rest_v, fixed_w, sources, limits_a, available_w, active, count, nominal_v) < 0.0
        ):
            end = level_at_balance_ah(
                min(level, rested),
                end,
                fixed_w,
                piece,
                bank,
                sources,
                limits_a,
                available_w,
                active,
                count,
                nominal_v,
            )
            most_a = max(((end - rested) / span_h + self_a) / bank.efficiency_frac, 0.0)
            amps, bus, used, is_empty = battery_current_a(
                guess, most_a, bank, now, sources, limits_a, available_w, active, count, nominal_v
            )
            end = min(max(charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h), 0.0), capacity)
            rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, piece, end)
        v_end = rest_v + amps * ohm
        if amps > 0.0:
            v_end = min(v_end, max(top_v, rest_v))
        sag_v = v_end
        may_cut = consumers.has_cutoff and not is_cut
        if may_cut and is_long:
            sag_v = min(v_end, sagging_v(rest_v, ohm, fixed_w, active, active.long_w, count, nominal_v))
        if amps > 0.0 and v_end > bank.charge_max_v and not is_over:
            is_over = True
        elif stopped:
            break
        elif shed_low(v_end, consumers, active, count, shed):
            continue
        elif may_cut and (sag_v < consumers.open_v or is_empty):
            is_cut = True
        elif lock_low(v_end, consumers, active, count, lock):
            continue
        elif is_empty or (amps < 0.0 and (v_end < bank.cutoff_v or -amps > bank.discharge_max_a)):
            is_open = True
        else:
            break
    q_end = min(max(charge_after_ah(q, amps, bank.efficiency_frac, self_a, dt), 0.0), capacity)
    return amps, bus, used, q_end, end, v_end, count, fixed_w, is_cut, is_open, is_over


@compiled(forceinline=True)
def book_sources(
    t: int, bus: float, used: float, sources: SourceTable, steps: StepTable, out: KernelResult
) -> None:
    """Enter what each charger gives and what its cable loses."""
    for k in range(sources.set_v.size):
        limit_a, available_w = steps.limit_a[t, k], steps.available_w[t, k]
        if limit_a > 0.0 and available_w > 0.0:
            path = sources.path_ohm[k]
            amp = used * charger_a(sources.set_v[k], path, limit_a, available_w, bus)
            out.source_w[t, k] = (bus + amp * path) * amp
            out.terms_wh[4] += amp * amp * path * steps.step_h
            out.wanted_charge_a[t] += charger_a(bus + 1e6, path, limit_a, available_w, bus)


@compiled(forceinline=True)
def book_consumers(
    t: int,
    bus: float,
    consumers: ConsumerTable,
    steps: StepTable,
    fridge_duty: Floats,
    active: ActiveTable,
    count: int,
    last_a: Floats,
    out: KernelResult,
) -> None:
    """Enter what each consumer takes, misses and loses in its cable."""
    dt, row = steps.step_h, steps.row[t]
    for j in range(last_a.size):
        duty = duty_of(row, j, steps, consumers, fridge_duty)
        out.missing_w[t, j] = duty * steps.on_w[row, j]
        out.is_unserved[t, j] = duty > 0.0
        last_a[j] = 0.0
    for i in range(count):
        j, duty, path, power = active.member[i], active.duty_frac[i], active.path_ohm[i], active.power_w[i]
        amp = consumer_a(active.kind[i], power, path, consumers.nominal_v, bus)
        taken = duty * max(bus - amp * path, 0.0) * amp
        out.consumer_w[t, j] = taken
        out.terms_wh[0] += steps.ac_w[row, j] * dt
        out.terms_wh[1] += steps.loss_w[row, j] * dt
        out.terms_wh[4] += duty * amp * amp * path * dt
        short = duty * power - taken if active.kind[i] == 0 else 0.0
        out.missing_w[t, j] = short if short > 1e-9 * power else 0.0
        out.is_unserved[t, j] = out.missing_w[t, j] > 0.0
        last_a[j] = amp


@compiled(forceinline=True)
def advance_fridges(
    t: int,
    fridges: FridgeTable,
    consumers: ConsumerTable,
    steps: StepTable,
    cop: Floats,
    temp: Floats,
    ice: Floats,
    out: KernelResult,
) -> None:
    """Carry each refrigerator through the step with the cooling its power gave."""
    for k in range(temp.size):
        capacity, set_degc, full = fridges.capacity_wh_per_k[k], fridges.set_degc[k], fridges.ice_wh[k]
        if steps.is_used[t, k]:
            cool_w = 0.0
            for j in range(consumers.fridge.size):
                if consumers.fridge[j] == k:
                    cool_w = out.consumer_w[t, j] * cop[k]
            air, leak = steps.air_degc[t, k], steps.leak_w_per_k[t, k]
            temp[k], ice[k], leaked_wh = fridge_step(
                temp[k], ice[k], cool_w, air, leak, capacity, set_degc, full, steps.step_h
            )
            if abs(temp[k] - set_degc) < 1e-10:
                temp[k] = set_degc
            out.fridge_wh[0, k] += leaked_wh
            out.fridge_wh[1, k] += cool_w * steps.step_h
        else:
            out.fridge_wh[2, k] += (set_degc - temp[k]) * capacity + ice[k] - full
            temp[k], ice[k] = set_degc, full
        out.fridge_degc[t, k], out.ice_wh[t, k] = temp[k], ice[k]


@compiled(forceinline=True)
def book_battery(
    charge: tuple[float, float, float, float, float, int],
    amps: float,
    ohm: float,
    self_a: float,
    bank: BankTable,
    step_h: float,
    out: KernelResult,
) -> None:
    """Enter the battery's losses and what it stored; what charge loses on its way inside counts as resistance."""
    q, level, rested, span_h, share, piece = charge
    after = charge_after_ah(q, amps, bank.efficiency_frac, self_a, step_h)
    level_after = charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h)
    open_v = table_mean(bank.table_ah, bank.table_v, bank.slopes, piece, level, level_after)
    moved_wh = open_v * (after - q)
    stored_wh = moved_wh
    if share < 1.0:
        bound, bound_after = (
            (q - share * level) / (1.0 - share),
            (after - share * level_after) / (1.0 - share),
        )
        bound_v = (
            table_mean(bank.table_ah, bank.table_v, bank.slopes, piece, bound, bound_after)
            if bound_after != bound
            else 0.0
        )
        stored_wh = share * open_v * (level_after - level) + (1.0 - share) * bound_v * (bound_after - bound)
    out.terms_wh[5] += amps * amps * ohm * step_h + moved_wh - stored_wh
    out.terms_wh[6] += open_v * (1.0 - bank.efficiency_frac) * max(amps, 0.0) * step_h
    out.terms_wh[7] += open_v * self_a * step_h
    out.terms_wh[8] += stored_wh


@compiled(nogil=True)
def run(
    bank: BankTable,
    consumers: ConsumerTable,
    sources: SourceTable,
    fridges: FridgeTable,
    steps: StepTable,
    active: ActiveTable,
    span: tuple[int, int],
    out: KernelResult,
) -> None:
    """Run the steps from the first of `span` to before the second and fill in the result.

    `active` is fresh from `empty_active`, or as the step before left it.
    """
    dt, nominal_v = steps.step_h, consumers.nominal_v
    lock, shed, last_a = active.lock, active.shed, active.last_a
    temp, ice, cop, fridge_duty = active.temp_degc, active.ice_wh, active.cop, active.fridge_duty
    keep = math.exp(-dt / bank.lag_h)
    span_h, stays = (
        level_span_h(bank.available_frac, bank.exchange_per_h, dt),
        math.exp(-bank.exchange_per_h * dt),
    )
    q, level, cell, guess, last_v = (
        active.carried[0],
        active.carried[1],
        active.carried[2],
        active.carried[3],
        active.carried[4],
    )
    is_cut, is_open, is_over = active.is_off[0], active.is_off[1], active.is_off[2]
    if span[0] == 0:
        last_v = table_value(bank.table_ah, bank.table_v, bank.slopes, 0, q)
    out.charge_ah[span[0]] = q
    piece = 0
    for t in range(span[0], span[1]):
        is_cut = is_cut and last_v < consumers.close_v
        is_open = is_open and last_v < bank.reconnect_v
        is_over = is_over and last_v >= bank.charge_again_v
        for j in range(lock.size):
            terminal_v = last_v - last_a[j] * consumers.path_ohm[j]
            lock[j] = lock[j] and terminal_v < consumers.unlock_v[j]
            shed[j] = shed[j] and last_v < consumers.shed_back_v[j]
        ohm = bank.resistance_ohm * cold_factor(cell, bank.doubling_k)
        is_cold = cell < bank.charge_min_degc or cell > bank.charge_max_degc
        is_frozen = cell < bank.discharge_min_degc
        self_a = min(bank.self_discharge_a, q / dt)
        heat_w = heater_power_w(bank, cell, steps.zone_degc[t], steps.limit_a[t], steps.available_w[t], dt)
        wanted_duty(t, steps, fridges, temp, ice, cop, fridge_duty)
        rested = q + (level - q) * stays
        floor = bank.table_ah[-1] * min(bank.cold_loss_frac_per_k * max(RATED_DEGC - cell, 0.0), 1.0)
        now = (q, level, rested, span_h, floor, guess, ohm, self_a, heat_w)
        piece = piece_of(bank.table_ah, level, piece)
        state = (*now, is_cut, is_open, is_over, is_cold, is_frozen, piece)
        amps, bus, used, q_end, level_end, v_end, count, fixed_w, is_cut, is_open, is_over = settle(
            t, state, bank, consumers, sources, steps, fridge_duty, lock, shed, active
        )
        if is_open or is_frozen:
            heat_w = 0.0
        book_sources(t, bus, used, sources, steps, out)
        book_consumers(t, bus, consumers, steps, fridge_duty, active, count, last_a, out)
        out.terms_wh[2] += (fixed_w - heat_w) * dt
        out.terms_wh[3] += heat_w * dt
        book_battery((q, level, rested, span_h, bank.available_frac, piece), amps, ohm, self_a, bank, dt, out)
        advance_fridges(t, fridges, consumers, steps, cop, temp, ice, out)
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, piece, level_end)
        peak_v = rest_v
        if count > 0:
            peak_v = sagging_v(rest_v, ohm, fixed_w, active, active.peak_w, count, nominal_v)
        out.battery_v[t], out.end_v[t], out.low_v[t] = bus, v_end, min(v_end, peak_v)
        out.battery_a[t], out.peak_a[t] = amps, max(-amps, (rest_v - peak_v) / ohm, 0.0)
        out.cell_degc[t], out.heater_w[t] = cell, heat_w
        out.is_cut[t], out.is_open[t], out.is_blocked[t] = is_cut, is_open or is_frozen, is_cold or is_over
        goal = steps.zone_degc[t] + heat_w / bank.cooling_w_per_k
        cell = goal + (cell - goal) * keep
        q, level, last_v, guess = q_end, level_end, v_end, amps
        out.charge_ah[t + 1] = q
    active.carried[0], active.carried[1], active.carried[2] = q, level, cell
    active.carried[3], active.carried[4] = guess, last_v
    active.is_off[0], active.is_off[1], active.is_off[2] = is_cut, is_open, is_over

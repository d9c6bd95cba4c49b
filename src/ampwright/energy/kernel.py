"""The step of the energy simulation, its books and the loop over steps; of one run, or of several in lanes.

Laws of single devices are in `physics`, the solution of a step in `bus`, what it leaves in `books`. The compiler's
cache looks at this file only: after a change in those, delete the `*.nbi` files here; the test against plain Python
tells.
Nothing may be allocated here (see `compiled`); scratch and state come in `ActiveTable`.
"""

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.books.kernel import (
    advance_fridges,
    book_battery,
    book_consumers,
    book_sources,
    duty_of,
)
from ampwright.energy.bus.kernel import battery_current_a, level_at_balance_ah, sagging_v, surplus_a
from ampwright.energy.compiled import compiled
from ampwright.energy.lanes.values import (
    add1,
    all_of,
    any_of,
    in_lane,
    lane_count,
    lane_of,
    no,
    number,
    pick,
    put1,
    read1,
    read2,
)
from ampwright.energy.physics.kernel import (
    Piece,
    charge_after_ah,
    coefficient_of_performance,
    cold_factor,
    consumer_a,
    kept_frac,
    level_kept_frac,
    level_span_h,
    piece_at,
    piece_of,
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
    float, float, float, float, float, float, float, float, float, bool, bool, bool, bool, bool, int, Piece
]
"""Charge, level, level without current, its span, lowest level, guess, resistance, self-discharge, heater; flags; piece."""
Settled = tuple[float, float, float, float, float, float, int, bool, float, bool, bool, bool]
"""Battery current, bus voltage, share of the chargers used, charge, level and voltage at the end, ..."""


@compiled(forceinline=True)
def heater_power_w(bank: BankTable, cell_degc: float, zone_degc: float, spare_w: float, keep: float) -> float:
    """Power of the cell heaters: up to the charging limit, and no more than what may feed them has."""
    goal_degc = (bank.heater_stop_degc - cell_degc * keep) / (1.0 - keep)
    wanted_w = min(bank.heater_w, bank.cooling_w_per_k * (goal_degc - zone_degc))
    wanted_w = min(wanted_w, spare_w)
    is_on = (bank.heater_w > 0.0) & (cell_degc < bank.heater_stop_degc)
    return pick(is_on, max(wanted_w, 0.0), 0.0)


@compiled(forceinline=True)
def gather_sources(
    t: int, bank: BankTable, sources: SourceTable, steps: StepTable, active: ActiveTable
) -> tuple[int, float, float, float, float]:
    """Collect the chargers that can give; their number, current limit, rounding, highest voltage, power for heaters."""
    live = 0
    limit_a = noise_a = top_v = 0.0 * bank.resistance_ohm
    spare_w = bank.heater_free_w
    for k in range(sources.set_v.shape[0]):
        limit, power, set_v = (
            read2(steps.limit_a, t, k),
            read2(steps.available_w, t, k),
            read1(sources.set_v, k),
        )
        is_live = (limit > 0.0) & (power > 0.0)
        if any_of(is_live):
            path = read1(sources.path_ohm, k)
            active.source[live] = k
            put1(active.set_v, live, set_v)
            put1(active.source_ohm, live, path)
            put1(active.limit_a, live, pick(is_live, limit, 0.0))
            put1(active.available_w, live, pick(is_live, power, 0.0))
            limit_a += pick(is_live, limit, 0.0)
            noise_a = pick(is_live, max(noise_a, 4e-16 * set_v / path), noise_a)
            top_v = pick(is_live, max(top_v, set_v), top_v)
            live += 1
        spare_w += min(limit * read1(bank.table_v, 0), power)
    return live, limit_a, noise_a, top_v, spare_w


@compiled(forceinline=True)
def wanted_duty(
    t: int, steps: StepTable, fridges: FridgeTable, temp: Floats, ice: Floats, cop: Floats, duty: Floats
) -> None:
    """Fill in each refrigerator's coefficient of performance and the share of the step it wants to run."""
    for k in range(temp.shape[0]):
        air, leak, cabinet = read2(steps.air_degc, t, k), read2(steps.leak_w_per_k, t, k), read1(temp, k)
        left, full, set_degc = read1(ice, k), read1(fridges.ice_wh, k), read1(fridges.set_degc, k)
        below, above = read1(fridges.evaporator_below_k, k), read1(fridges.condenser_above_k, k)
        performance = coefficient_of_performance(cabinet, air, read1(fridges.carnot_frac, k), below, above)
        cool_w = max(leak * (air - set_degc) + (full - left) / steps.step_h, 0.0)
        is_set = cabinet == set_degc
        if not all_of(is_set):
            for lane in range(lane_count(cabinet)):
                if not lane_of(is_set, lane):
                    wanted_w = wanted_cooling_w(
                        lane_of(cabinet, lane),
                        lane_of(air, lane),
                        lane_of(leak, lane),
                        lane_of(read1(fridges.capacity_wh_per_k, k), lane),
                        lane_of(set_degc, lane),
                        steps.step_h,
                    )
                    cool_w = in_lane(cool_w, lane, wanted_w)
        share = cool_w / (performance * read1(fridges.running_w, k))
        put1(cop, k, performance)
        put1(duty, k, pick(read2(steps.is_used, t, k), share, 0.0))


@compiled(forceinline=True)
def gather(
    row: int,
    is_running: bool,  # noqa: FBT001
    steps: StepTable,
    consumers: ConsumerTable,
    fridge_duty: Floats,
    lock: Flags,
    shed: Flags,
    is_cut: bool,  # noqa: FBT001
    active: ActiveTable,
) -> tuple[int, bool, bool]:
    """Collect the consumers that are on; their number, whether any is, whether a long peak lifts one over its mean."""
    count, is_any, is_long = 0, False & is_cut, False & is_cut
    for j in range(lock.shape[0]):
        duty = duty_of(row, j, steps, consumers, fridge_duty)
        is_on = (
            is_running & (duty > 0.0) & no(read1(lock, j) | read1(shed, j) | (is_cut & consumers.is_cut[j]))
        )
        if not any_of(is_on):
            continue
        power_w, long_w = read2(steps.on_w, row, j), read2(steps.long_w, row, j)
        mean_w = duty * power_w
        active.member[count], active.kind[count] = j, consumers.kind[j]
        put1(active.power_w, count, pick(is_on, power_w, 0.0))
        put1(active.duty_frac, count, pick(is_on, duty, 0.0))
        put1(active.path_ohm, count, read1(consumers.path_ohm, j))
        put1(active.peak_w, count, pick(is_on, read2(steps.peak_w, row, j), 0.0))
        put1(active.long_w, count, pick(is_on, max(long_w, mean_w), 0.0))
        is_any = is_any | is_on
        is_long = is_long | (is_on & (long_w > mean_w))
        count += 1
    return count, is_any, is_long


@compiled(forceinline=True)
def shed_low(
    v_end: float,
    may_shed: bool,  # noqa: FBT001
    consumers: ConsumerTable,
    active: ActiveTable,
    count: int,
    shed: Flags,
) -> bool:
    """Shed every consumer that goes before the others at this battery voltage; True if there was one."""
    flipped = False & may_shed
    for i in range(count):
        j = active.member[i]
        is_low = may_shed & (read1(active.duty_frac, i) > 0.0) & (v_end < read1(consumers.shed_v, j))
        if any_of(is_low):
            put1(shed, j, read1(shed, j) | is_low)
            flipped = flipped | is_low
    return flipped


@compiled(forceinline=True)
def lock_low(
    v_end: float,
    may_lock: bool,  # noqa: FBT001
    consumers: ConsumerTable,
    active: ActiveTable,
    count: int,
    lock: Flags,
) -> bool:
    """Lock every consumer whose own terminal voltage is below its limit; True if there was one."""
    flipped = False & may_lock
    for i in range(count):
        j = active.member[i]
        limit_v, path = read1(consumers.lock_v, j), read1(active.path_ohm, i)
        has_limit = may_lock & (read1(active.duty_frac, i) > 0.0) & (limit_v > 0.0)
        if any_of(has_limit):
            amp = consumer_a(active.kind[i], read1(active.power_w, i), path, consumers.nominal_v, v_end)
            is_low = has_limit & (v_end - amp * path < limit_v)
            put1(lock, j, read1(lock, j) | is_low)
            flipped = flipped | is_low
    return flipped


@compiled(forceinline=True)
def settle(
    row: int,
    state: State,
    chargers: tuple[int, float, float, float],
    accepted: float,
    bank: BankTable,
    consumers: ConsumerTable,
    steps: StepTable,
    fridge_duty: Floats,
    lock: Flags,
    shed: Flags,
    active: ActiveTable,
) -> Settled:
    """Solve a step again and again until no cut-off changes: currents, voltages and the cut-offs' states.

    A lane that has settled comes to the same again while the others go on.
    """
    q, level, rested, span_h, floor, guess, ohm, self_a, heat_w = state[:9]
    is_cut, is_open, is_over, is_cold, is_frozen, lowest, piece = state[9:]
    live, limit_a, noise_a, top_v = chargers
    dt, nominal_v = steps.step_h, consumers.nominal_v
    capacity = read1(bank.table_ah, bank.table_ah.shape[0] - 1)
    full_a = accepted * max(capacity - q, 0.0) / (bank.efficiency_frac * dt)
    slower_a = max((capacity - rested) / span_h + self_a, 0.0) / bank.efficiency_frac
    full_a = pick(span_h > dt, min(full_a, slower_a), full_a)
    count, is_any = 0, False & is_cut
    amps = bus = used = end = v_end = fixed_w = 0.0 * q
    for _ in range(4 + 2 * lock.shape[0]):
        stopped = is_open | is_frozen
        count, is_any, is_long = gather(
            row, no(stopped), steps, consumers, fridge_duty, lock, shed, is_cut, active
        )
        fixed_w = pick(stopped, 0.0, read1(steps.standby_w, row) + heat_w)
        now = (level, rested, span_h, floor, self_a, ohm, fixed_w, lowest, piece)
        most_a = pick(is_cold | is_over, 0.0, full_a)
        limits = (limit_a, noise_a)
        amps, bus, used, is_empty = battery_current_a(
            guess, most_a, limits, bank, now, active, live, count, nominal_v
        )
        end = min(max(charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h), 0.0), capacity)
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, end)
        # Where the table is steep a mean over the step would overshoot the end of charge and ring about it.
        is_beyond = amps > 0.0
        if any_of(is_beyond):
            is_beyond = is_beyond & (surplus_a(rest_v, fixed_w, active, live, count, nominal_v) < 0.0)
            if any_of(is_beyond):
                balanced = level_at_balance_ah(end, is_beyond, bank, now, active, live, count, nominal_v)
                balance_a = max(((balanced - rested) / span_h + self_a) / bank.efficiency_frac, 0.0)
                most_a = pick(is_beyond, balance_a, most_a)
                amps, bus, used, is_empty = battery_current_a(
                    guess, most_a, limits, bank, now, active, live, count, nominal_v
                )
                end = charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h)
                end = min(max(end, 0.0), capacity)
                rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, end)
        v_end = rest_v + amps * ohm
        v_end = pick(amps > 0.0, min(v_end, max(top_v, rest_v)), v_end)
        sag_v = v_end
        may_cut = no(is_cut) & consumers.has_cutoff
        if any_of(may_cut & is_long):
            long_v = sagging_v(rest_v, ohm, fixed_w, active, active.long_w, count, nominal_v)
            sag_v = pick(may_cut & is_long, min(v_end, long_v), v_end)
        over = (amps > 0.0) & (v_end > bank.charge_max_v) & no(is_over)
        left = no(stopped | over)
        is_over = is_over | over
        flipped = shed_low(v_end, left, consumers, active, count, shed)
        left = left & no(flipped)
        cuts = left & may_cut & ((sag_v < number(consumers.open_v)) | is_empty)
        left = left & no(cuts)
        is_cut = is_cut | cuts
        locked = lock_low(v_end, left, consumers, active, count, lock)
        is_beyond = (amps < 0.0) & ((v_end < bank.cutoff_v) | (-amps > bank.discharge_max_a))
        opens = left & no(locked) & (is_empty | is_beyond)
        is_open = is_open | opens
        if not any_of(over | flipped | cuts | locked | opens):
            break
    q_end = min(max(charge_after_ah(q, amps, bank.efficiency_frac, self_a, dt), 0.0), capacity)
    return amps, bus, used, q_end, end, v_end, count, is_any, fixed_w, is_cut, is_open, is_over


@compiled(inline="always")
def numbers_of(bank: BankTable) -> BankTable:
    """Return a bank with its figures ready for reckoning, in lanes where they come as such."""
    return BankTable(
        bank.table_ah,
        bank.table_v,
        bank.slopes,
        number(bank.rated_ah),
        number(bank.resistance_ohm),
        number(bank.doubling_k),
        number(bank.efficiency_frac),
        number(bank.self_discharge_a),
        number(bank.acceptance_h),
        number(bank.available_frac),
        number(bank.exchange_per_h),
        number(bank.cold_loss_frac_per_k),
        number(bank.cutoff_v),
        number(bank.reconnect_v),
        number(bank.discharge_max_a),
        number(bank.discharge_min_degc),
        number(bank.charge_max_v),
        number(bank.charge_again_v),
        number(bank.charge_min_degc),
        number(bank.charge_max_degc),
        number(bank.heater_w),
        number(bank.heater_free_w),
        number(bank.heater_stop_degc),
        number(bank.cooling_w_per_k),
        number(bank.lag_h),
    )


@compiled(nogil=True)
def run(
    bank_table: BankTable,
    consumers: ConsumerTable,
    sources: SourceTable,
    fridges: FridgeTable,
    steps: StepTable,
    active: ActiveTable,
    span: tuple[int, int],
    out: KernelResult,
) -> None:
    """Run the steps from the first of `span` to before the second and fill in the result.

    `active` is fresh from `empty_active`, or as the step before left it. In lanes every table has one axis more.
    """
    bank = numbers_of(bank_table)
    dt, nominal_v = steps.step_h, consumers.nominal_v
    lock, shed, last_a = active.lock, active.shed, active.last_a
    temp, ice, cop, fridge_duty = active.temp_degc, active.ice_wh, active.cop, active.fridge_duty
    keep = kept_frac(bank.lag_h, dt)
    span_h, stays = (
        level_span_h(bank.available_frac, bank.exchange_per_h, dt),
        level_kept_frac(bank.exchange_per_h, dt),
    )
    accepted = 1.0 - kept_frac(bank.acceptance_h, dt)
    q, level, cell, guess, last_v = (
        read1(active.carried, 0),
        read1(active.carried, 1),
        read1(active.carried, 2),
        read1(active.carried, 3),
        read1(active.carried, 4),
    )
    is_cut, is_open, is_over = read1(active.is_off, 0), read1(active.is_off, 1), read1(active.is_off, 2)
    lowest = piece_of(bank.table_ah, level, 0)
    if span[0] == 0:
        piece = piece_at(bank.table_ah, bank.table_v, bank.slopes, lowest, level)
        last_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, q)
    put1(out.charge_ah, span[0], q)
    for t in range(span[0], span[1]):
        row = steps.row[t]
        is_cut = is_cut & (last_v < number(consumers.close_v))
        is_open = is_open & (last_v < bank.reconnect_v)
        is_over = is_over & (last_v >= bank.charge_again_v)
        for j in range(lock.shape[0]):
            terminal_v = last_v - read1(last_a, j) * read1(consumers.path_ohm, j)
            put1(lock, j, read1(lock, j) & (terminal_v < read1(consumers.unlock_v, j)))
            put1(shed, j, read1(shed, j) & (last_v < read1(consumers.shed_back_v, j)))
        ohm = bank.resistance_ohm * cold_factor(cell, bank.doubling_k)
        is_cold = (cell < bank.charge_min_degc) | (cell > bank.charge_max_degc)
        is_frozen = cell < bank.discharge_min_degc
        self_a = min(bank.self_discharge_a, q / dt)
        zone = read1(steps.zone_degc, t)
        live, limit_a, noise_a, top_v, spare_w = gather_sources(t, bank, sources, steps, active)
        heat_w = heater_power_w(bank, cell, zone, spare_w, keep)
        wanted_duty(t, steps, fridges, temp, ice, cop, fridge_duty)
        rested = q + (level - q) * stays
        cold_frac = min(bank.cold_loss_frac_per_k * max(RATED_DEGC - cell, 0.0), 1.0)
        floor = read1(bank.table_ah, bank.table_ah.shape[0] - 1) * cold_frac
        lowest = piece_of(bank.table_ah, level, lowest)
        piece = piece_at(bank.table_ah, bank.table_v, bank.slopes, lowest, level)
        now = (q, level, rested, span_h, floor, guess, ohm, self_a, heat_w)
        state = (*now, is_cut, is_open, is_over, is_cold, is_frozen, lowest, piece)
        chargers = (live, limit_a, noise_a, top_v)
        amps, bus, used, q_end, level_end, v_end, count, is_any, fixed_w, is_cut, is_open, is_over = settle(
            row, state, chargers, accepted, bank, consumers, steps, fridge_duty, lock, shed, active
        )
        is_stopped = is_open | is_frozen
        heat_w = pick(is_stopped, 0.0, heat_w)
        book_sources(t, bus, used, live, dt, active, out)
        book_consumers(t, row, bus, consumers, steps, fridge_duty, active, count, last_a, out)
        add1(out.terms_wh, 2, (fixed_w - heat_w) * dt)
        add1(out.terms_wh, 3, heat_w * dt)
        charge = (q, level, rested, span_h, bank.available_frac, lowest, piece)
        book_battery(charge, amps, ohm, self_a, bank, dt, out)
        advance_fridges(t, fridges, consumers, steps, cop, temp, ice, out)
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, level_end)
        peak_v = rest_v
        if count > 0:
            sag_v = sagging_v(rest_v, ohm, fixed_w, active, active.peak_w, count, nominal_v)
            peak_v = pick(is_any, sag_v, rest_v)
        put1(out.battery_v, t, bus)
        put1(out.end_v, t, v_end)
        put1(out.low_v, t, min(v_end, peak_v))
        put1(out.battery_a, t, amps)
        peak_a = max(-amps, (rest_v - peak_v) / ohm)
        put1(out.peak_a, t, max(peak_a, 0.0))
        put1(out.cell_degc, t, cell)
        put1(out.heater_w, t, heat_w)
        put1(out.is_cut, t, is_cut)
        put1(out.is_open, t, is_stopped)
        put1(out.is_blocked, t, is_cold | is_over)
        goal = zone + heat_w / bank.cooling_w_per_k
        cell = goal + (cell - goal) * keep
        q, level, last_v, guess = q_end, level_end, v_end, amps
        put1(out.charge_ah, t + 1, q)
    put1(active.carried, 0, q)
    put1(active.carried, 1, level)
    put1(active.carried, 2, cell)
    put1(active.carried, 3, guess)
    put1(active.carried, 4, last_v)
    put1(active.is_off, 0, is_cut)
    put1(active.is_off, 1, is_open)
    put1(active.is_off, 2, is_over)

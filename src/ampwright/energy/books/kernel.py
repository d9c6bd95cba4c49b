"""What a step of the energy simulation leaves in the result: sources, consumers, refrigerators, battery."""

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled
from ampwright.energy.lanes.values import (
    add1,
    add2,
    all_of,
    any_of,
    in_lane,
    lane_count,
    lane_of,
    no,
    pick,
    put1,
    put2,
    read1,
    read2,
)
from ampwright.energy.physics.kernel import (
    HELD_K,
    Piece,
    charge_after_ah,
    charger_a,
    consumer_a,
    fridge_step,
    piece_at,
    piece_of,
    table_mean,
)
from ampwright.energy.tables import (
    ActiveTable,
    BankTable,
    ConsumerTable,
    FridgeTable,
    KernelResult,
    StepTable,
)

__all__ = ["advance_fridges", "book_battery", "book_consumers", "book_sources", "duty_of"]

Floats = NDArray[np.float64]


@compiled(inline="always")
def duty_of(row: int, j: int, steps: StepTable, consumers: ConsumerTable, fridge_duty: Floats) -> float:
    """Share of the step a consumer wants to be on."""
    k = consumers.fridge[j]
    duty: float = read2(steps.duty_frac, row, j)
    if k >= 0:
        duty = min(duty, read1(fridge_duty, k))
    return duty


@compiled(forceinline=True)
def book_sources(
    t: int, bus: float, used: float, live: int, step_h: float, active: ActiveTable, out: KernelResult
) -> None:
    """Enter what each charger gives and what its cable loses."""
    lost_w = wanted_a = 0.0 * bus
    for i in range(live):
        limit_a, available_w = read1(active.limit_a, i), read1(active.available_w, i)
        path = read1(active.source_ohm, i)
        amp = used * charger_a(read1(active.set_v, i), path, limit_a, available_w, bus)
        put2(out.source_w, t, active.source[i], (bus + amp * path) * amp)
        lost_w += amp * amp * path
        wanted_a += charger_a(bus + 1e6, path, limit_a, available_w, bus)
    add1(out.terms_wh, 4, lost_w * step_h)
    put1(out.wanted_charge_a, t, wanted_a)


@compiled(forceinline=True)
def book_consumers(
    t: int,
    row: int,
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
    dt = steps.step_h
    for j in range(last_a.shape[0]):
        duty = duty_of(row, j, steps, consumers, fridge_duty)
        wants = duty > 0.0
        put1(last_a, j, 0.0)
        put2(out.is_unserved, t, j, wants)
        if any_of(wants):
            put2(out.missing_w, t, j, duty * read2(steps.on_w, row, j))
    ac_w = loss_w = cable_w = 0.0 * bus
    for i in range(count):
        j, duty, path, power = (
            active.member[i],
            read1(active.duty_frac, i),
            read1(active.path_ohm, i),
            read1(active.power_w, i),
        )
        is_on = duty > 0.0
        amp = consumer_a(active.kind[i], power, path, consumers.nominal_v, bus)
        taken = duty * max(bus - amp * path, 0.0) * amp
        put2(out.consumer_w, t, j, taken)
        ac_w += pick(is_on, read2(steps.ac_w, row, j), 0.0)
        loss_w += pick(is_on, read2(steps.loss_w, row, j), 0.0)
        cable_w += duty * amp * amp * path
        short = duty * power - taken if active.kind[i] == 0 else 0.0 * taken
        short = pick(short > 1e-9 * power, short, 0.0)
        put2(out.missing_w, t, j, pick(is_on, short, read2(out.missing_w, t, j)))
        put2(out.is_unserved, t, j, pick(is_on, short > 0.0, read2(out.is_unserved, t, j)))
        put1(last_a, j, amp)
    add1(out.terms_wh, 0, ac_w * dt)
    add1(out.terms_wh, 1, loss_w * dt)
    add1(out.terms_wh, 4, cable_w * dt)


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
    dt = steps.step_h
    for k in range(temp.shape[0]):
        capacity, set_degc = read1(fridges.capacity_wh_per_k, k), read1(fridges.set_degc, k)
        full, is_used = read1(fridges.ice_wh, k), read2(steps.is_used, t, k)
        cabinet, left = read1(temp, k), read1(ice, k)
        cool_w = 0.0 * cabinet
        for j in range(consumers.fridge.size):
            if consumers.fridge[j] == k:
                cool_w = pick(is_used, read2(out.consumer_w, t, j) * read1(cop, k), 0.0)
        air, leak = read2(steps.air_degc, t, k), read2(steps.leak_w_per_k, t, k)
        held_w = leak * (air - set_degc)
        is_held = (cabinet == set_degc) & (abs(held_w - cool_w) * dt <= HELD_K * capacity)
        leaked_wh = pick(is_used, held_w * dt, 0.0)
        is_away = no(is_used)
        if any_of(is_away):
            reset_wh = (set_degc - cabinet) * capacity + left - full
            add2(out.fridge_wh, 2, k, pick(is_away, reset_wh, 0.0))
            cabinet, left = pick(is_away, set_degc, cabinet), pick(is_away, full, left)
        is_done = is_held | is_away
        if not all_of(is_done):
            for lane in range(lane_count(cabinet)):
                if not lane_of(is_done, lane):
                    degc, ice_wh, gained_wh = fridge_step(
                        lane_of(cabinet, lane),
                        lane_of(left, lane),
                        lane_of(cool_w, lane),
                        lane_of(air, lane),
                        lane_of(leak, lane),
                        lane_of(capacity, lane),
                        lane_of(set_degc, lane),
                        lane_of(full, lane),
                        dt,
                    )
                    cabinet, left = in_lane(cabinet, lane, degc), in_lane(left, lane, ice_wh)
                    leaked_wh = in_lane(leaked_wh, lane, gained_wh)
            cabinet = pick(abs(cabinet - set_degc) < 1e-10, set_degc, cabinet)
        add2(out.fridge_wh, 0, k, leaked_wh)
        add2(out.fridge_wh, 1, k, cool_w * dt)
        put1(temp, k, cabinet)
        put1(ice, k, left)
        put2(out.fridge_degc, t, k, cabinet)
        put2(out.ice_wh, t, k, left)


@compiled(forceinline=True)
def book_battery(
    charge: tuple[float, float, float, float, float, int, Piece],
    amps: float,
    ohm: float,
    self_a: float,
    bank: BankTable,
    step_h: float,
    out: KernelResult,
) -> None:
    """Enter the battery's losses and what it stored; what charge loses on its way inside counts as resistance."""
    q, level, rested, span_h, share, lowest, piece = charge
    after = charge_after_ah(q, amps, bank.efficiency_frac, self_a, step_h)
    level_after = charge_after_ah(rested, amps, bank.efficiency_frac, self_a, span_h)
    open_v = table_mean(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, level, level_after)
    moved_wh = open_v * (after - q)
    stored_wh = moved_wh
    if any_of(share < 1.0):
        bound, bound_after = (
            (q - share * level) / (1.0 - share),
            (after - share * level_after) / (1.0 - share),
        )
        low = piece_of(bank.table_ah, bound, lowest)
        at = piece_at(bank.table_ah, bank.table_v, bank.slopes, low, bound)
        bound_v = table_mean(bank.table_ah, bank.table_v, bank.slopes, low, at, bound, bound_after)
        bound_wh = pick(bound_after != bound, bound_v * (bound_after - bound), 0.0)
        stored_wh = share * open_v * (level_after - level) + (1.0 - share) * bound_wh
    add1(out.terms_wh, 5, amps * amps * ohm * step_h + moved_wh - stored_wh)
    add1(out.terms_wh, 6, open_v * (1.0 - bank.efficiency_frac) * max(amps, 0.0) * step_h)
    add1(out.terms_wh, 7, open_v * self_a * step_h)
    add1(out.terms_wh, 8, stored_wh)

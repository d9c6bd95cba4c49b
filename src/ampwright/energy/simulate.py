"""Energy over the days of a use: Design and sun -> EnergyResult.

Prepares arrays per day plan and lays them over the days; the physics is in `kernel`. How long the
battery lasts without charging is in `endurance`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries
from ampwright.energy.alternator import (
    AlternatorState,
    alternator_rows,
    alternator_states,
    relay_rows,
    with_reach,
)
from ampwright.energy.bank import bank_table, charge_at_ah, rest_v, soc_at_frac
from ampwright.energy.calendar import Calendar
from ampwright.energy.charger_row import ChargerRow
from ampwright.energy.consumers import Consumers, consumers_of, standby_by_plan_w
from ampwright.energy.direct_alternator import direct_rows
from ampwright.energy.frame import Frame, frame_of
from ampwright.energy.fridges import FridgeSteps, fridge_steps, fridge_table
from ampwright.energy.mains import has_transfer, mains_rows
from ampwright.energy.panels import panel_rows
from ampwright.energy.result import EnergyLedger, EnergyResult, summed
from ampwright.energy.returns import return_rows, with_returns
from ampwright.energy.tables import (
    ActiveTable,
    BankTable,
    ConsumerTable,
    FridgeTable,
    KernelResult,
    SourceTable,
    StepTable,
    empty_active,
    empty_result,
)
from ampwright.errors import BooksError
from ampwright.job.design import Design
from ampwright.job.design_leg import leg_of_day
from ampwright.records import record

__all__ = [
    "LONG_DAYS",
    "EnergyModel",
    "energy_model",
    "energy_result",
    "energy_results",
    "kernel_tables",
    "run_model",
]

Array = NDArray[np.float64]
LONG_DAYS = 60
"""Uses of so many days gain by lanes and threads; of shorter ones Python's own part is too large."""
BOOKS_REL, BOOKS_WH = 1e-6, 1e-6
USUAL_V = 100.0
"""What the books of a run may miss, of what moved and beside it; rounding leaves a thousandth of it."""


@record
class EnergyModel:
    """Everything one run needs, as arrays."""

    frame: Frame
    """Design, sun, time axis, schedules, wiring, air."""
    bank: BankTable
    """The battery."""
    consumers: Consumers
    """Loads and inverters."""
    fridges: FridgeSteps
    """What refrigerators see."""
    chargers: tuple[ChargerRow, ...]
    """All chargers."""
    alternator: tuple[AlternatorState, ...]
    """Balance of the alternator."""
    steps: StepTable
    """Per-step tables."""


def energy_result(
    design: Design, sun: SunSeries, *, path_ohm: Array, box_air: Mapping[int, Array] | None = None
) -> EnergyResult:
    """Return the energy study of a use.

    Parameters
    ----------
    sun : one typical day, repeated over the use, or all days of the use.
    path_ohm : loop resistance from the root of each node's tree at working temperature (n_nodes,); NaN
        where nothing feeds it.
    box_air : air around and inside each enclosure by its part (2, n_points); absent = as hot as its zone.

    Raises
    ------
    BooksError
        Where the books of the run do not close.
    """
    model = energy_model(design, sun, path_ohm=path_ohm, box_air=box_air)
    return _checked(model, run_model(model, start_frac=design.start_soc_frac))


def energy_results(
    cases: Sequence[tuple[Design, SunSeries]],
    *,
    path_ohm: Array,
    box_air: Mapping[int, Array] | None = None,
) -> Iterator[EnergyResult]:
    """Yield the energy study of several uses, each as alone; long ones are run side by side in the processor's lanes.

    Parameters
    ----------
    cases : design and sun of each; what goes side by side best differs in numbers only.
    path_ohm, box_air : as for one, the same for all.
    """
    models = [energy_model(design, sun, path_ohm=path_ohm, box_air=box_air) for design, sun in cases]
    starts = [design.start_soc_frac for design, _ in cases]
    pairs = list(zip(models, starts, strict=True))
    if len(models) > 1 and all(model.frame.calendar.day_count >= LONG_DAYS for model in models):
        from ampwright.energy.lanes.runs import run_all  # noqa: PLC0415 - the compiler is heavy

        outs = run_all([kernel_tables(model, start_frac=start) for model, start in pairs])
        for model in models:
            yield _checked(model, outs.pop(0))
        return
    for model, start in pairs:
        yield _checked(model, run_model(model, start_frac=start))


def _checked(model: EnergyModel, out: KernelResult) -> EnergyResult:
    result = _result(model, out)
    _check_books(result.ledger, most_v=max((row.set_v for row in model.chargers), default=0.0))
    return result


def _check_books(ledger: EnergyLedger, *, most_v: float) -> None:
    """Refuse a run whose books do not close; a set voltage beyond any battery's rounds more coarsely."""
    left_wh, moved_wh = ledger.imbalance_wh, ledger.throughput_wh
    coarse_factor = max(most_v / USUAL_V, 1.0)
    if not abs(left_wh) <= (BOOKS_REL * moved_wh + BOOKS_WH) * coarse_factor:
        raise BooksError(
            f"the energy books of a run miss {left_wh:.3g} of {moved_wh:.0f} Wh: a fault of the program, not of the job; "
            "please report it with the job file"
        )


def run_model(model: EnergyModel, *, start_frac: float) -> KernelResult:
    """Run the kernel over the model's steps from a state of charge."""
    from ampwright.energy import kernel  # noqa: PLC0415 - the compiler is heavy

    out = empty_result(model.steps)
    kernel.run(*kernel_tables(model, start_frac=start_frac), (0, model.steps.row.size), out)
    return out


def kernel_tables(
    model: EnergyModel, *, start_frac: float
) -> tuple[BankTable, ConsumerTable, SourceTable, FridgeTable, StepTable, ActiveTable]:
    """Return what the kernel takes for one run from a state of charge."""
    from ampwright.energy.physics.kernel import periodic_start  # noqa: PLC0415 - the compiler is heavy

    rows, consumers = model.chargers, model.consumers.table
    fridges = fridge_table(model.frame.design, model.consumers.fridges, model.consumers.load_frac)
    day = model.steps.zone_degc[: model.frame.calendar.steps_per_day]
    active = empty_active(
        consumers.kind.size,
        len(rows),
        fridges,
        start_ah=charge_at_ah(model.bank, start_frac),
        start_degc=periodic_start(day, model.steps.step_h, model.bank.lag_h),
    )
    sources = SourceTable(
        set_v=np.array([row.set_v for row in rows]), path_ohm=np.array([row.path_ohm for row in rows])
    )
    return model.bank, consumers, sources, fridges, model.steps, active


def energy_model(
    design: Design, sun: SunSeries, *, path_ohm: Array, box_air: Mapping[int, Array] | None = None
) -> EnergyModel:
    """Return the arrays of a run."""
    frame = frame_of(design, sun, path_ohm, box_air=box_air)
    calendar, schedule, air = frame.calendar, frame.schedule, frame.air
    bank = bank_table(design)
    consumers = with_returns(consumers_of(design, schedule, frame.wiring, path_ohm), return_rows(frame))
    fridges = fridge_steps(design, schedule, calendar, air, consumers.fridges)
    alternator = with_reach(frame, alternator_states(design, frame.wiring, path_ohm))
    chargers = (
        *panel_rows(frame, rest_v=rest_v(design, 0.5)),
        *alternator_rows(frame, alternator),
        *relay_rows(frame, alternator),
        *direct_rows(frame, alternator),
        *mains_rows(frame),
    )
    return EnergyModel(
        frame=frame,
        bank=bank,
        consumers=consumers,
        fridges=fridges,
        chargers=chargers,
        alternator=alternator,
        steps=StepTable(
            step_h=calendar.step_h,
            row=calendar.row_of_step,
            on_w=_rows(consumers.on_w),
            duty_frac=_rows(consumers.duty_frac),
            peak_w=_rows(consumers.peak_w),
            long_w=_rows(consumers.long_w),
            ac_w=_rows(_of_inverters(consumers, "ac_w")),
            loss_w=_rows(_of_inverters(consumers, "loss_w")),
            standby_w=standby_by_plan_w(design, schedule).reshape(-1),
            limit_a=_columns([row.limit_a for row in chargers], calendar),
            available_w=_columns([row.available_w for row in chargers], calendar),
            zone_degc=np.ascontiguousarray(frame.air_degc(design.parts[design.battery])),
            air_degc=fridges.air_degc,
            leak_w_per_k=fridges.leak_w_per_k,
            is_used=fridges.is_used,
        ),
    )


def _rows(values: Array) -> Array:
    """Return values per plan and step of the day with both in one axis."""
    return np.ascontiguousarray(values).reshape(values.shape[0] * values.shape[1], values.shape[2])


def _of_inverters(consumers: Consumers, name: str) -> Array:
    values = np.zeros_like(consumers.duty_frac)
    for column, demand in enumerate(consumers.demands, start=len(consumers.loads)):
        values[:, :, column] = getattr(demand, name)
    return values


def _columns(rows: list[Array], calendar: Calendar) -> Array:
    n_steps = calendar.day_count * calendar.steps_per_day
    return np.ascontiguousarray(np.array(rows).T) if rows else np.zeros((n_steps, 0))


@record
class LoadCourse:
    """What each load got and missed; (n_steps, n_loads)."""

    battery_w: Array
    """From the battery's bus."""
    mains_w: Array
    """Straight from the mains."""
    unserved_w: Array
    """Wanted and not given."""
    is_unserved: NDArray[np.bool_]
    """True where something was missing."""


def _load_course(model: EnergyModel, out: KernelResult) -> LoadCourse:
    design, consumers, schedule = model.frame.design, model.consumers, model.frame.schedule
    column = {load: position for position, load in enumerate(consumers.loads)}
    inverter = {part: at for at, part in enumerate(consumers.inverters, start=len(consumers.loads))}
    at_vehicle = [load.index for load in design.loads if load.inverter < 0 and load.index not in column]
    chosen = np.array(
        [column.get(load.index, inverter.get(load.inverter, 0)) for load in design.loads], np.int64
    )
    arrives = np.array([consumers.load_frac.get(load.index, 1.0) for load in design.loads])
    shape = (out.battery_v.size, len(design.loads))
    battery, unserved, missing = np.zeros(shape), np.zeros(shape), np.zeros(shape, np.bool_)
    if consumers.table.kind.size:  # else everything hangs on the vehicle's side
        battery[:] = out.consumer_w[:, chosen] * arrives
        unserved[:] = out.missing_w[:, chosen] * arrives
        missing[:] = out.is_unserved[:, chosen]
    battery[:, at_vehicle], unserved[:, at_vehicle], missing[:, at_vehicle] = 0.0, 0.0, False
    mains = np.zeros_like(battery)
    for load in design.loads:
        if load.inverter < 0:
            continue
        duty, on_mains = schedule.duty_frac[:, :, load.index], schedule.mains_frac[:, :, load.index]
        if has_transfer(design, load.inverter):
            mains[:, load.index] = model.frame.calendar.by_plan(on_mains) * load.power_w
            duty = np.maximum(duty - on_mains, 0.0)
        wanted = model.frame.calendar.by_plan(duty) * load.power_w
        off = missing[:, load.index].copy()
        battery[:, load.index] = np.where(off, 0.0, wanted)
        unserved[:, load.index] = np.where(off, wanted, 0.0)
        missing[:, load.index] = off & (wanted > 0.0)
    return LoadCourse(battery_w=battery, mains_w=mains, unserved_w=unserved, is_unserved=missing)


def _beside_loads_wh(model: EnergyModel, out: KernelResult) -> tuple[float, float, float]:
    """Return what is lost in converters, in the cables behind them, and what flows back to the vehicle."""
    consumers = model.consumers
    taken_wh = summed(out.consumer_w) * model.steps.step_h
    load_count = len(consumers.loads)
    rows = consumers.rows[:load_count]
    loss = math.fsum(wh * row.loss_frac for wh, row in zip(taken_wh, rows, strict=False))
    cable = math.fsum(wh * row.cable_frac for wh, row in zip(taken_wh, rows, strict=False))
    first = load_count + len(consumers.inverters)
    last = first + consumers.converter_count
    return loss + math.fsum(taken_wh[first:last]), cable, math.fsum(taken_wh[last:])


def _ledger(model: EnergyModel, out: KernelResult, course: LoadCourse) -> EnergyLedger:
    step_h = model.steps.step_h
    given = summed(out.source_w) * step_h
    by_kind = {
        kind: math.fsum(wh for wh, row in zip(given, model.chargers, strict=True) if row.kind == kind)
        for kind in ("panel", "alternator", "mains")
    }
    loss = math.fsum(
        float(wh) * (1.0 / row.efficiency_frac - 1.0) for wh, row in zip(given, model.chargers, strict=True)
    )
    terms = out.terms_wh
    converter_wh, cable_wh, returned_wh = _beside_loads_wh(model, out)
    return EnergyLedger(
        panel_wh=by_kind["panel"],
        alternator_wh=by_kind["alternator"],
        mains_wh=by_kind["mains"],
        charger_loss_wh=loss,
        load_wh=summed(course.battery_w) * step_h,
        mains_load_wh=summed(course.mains_w) * step_h,
        inverter_loss_wh=float(terms[1]),
        standby_wh=float(terms[2]),
        heater_wh=float(terms[3]),
        cable_loss_wh=float(terms[4]) + cable_wh,
        battery_loss_wh=float(terms[5]),
        coulombic_loss_wh=float(terms[6]),
        self_discharge_wh=float(terms[7]),
        stored_change_wh=float(terms[8]),
        converter_loss_wh=converter_wh,
        returned_wh=returned_wh,
    )


def _result(model: EnergyModel, out: KernelResult) -> EnergyResult:
    calendar, consumers = model.frame.calendar, model.consumers
    steps = np.arange(out.battery_v.size)
    course = _load_course(model, out)
    set_v = np.array([row.set_v for row in model.chargers])
    return EnergyResult(
        steps_per_day=calendar.steps_per_day,
        day_of_step=steps // calendar.steps_per_day,
        minute_of_step=(steps % calendar.steps_per_day) * (1440 // calendar.steps_per_day),
        plan_of_step=np.repeat(calendar.plan_of_day, calendar.steps_per_day),
        soc_frac=soc_at_frac(model.bank, out.charge_ah),
        battery_v=out.battery_v,
        battery_low_v=out.low_v,
        battery_a=out.battery_a,
        battery_peak_a=out.peak_a,
        cell_degc=out.cell_degc,
        source_labels=tuple(row.label for row in model.chargers),
        source_kinds=tuple(row.kind for row in model.chargers),
        source_w=out.source_w,
        source_possible_w=np.minimum(model.steps.available_w, model.steps.limit_a * set_v),
        load_w=course.battery_w + course.mains_w,
        unserved_w=course.unserved_w,
        is_unserved=course.is_unserved,
        fridge_loads=consumers.fridges,
        fridge_degc=out.fridge_degc,
        fridge_ice_wh=out.ice_wh,
        fridge_air_degc=model.fridges.air_degc,
        fridge_leak_w_per_k=model.fridges.leak_w_per_k,
        fridge_is_used=model.fridges.is_used,
        fridge_heat_wh=out.fridge_wh,
        is_cut_off=out.is_cut,
        is_management_open=out.is_open,
        is_charge_blocked=out.is_blocked,
        inverter_parts=consumers.inverters,
        inverter_peak_w=_peaks(model, "ac_peak_w"),
        inverter_peak_va=_peaks(model, "ac_peak_va"),
        wanted_charge_a=out.wanted_charge_a,
        alternator=model.alternator,
        unconnected=model.frame.wiring.unconnected,
        ledger=_ledger(model, out, course),
        leg_of_day=leg_of_day(model.frame.design.legs),
        charge_min_degc=model.bank.charge_min_degc,
    )


def _peaks(model: EnergyModel, name: str) -> Array:
    columns = [model.frame.calendar.by_plan(getattr(demand, name)) for demand in model.consumers.demands]
    return np.stack(columns, axis=1) if columns else np.zeros((model.steps.row.size, 0))

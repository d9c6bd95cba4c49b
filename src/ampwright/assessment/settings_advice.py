"""What to set where the job says nothing: computed from the battery, the loads, the alternator and the inlet."""

from __future__ import annotations

import math

from ampwright.assessment.sag import Sag, sag_of
from ampwright.assessment.setting_range import is_settable, setting_range
from ampwright.energy.alternator import AlternatorState
from ampwright.energy.bank import rest_v
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import as_charger, set_float_v, set_inverter_stop_v
from ampwright.job.supply import alternator_name
from ampwright.job.wiring import LoadCutoff
from ampwright.network.demand import output_limit_a
from ampwright.network.result import NetworkResult
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.hardware import Inlet
from ampwright.parts.inverter import Inverter
from ampwright.records import record
from ampwright.said import said

__all__ = [
    "CutoffAdvice",
    "advised_charge_v",
    "advised_cutoff",
    "advised_float_v",
    "advised_idle_a",
    "advised_input_a",
    "advised_output_a",
]

STEP_V = 0.1
"""Cut-offs are proposed in steps of this (common practice, no source)."""
COMES_BACK_FRAC = 0.5
"""Loads come back from this state of charge on (docs/choices.md#cutoff-advice)."""
BELOW_FLOAT_V = 0.2
"""And no closer to the float of the chargers than this per 12 V (docs/choices.md#cutoff-advice)."""


@record
class CutoffAdvice:
    """A load cut-off with its reasons."""

    cutoff: LoadCutoff
    """What to set."""
    why_open: str
    """Reason of the lower voltage."""
    why_close: str
    """Reason of the upper voltage."""


def advised_cutoff(design: Design, network: NetworkResult, energy: EnergyResult) -> CutoffAdvice:
    """Return a load cut-off from the open-circuit curve and the sag of the heaviest lasting load.

    Notes
    -----
    Opens at E(s) - I R for the charge s that shall stay, and never so low that the sag reaches what comes next:
    E >= V + R P / V for the battery's own limit V, and so for the inverter's, its feed's drop added.
    """
    battery, placed = design.battery_part(), design.parts[design.battery]
    stays = max(design.job.use.reserve_frac, 1.0 - battery.usable_frac)
    sag = sag_of(design, network, float(energy.cell_degc.min()))
    current_a = 0.0 if math.isnan(sag.current_a) else sag.current_a
    drop_v = current_a * sag.resistance_ohm
    by_charge_v = rest_v(design, stays) - drop_v
    last_v = battery.cutoff_v * placed.in_series
    by_last_v = last_v + drop_v * (last_v if math.isnan(sag.terminal_v) else sag.terminal_v) / last_v
    by_inverter_v = max(
        (_inverter_floor_v(design, network, sag, each) for each in _inverters(design)), default=0.0
    )
    open_v = math.ceil(max(by_charge_v, by_last_v, by_inverter_v) / STEP_V - 1e-6) * STEP_V
    back_v = open_v + drop_v
    top_v = min(
        (set_float_v(one, part) for one in design.parts if (part := as_charger(one))), default=math.inf
    )
    top_v -= BELOW_FLOAT_V * design.system_v / 12.0
    close_v = (
        math.ceil(max(back_v + STEP_V, min(rest_v(design, COMES_BACK_FRAC), top_v)) / STEP_V - 1e-6) * STEP_V
    )
    why_open = (
        said(
            "{charge:.0f} % of charge rests at {rest_v:.2f} V; {current_a:.0f} A take {drop_v:.2f} V in the battery",
            charge=100 * stays,
            rest_v=rest_v(design, stays),
            current_a=current_a,
            drop_v=drop_v,
        )
        if by_charge_v >= max(by_last_v, by_inverter_v)
        else said("so that inverter and battery do not go before the loads under load")
    )
    return CutoffAdvice(
        cutoff=LoadCutoff(open_v=round(open_v, 2), close_v=round(close_v, 2)),
        why_open=why_open,
        why_close=said(
            "springs back to {back_v:.2f} V when the loads go; half charge rests at {half_v:.2f} V",
            back_v=back_v,
            half_v=rest_v(design, COMES_BACK_FRAC),
        ),
    )


def _inverters(design: Design) -> tuple[tuple[DesignPart, Inverter], ...]:
    return design.placed(Inverter)


def _inverter_floor_v(
    design: Design, network: NetworkResult, sag: Sag, one: tuple[DesignPart, Inverter]
) -> float:
    """Return the rest voltage from which an inverter, with the heaviest load on, still sees its cut-off."""
    placed, part = one
    stop_v = set_inverter_stop_v(placed, part)
    low_v = float(network.node_low_v[design.node_of(placed.id)])
    if math.isnan(low_v) or math.isnan(sag.terminal_v):
        return stop_v
    return stop_v + (sag.rest_v - low_v) + (sag.rest_v - sag.terminal_v)


def advised_charge_v(design: Design, placed: DesignPart) -> float:
    """Return the absorption voltage: what other chargers are set to, else the battery's, within its range."""
    wanted = [each.charge_v for each in design.wanted_settings if each.charge_v is not None]
    battery_v = design.battery_part().charge_v * design.parts[design.battery].in_series
    return _within(placed, "charge_v", min(wanted, default=battery_v))


def advised_float_v(design: Design, placed: DesignPart) -> float:
    """Return the float voltage likewise."""
    wanted = [each.float_v for each in design.wanted_settings if each.float_v is not None]
    battery_v = design.battery_part().float_v * design.parts[design.battery].in_series
    return _within(placed, "float_v", min(wanted, default=battery_v))


def _within(placed: DesignPart, name: str, value: float) -> float:
    found = setting_range(placed.part, name)
    return min(max(value, found.low), found.high)


def advised_output_a(design: Design, placed: DesignPart) -> float | None:
    """Return an output limit where chargers that can work together give more than the battery takes."""
    allowed_a = design.battery_part().charge_max_a * design.parts[design.battery].strings
    chargers = [one for one in design.parts if as_charger(one) is not None]
    kinds: tuple[tuple[type, ...], ...] = (
        (AlternatorCharger, PanelController),
        (MainsCharger, Inverter, PanelController),
    )
    together = [[one for one in chargers if isinstance(one.part, kind)] for kind in kinds]
    sums = [sum(output_limit_a(one) for one in group) for group in together if placed in group]
    total_a = max(sums, default=0.0)
    if total_a <= allowed_a:
        return None
    limit_a = float(math.floor(output_limit_a(placed) * allowed_a / total_a))
    return limit_a if limit_a > 0.0 and is_settable(placed.part, "output_limit_a", limit_a) else None


def advised_idle_a(
    design: Design, energy: EnergyResult, placed: DesignPart
) -> tuple[float, AlternatorState] | None:
    """Return an output limit at idle where the charger's hot alternator spares less than its chargers want."""
    name = alternator_name(design, placed)
    short = [
        each for each in energy.alternator if (each.name, each.state) == (name, "idle") and each.short_a > 0.0
    ]
    if not short or not isinstance(placed.part, AlternatorCharger):
        return None
    worst = max(short, key=lambda state: state.short_a)
    limit_a = float(math.floor(output_limit_a(placed) * worst.spare_a / worst.wanted_a))
    return (limit_a, worst) if is_settable(placed.part, "idle_limit_a", limit_a) else None


def advised_input_a(design: Design, placed: DesignPart) -> float | None:
    """Return an input limit for a mains charger: what post and inlet give, where it would take more."""
    part = placed.part
    if isinstance(part, MainsCharger):
        takes_a = part.input_max_w / part.input_ac_v
    elif isinstance(part, Inverter) and part.charger_max_a > 0.0:
        takes_a = part.charger_input_max_w / part.output_ac_v
    else:
        return None
    gives_a = min([design.mains_limit_a, *(inlet.rating_a for _, inlet in design.placed(Inlet))])
    limit_a = float(math.floor(gives_a))
    return limit_a if takes_a > gives_a and is_settable(part, "input_limit_a", limit_a) else None

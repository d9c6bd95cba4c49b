"""How long a full battery runs each load when nothing else runs and nothing charges: the plain answer for a customer."""

from __future__ import annotations

import math

from ampwright.assessment.result import Assessment
from ampwright.job.converters import sides_of
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad
from ampwright.parts.converter import Converter, converter_input_w
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.records import record

__all__ = ["RunTime", "run_times", "usable_wh"]


@record
class RunTime:
    """One load alone on a full battery."""

    load: str
    """Id."""
    name: str
    """Plain description."""
    is_essential: bool
    """True when it decides the verdict."""
    battery_w: float
    """Mean power from the battery while it runs, losses of inverter or converter and the system's own consumption included."""
    run_h: float
    """From full to the reserve; infinite where nothing is drawn."""
    daily_wh: float
    """Energy it got a day over the use, from battery or mains."""


def usable_wh(design: Design) -> float:
    """Return the energy between full and what is kept: the larger of the job's reserve and what the part wants kept."""
    part = design.battery_part()
    placed = design.parts[design.battery]
    kept_frac = max(design.job.use.reserve_frac, 1.0 - part.usable_frac)
    return part.capacity_ah * part.nominal_v * placed.case_count * (1.0 - kept_frac)


def run_times(found: Assessment) -> tuple[RunTime, ...]:
    """Return how long each load of a design would run alone, in the job's order.

    Notes
    -----
    Usable energy over mean power. The capacity is the rated one: cold, age and a high current leave less, which is why
    the hours are told as "about". A refrigerator's power is its mean over the use. Cable losses are left out (some
    per cent at most where the voltage rules pass).
    """
    design = found.design
    own_w = found.energy.ledger.standby_wh / (24.0 * found.energy.day_count)
    stored_wh = usable_wh(design)
    return tuple(_run_time(found, load, own_w=own_w, stored_wh=stored_wh) for load in design.loads)


def _run_time(found: Assessment, load: DesignLoad, *, own_w: float, stored_wh: float) -> RunTime:
    daily_wh = float(found.energy.load_wh_per_day[load.index])
    load_w = daily_wh / 24.0 if load.fridge is not None else load.power_w * load.dimmed_frac
    battery_w = _from_battery_w(found.design, load, load_w) + own_w
    return RunTime(
        load=load.id,
        name=load.name,
        is_essential=load.is_essential,
        battery_w=battery_w,
        run_h=stored_wh / battery_w if battery_w > 0.0 else math.inf,
        daily_wh=daily_wh,
    )


def _from_battery_w(design: Design, load: DesignLoad, load_w: float) -> float:
    if load.inverter >= 0:
        inverter = design.parts[load.inverter].part
        return inverter_dc_w(inverter, load_w) if isinstance(inverter, Inverter) else load_w
    behind = sides_of(design).converter[load.node] if load.node >= 0 else -1
    part = design.parts[behind].part if behind >= 0 else None
    return converter_input_w(part, load_w) if isinstance(part, Converter) else load_w

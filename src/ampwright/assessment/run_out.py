"""What runs out first, when and by how much; or what comes nearest to it."""

from __future__ import annotations

import dataclasses

import numpy as np

from ampwright.assessment.result import RunOut
from ampwright.assessment.when import clock_of_step, day_of_step, moment_text
from ampwright.energy.result import EnergyResult, summed
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad
from ampwright.parts.battery import Battery
from ampwright.said import Said, said

__all__ = ["has_limits", "out_of_range", "run_out"]

SAG_SOC = 25.0
"""A cut-off above this state of charge, in percent, is told as sag under load (docs/choices.md#sag)."""


def run_out(design: Design, energy: EnergyResult) -> RunOut:
    """Return the first thing to run out within the use, or the battery's lowest point.

    The margin is comparable between variants: the share of the capacity left at the lowest point while all
    is served, else minus the share of essential energy that is missing, or minus the share of the time
    contents are out of range, whichever is worse.
    """
    off = _first_unserved(design, energy)
    warm = _first_out_of_range(design, energy)
    if off is None and warm is None:
        return _nearest(design, energy)
    margin = -max(_missing_frac(design, energy), _out_frac(design, energy))
    if warm is not None and (off is None or warm[0] <= off[0]):
        step, load, column = warm
        degc = float(energy.fridge_degc[step, column])
        message = said(
            "The contents of {load} leave their range {when} ({degc:.1f} °C).",
            load=design.loads[load].name,
            when=moment_text(energy, step),
            degc=degc,
        )
        return _made(energy, design.loads[load].id, step, (margin, message))
    assert off is not None  # noqa: S101 - told apart above
    step, load = off
    return _made(
        energy, _what(design, energy, step), step, (margin, _off_message(design, energy, step, load))
    )


def _made(energy: EnergyResult, subject: str, step: int, rest: tuple[float, str]) -> RunOut:
    return RunOut(
        subject=subject,
        runs_out=True,
        day_count=day_of_step(energy, step),
        clock=clock_of_step(energy, step),
        margin_frac=rest[0],
        message=rest[1],
    )


def _what(design: Design, energy: EnergyResult, step: int) -> str:
    if energy.is_cut_off[step] or energy.is_management_open[step]:
        return design.parts[design.battery].id
    first = np.flatnonzero(energy.is_unserved[step])
    return design.loads[int(first[0])].id


def _off_message(design: Design, energy: EnergyResult, step: int, load: int) -> Said:
    soc = 100.0 * float(energy.soc_frac[step])
    blanks = {
        "battery": design.parts[design.battery].id,
        "when": moment_text(energy, step),
        "tail": said(
            "{missing_wh:.0f} Wh are not served over {days} days.",
            missing_wh=float(energy.unserved_wh.sum()),
            days=energy.day_count,
        ),
    }
    bank = design.parts[design.battery].part
    cell_degc = float(energy.cell_degc[step])
    if energy.is_management_open[step] and isinstance(bank, Battery) and cell_degc < bank.discharge_min_degc:
        return said(
            "The battery '{battery}' is too cold {when}: its cells are at {cell_degc:.0f} °C, it gives nothing below "
            "{limit_degc:.0f} °C; its management opens at {soc:.0f} % of charge and everything goes off; {tail}",
            cell_degc=cell_degc,
            limit_degc=bank.discharge_min_degc,
            soc=soc,
            **blanks,
        )
    if energy.is_management_open[step]:
        return said(
            "The battery '{battery}' runs out {when}: its management opens and everything goes off; {tail}",
            **blanks,
        )
    if energy.is_cut_off[step] and soc > SAG_SOC:
        return said(
            "The battery '{battery}' is cut off {when}: the load cut-off opens at {soc:.0f} % of charge by the sag to "
            "{low_v:.1f} V under {peak_a:.0f} A, not for want of charge; {tail}",
            soc=soc,
            low_v=float(energy.battery_low_v[step]),
            peak_a=float(energy.battery_peak_a[step]),
            **blanks,
        )
    if energy.is_cut_off[step]:
        return said(
            "The battery '{battery}' runs out {when}: the load cut-off opens at {soc:.0f} % of charge; {tail}",
            soc=soc,
            **blanks,
        )
    return said("{load} goes off {when} for want of voltage; {tail}", load=design.loads[load].name, **blanks)


def has_limits(load: DesignLoad) -> bool:
    """Return True for a refrigerator judged by the temperature of its contents: a gap is no failure."""
    return load.fridge is not None and (
        load.contents_low_degc is not None or load.contents_high_degc is not None
    )


def _first_unserved(design: Design, energy: EnergyResult) -> tuple[int, int] | None:
    """Return step and load of the first gap; refrigerators judged by their contents do not count."""
    counted = [load.index for load in design.loads if not has_limits(load)]
    off = energy.is_unserved[:, counted]
    if not off.any():
        return None
    step = int(np.argmax(off.any(axis=1)))
    return step, counted[int(np.argmax(off[step]))]


def _first_out_of_range(design: Design, energy: EnergyResult) -> tuple[int, int, int] | None:
    """Return step, load and column of the first contents out of range."""
    found: list[tuple[int, int, int]] = []
    for column, index in enumerate(energy.fridge_loads):
        out = out_of_range(design, energy, column)
        if out.any():
            found.append((int(np.argmax(out)), index, column))
    return min(found, default=None)


def out_of_range(
    design: Design, energy: EnergyResult, column: int
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return where the contents of a refrigerator, by its column, are out of their range (n_steps,)."""
    load = design.loads[energy.fridge_loads[column]]
    degc = energy.fridge_degc[:, column]
    out = np.zeros(degc.size, np.bool_)
    if load.contents_high_degc is not None:
        out |= degc > load.contents_high_degc
    if load.contents_low_degc is not None:
        out |= degc < load.contents_low_degc
    return out & energy.fridge_is_used[:, column]


def _missing_frac(design: Design, energy: EnergyResult) -> float:
    """Return the share of the wanted energy that is missing, comfort loads at a tenth of their weight."""
    weight = np.array([1.0 if load.is_essential else 0.1 for load in design.loads])
    missing = float((energy.unserved_wh * weight).sum())
    wanted = float(((summed(energy.load_w) * energy.step_h + energy.unserved_wh) * weight).sum())
    return missing / wanted if wanted > 0.0 else 0.0


def _out_frac(design: Design, energy: EnergyResult) -> float:
    shares = [
        float(out_of_range(design, energy, column).mean()) for column in range(len(energy.fridge_loads))
    ]
    return max(shares, default=0.0)


def _nearest(design: Design, energy: EnergyResult) -> RunOut:
    """Return what came nearest to running out: the battery, or the ice that bridges a gap."""
    found = [_lowest_ice(design, energy, column) for column in range(len(energy.fridge_loads))]
    near = [each for each in found if each is not None]
    if any(not has_limits(load) for load in design.loads) or not near:
        near.append(_lowest_charge(design, energy))
    return min(near, key=_margin)


def _margin(found: RunOut) -> float:
    return found.margin_frac


def _lowest_charge(design: Design, energy: EnergyResult) -> RunOut:
    lowest = float(energy.soc_frac.min())
    step = max(int(np.argmin(energy.soc_frac)) - 1, 0)
    battery = design.parts[design.battery].id
    message = said(
        "Nothing runs out. The battery '{battery}' comes nearest: {left:.0f} % left {when}.",
        battery=battery,
        left=100 * lowest,
        when=moment_text(energy, step),
    )
    return dataclasses.replace(_made(energy, battery, step, (lowest, message)), runs_out=False)


def _lowest_ice(design: Design, energy: EnergyResult, column: int) -> RunOut | None:
    """Return how far the ice lining of a refrigerator with limits was used up; None without one."""
    load = design.loads[energy.fridge_loads[column]]
    if load.fridge is None or load.fridge.cold_store_wh <= 0.0 or not has_limits(load):
        return None
    share = energy.fridge_ice_wh[:, column] / (load.fridge.cold_store_wh * load.count)
    step = int(np.argmin(share))
    gap_h = float(np.count_nonzero(energy.is_unserved[:, load.index])) * energy.step_h
    message = said(
        "Nothing runs out. The ice lining of {load} comes nearest: {left:.0f} % left {when}; it bridges {gap_h:.0f} h "
        "without supply.",
        load=load.name,
        left=float(100 * share[step]),
        when=moment_text(energy, step),
        gap_h=gap_h,
    )
    return dataclasses.replace(_made(energy, load.id, step, (float(share[step]), message)), runs_out=False)

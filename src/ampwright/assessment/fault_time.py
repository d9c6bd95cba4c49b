"""Rule on time: does the device clear a fault before the cable is harmed."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from functools import lru_cache

from ampwright.assessment.capacity import effective_area_mm2, run_capacity
from ampwright.assessment.circuits import Protection
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import run_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.job.own_tables import device_class
from ampwright.parts.cable import Cable
from ampwright.records import record
from ampwright.said import Said, said, said_together
from ampwright.sources import Source
from ampwright.standards.device_bands.band import RatedDevice, band_steps_a, device_band
from ampwright.standards.device_bands.classes import device_limits
from ampwright.standards.device_bands.discrimination import clears_in_time
from ampwright.standards.iec_60949.heating import LaidConductor, cable_time_s
from ampwright.standards.iso_8820.band import OpeningBand

__all__ = ["FAR_FAULT_CLEARS", "JUST_BELOW", "opening_band", "rated_device", "steps_a"]

WIRING = Group.WIRING
FIRE = said("A fault that is not cleared in time burns the cable.")
JUST_BELOW = 1.0 - 1e-9
"""The longest time holds up to the next step of the table, so it is asked just below each step."""


@record
class Clearing:
    """The worst moment of one run's faults: where the device is slowest against the cable."""

    current_a: float
    """Fault current there."""
    opening_max_s: float | None
    """Longest time of the device; None = it need not open."""
    cable_s: float
    """Time the cable endures; infinite for ever."""
    source: Source
    """Where the device's times come from."""

    @property
    def is_cleared(self) -> bool:
        """True when the device surely opens in time."""
        return clears_in_time(self.opening_max_s, self.cable_s)

    @property
    def is_from_memory(self) -> bool:
        """True when the device's times were never read."""
        return self.source.standing == "from memory"


def rated_device(design: Design, guard: Protection) -> RatedDevice:
    """Return a device with the air it sits in, from the coldest of the season to the hottest of its run."""
    coldest = design.job.season.coldest_degc
    hottest = design.runs[guard.run].ambient_max_degc
    return RatedDevice(
        device_class=device_class(guard.part),
        rating_a=guard.rating_a,
        coldest_degc=min(coldest, hottest),
        hottest_degc=max(coldest, hottest),
        points=design.tables.points_of(guard.part),
    )


@lru_cache(maxsize=20_000)
def opening_band(device: RatedDevice, current_a: float) -> OpeningBand | None:
    """Return a device's band at a current (a memo: variants of a job ask for the same ones again and again)."""
    return device_band(device, current_a=current_a)


@lru_cache(maxsize=2_000)
def steps_a(device: RatedDevice) -> tuple[float, ...]:
    """Return the currents at which a device's times change (a memo likewise)."""
    return band_steps_a(device)


def _far_fault_clears(design: Design, studies: Studies) -> Iterator[Finding]:
    doubtful: dict[str, list[tuple[DesignRun, Clearing]]] = {}
    held: list[str] = []
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        guard = circuit.own or circuit.upstream
        if circuit.root_kind in {"panel", "converter"} or (guard is None and not circuit.why_unknown):
            continue  # panels cannot harm their cable; converter-limit judges behind converters; a run without a device fails device-against-cable
        worst = (
            _surest(design, studies, run, guard) if guard is not None and not circuit.why_unknown else None
        )
        if guard is None or worst is None:
            why = circuit.why_unknown or studies.network.run_far_fault_note[run.index]
            yield Finding(
                rule="far-fault-clears",
                group=WIRING,
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=said(
                    "{run}: the clearing of its faults could not be judged ({why}).",
                    run=run_text(run),
                    why=why,
                ),
            )
        elif not worst.is_from_memory:
            yield _clearing_finding(run, guard, worst)
        elif worst.is_cleared:
            held.append(run.id)
        else:
            doubtful.setdefault(guard.device.id, []).append((run, worst))
    for device, runs in doubtful.items():
        yield _doubtful_finding(device, runs)
    if held:
        yield Finding(
            rule="far-fault-clears",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "Faults of {runs} are cleared in time by the shipped opening times, but those are from memory.",
                runs=said_together(held, between=", "),
            ),
            way_out=said("Compare with the time-current curve of the device fitted."),
        )


def _clearing_text(device: str, run: DesignRun, worst: Clearing) -> Said:
    opens = said("{device} need not open at all", device=device)
    if worst.opening_max_s is not None:
        opens = said("{device} may take {time_s:.3g} s", device=device, time_s=worst.opening_max_s)
    endures = (
        said("the cable endures {time_s:.3g} s", time_s=worst.cable_s)
        if math.isfinite(worst.cable_s)
        else said("the cable endures it")
    )
    return said(
        "{run}: at a fault of {current_a:,.0f} A {opens}, {endures}.",
        run=run_text(run),
        current_a=worst.current_a,
        opens=opens,
        endures=endures,
    )


def _clearing_finding(run: DesignRun, guard: Protection, worst: Clearing) -> Finding:
    return Finding(
        rule="far-fault-clears",
        group=WIRING,
        severity=Severity.PASS if worst.is_cleared else Severity.FAIL,
        subject=run.id,
        message=_clearing_text(guard.device.id, run, worst),
        value=worst.opening_max_s,
        limit=worst.cable_s if math.isfinite(worst.cable_s) else None,
        unit="s",
        source=worst.source,
        way_out="" if worst.is_cleared else said("Use a smaller or faster device, or a larger cable."),
        caution="" if worst.is_cleared else FIRE,
    )


def _doubtful_finding(device: str, runs: list[tuple[DesignRun, Clearing]]) -> Finding:
    """Return one finding for a device whose opening times, from memory, are too long for its runs."""
    run, worst = max(runs, key=_pair_excess)
    others = said_together((each.id for each, _ in runs if each is not run), between=", ")
    return Finding(
        rule="far-fault-clears",
        group=WIRING,
        severity=Severity.NOT_CHECKED,
        subject=device,
        message=said_together(
            (_clearing_text(device, run, worst), said("Likewise {runs}.", runs=others) if others else "")
        ),
        value=worst.opening_max_s,
        limit=worst.cable_s,
        unit="s",
        source=worst.source,
        way_out=said(
            "The device's times are from memory: compare with its own curve, or use a smaller or faster device or larger "
            "cables."
        ),
    )


def _pair_excess(pair: tuple[DesignRun, Clearing]) -> float:
    return _excess(pair[1])


def _surest(design: Design, studies: Studies, run: DesignRun, guard: Protection) -> Clearing | None:
    """Return the worst moment by the times that were read where these suffice, else by all of them."""
    device = rated_device(design, guard)
    worst = _worst(design, studies, run, guard, device=device)
    if worst is None or not worst.is_from_memory:
        return worst
    by_read = _worst(design, studies, run, guard, device=_as_read(device))
    is_enough = by_read is not None and by_read.is_cleared and not by_read.is_from_memory
    return by_read if is_enough else worst


@lru_cache(maxsize=2_000)
def _as_read(device: RatedDevice) -> RatedDevice:
    """Return a device with only those of its opening times that are not from memory."""
    held = device_limits(device.device_class, points=device.points).points
    read = tuple(point for point in held if point.source.standing != "from memory")
    return dataclasses.replace(device, points=read)


def _worst(
    design: Design, studies: Studies, run: DesignRun, guard: Protection, *, device: RatedDevice
) -> Clearing | None:
    """Return the moment where device and cable are furthest apart the wrong way; None where it is not known."""
    smallest_a = min(
        (
            each.fault_a
            for each in studies.network.far_fault
            if (each.run, each.device_run, each.device) == (run.index, guard.run, guard.device.id)
        ),
        default=math.nan,
    )
    largest_a = float(studies.network.run_fault_a[run.index])
    if not (math.isfinite(smallest_a) and math.isfinite(largest_a)) or smallest_a <= 0.0:
        return None
    steps = [step * JUST_BELOW for step in steps_a(device) if smallest_a < step <= largest_a]
    found: list[Clearing] = []
    for conductor in (run.cable, *((run.back_cable,) if run.back_cable else ())):
        laid = _laid(design, run, conductor)
        if laid is None:
            return None
        for current_a in (smallest_a, *steps, max(largest_a, smallest_a)):
            band = opening_band(device, current_a)
            if band is None:
                return None
            endures_s = cable_time_s(
                laid,
                current_a=current_a,
                start_degc=conductor.insulation_degc,
                end_degc=conductor.short_time_degc,
            )
            found.append(
                Clearing(
                    current_a=current_a,
                    opening_max_s=band.opening_max_s,
                    cable_s=endures_s,
                    source=band.source,
                )
            )
    return max(found, key=_excess)


def _excess(clearing: Clearing) -> float:
    """Return device time over cable time; what endures for ever weighs nothing."""
    if math.isinf(clearing.cable_s):
        return 0.0
    return math.inf if clearing.opening_max_s is None else clearing.opening_max_s / clearing.cable_s


def _laid(design: Design, run: DesignRun, conductor: Cable) -> LaidConductor | None:
    capacity = run_capacity(design, run, cable=conductor)
    if not capacity.is_known or conductor.short_time_degc <= conductor.insulation_degc:
        return None
    is_cool = conductor.insulation_degc > run.ambient_max_degc
    return LaidConductor(
        area_mm2=effective_area_mm2(conductor),
        capacity_a=capacity.current_a if is_cool else 0.0,
        rated_degc=conductor.insulation_degc,
        ambient_degc=run.ambient_max_degc,
    )


FAR_FAULT_CLEARS = Rule(
    name="far-fault-clears",
    group=WIRING,
    asks="Does every fault, from the smallest at the far end to the largest, open its device before the cable is harmed?",
    check=_far_fault_clears,
)

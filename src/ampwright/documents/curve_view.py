"""Assessment -> the circuits a time-current chart is drawn of: one for each device that protects a run.

Which run is protected by which device is that of `assessment.circuits`; every current is the network's own.
"""

from __future__ import annotations

import math

from ampwright.assessment.capacity import effective_area_mm2, run_capacity
from ampwright.assessment.circuits import Circuit, Protection, circuits
from ampwright.assessment.fault_time import rated_device
from ampwright.assessment.result import Assessment
from ampwright.documents.curve_records import CurveCable, CurveCircuit, CurveDevice
from ampwright.documents.curve_words import CLASS_WORDS, plain_text
from ampwright.documents.quantity_text import three_figures
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.network.result import NetworkResult
from ampwright.parts.cable import Cable
from ampwright.standards.iec_60949.heating import LaidConductor

__all__ = ["curve_circuits"]

Key = tuple[int, str]


def curve_circuits(assessment: Assessment) -> tuple[CurveCircuit, ...]:
    """Return the circuits of a design in order of their devices' runs."""
    design = assessment.design
    found = circuits(design, assessment.network).by_run
    guards: dict[Key, tuple[Protection, list[int]]] = {}
    for circuit in found:
        guard = circuit.own or circuit.upstream
        if guard is not None:
            guards.setdefault((guard.run, guard.device.id), (guard, []))[1].append(circuit.run)
    return tuple(_circuit(assessment, found, guards[key][0], tuple(guards[key][1])) for key in sorted(guards))


def _circuit(
    assessment: Assessment, found: tuple[Circuit, ...], guard: Protection, protected: tuple[int, ...]
) -> CurveCircuit:
    design, network = assessment.design, assessment.network
    runs = [design.runs[index] for index in protected]
    known = [run for run in runs if _is_drawn(design, run)]
    upstream = found[guard.run].upstream
    far = [_far_fault_a(network, guard, index) for index in protected]
    seen = [each for each in far if each is not None]
    return CurveCircuit(
        own=_device(design, guard),
        upstream=_device(design, upstream) if upstream is not None else None,
        runs=tuple(plain_text(run.id) for run in runs),
        cables=tuple(cable for run in known for cable in _cables(assessment, guard, run)),
        unknown_runs=tuple(plain_text(run.id) for run in runs if run not in known),
        load_a=_known(float(network.peak_a[guard.run])),
        far_fault_a=min(seen) if seen and len(seen) == len(far) else None,
        fault_a=_fault_a(network, guard),
    )


def _far_fault_a(network: NetworkResult, guard: Protection, run: int) -> float | None:
    """Return what a device sees of a fault at the far end of a run it protects."""
    key = (run, guard.run, guard.device.id)
    found = [each.fault_a for each in network.far_fault if (each.run, each.device_run, each.device) == key]
    return _known(min(found, default=math.nan))


def _fault_a(network: NetworkResult, guard: Protection) -> float | None:
    """Return the largest fault current through a device."""
    key = (guard.run, guard.device.id)
    found = [each.fault_a for each in network.device_fault if (each.run, each.device) == key]
    return _known(max(found, default=math.nan))


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _device(design: Design, guard: Protection) -> CurveDevice:
    rated = rated_device(design, guard)
    return CurveDevice(id=plain_text(guard.device.id), kind=CLASS_WORDS[rated.device_class], rated=rated)


def _conductors(run: DesignRun) -> tuple[Cable, ...]:
    back = () if run.back_cable is None else (run.back_cable,)
    return tuple(dict.fromkeys((run.cable, *back)))


def _is_drawn(design: Design, run: DesignRun) -> bool:
    """Return True where capacity and short-time limit of every conductor are known."""
    return run_capacity(design, run).is_known and all(
        each.short_time_degc > each.insulation_degc for each in _conductors(run)
    )


def _cables(assessment: Assessment, guard: Protection, run: DesignRun) -> list[CurveCable]:
    design, network = assessment.design, assessment.network
    begins_a = _known(float(network.run_fault_a[run.index]))
    return [
        CurveCable(
            run=plain_text(run.id),
            name=f"{three_figures(conductor.area_mm2)} mm²",
            laid=_laid(design, run, conductor),
            start_degc=conductor.insulation_degc,
            end_degc=conductor.short_time_degc,
            far_fault_a=_far_fault_a(network, guard, run.index),
            fault_a=_fault_a(network, guard) if run.index == guard.run else begins_a,
        )
        for conductor in _conductors(run)
    ]


def _laid(design: Design, run: DesignRun, conductor: Cable) -> LaidConductor:
    is_cool = conductor.insulation_degc > run.ambient_max_degc
    return LaidConductor(
        area_mm2=effective_area_mm2(conductor),
        capacity_a=run_capacity(design, run, cable=conductor).current_a if is_cool else 0.0,
        rated_degc=conductor.insulation_degc,
        ambient_degc=run.ambient_max_degc,
    )

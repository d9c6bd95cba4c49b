"""Candidates that mend the wiring: a larger cable, a fitting device, a lower setting."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from ampwright.assessment.capacity import largest_device_a, run_capacity
from ampwright.assessment.circuits import circuits
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity
from ampwright.job.as_left import with_setting
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.records import Job
from ampwright.job.wiring import Setting
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.protection import Breaker, Fuse
from ampwright.said import said
from ampwright.sizing.candidate import Candidate, Family

__all__ = ["BY_DEVICE", "BY_LOAD", "BY_RUN", "fitting_devices", "larger_cables", "lower_outputs"]

BY_RUN = frozenset(
    {
        "cable-capacity",
        "cable-minimum-size",
        "converter-limit",
        "device-against-cable",
        "output-fails-shorted",
    }
)
BY_LOAD = frozenset({"lowest-voltage", "feed-carries-load"})
BY_DEVICE = frozenset({"breaking-capacity", "device-carries-load", "device-voltage"})
MOST_SIZES = 4


def _troubles(found: Assessment) -> tuple[Finding, ...]:
    return tuple(f for f in found.findings if f.severity in {Severity.FAIL, Severity.CONDITION})


def _runs_in_trouble(found: Assessment) -> tuple[DesignRun, ...]:
    design = found.design
    subjects = {f.subject for f in _troubles(found) if f.rule in BY_RUN}
    nodes = {f.subject for f in _troubles(found) if f.rule in BY_LOAD}
    by_run = circuits(design, found.network).by_run
    far = {design.nodes[c.far_node]: c.run for c in by_run}
    for load in design.loads:
        if load.node >= 0:
            far.setdefault(load.id, next((c.run for c in by_run if c.far_node == load.node), -1))
    indices = {far[name] for name in nodes if name in far} | {
        run.index for run in design.runs if run.id in subjects
    }
    return tuple(run for run in design.runs if run.index in indices and not run.is_inside_module)


def larger_cables(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the next larger cables of the same make for each run in trouble."""
    for run in _runs_in_trouble(found):
        larger = sorted(
            (
                cable
                for cable in catalogue.of_kind(Cable)
                if cable.system == run.cable.system
                and cable.core_count == run.cable.core_count
                and cable.insulation_degc >= run.cable.insulation_degc
                and cable.area_mm2 > run.cable.area_mm2
            ),
            key=_area_mm2,
        )
        conductors = 2.0 if run.back_cable is not None and run.cable.core_count == 1 else 1.0
        yield tuple(
            Candidate(
                kind="cable",
                description=said(
                    "{new} instead of {old} in run {run}", new=cable.name, old=run.cable.name, run=run.id
                ),
                cost_eur=cable.price_eur_per_m * run.length_m * conductors,
                job=_with_run(job, run.id, cable=cable.id, back_cable=""),
            )
            for cable in larger[:MOST_SIZES]
        )


def _area_mm2(cable: Cable) -> float:
    return cable.area_mm2


def _with_run(job: Job, run_id: str, **changes: object) -> Job:
    runs = tuple(
        dataclasses.replace(run, **changes) if run.id == run_id else run  # type: ignore[arg-type]
        for run in job.run
    )
    return dataclasses.replace(job, run=runs)


def fitting_devices(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose, for each run or device in trouble, a device that fits cable, load and fault."""
    design = found.design
    faults = {fault.device: fault.fault_a for fault in found.network.device_fault}
    devices = {f.subject for f in _troubles(found) if f.rule in BY_DEVICE}
    runs = {run.index for run in _runs_in_trouble(found)}
    for run in design.runs:
        if run.is_inside_module:
            continue
        for device in run.devices:
            if device.id not in devices and run.index not in runs:
                continue
            capacity_a = run_capacity(design, run).current_a
            peak_a = float(found.network.peak_a[run.index])
            highest_v = float(max(found.network.node_high_v[run.start], found.network.node_high_v[run.end]))
            fitting = [
                part
                for part in catalogue.parts.values()
                if isinstance(part, Fuse | Breaker)
                and peak_a <= part.rating_a <= largest_device_a(design, capacity_a, device=part).sure_rating_a
                and part.breaking_capacity_a >= faults.get(device.id, 0.0)
                and part.rated_dc_v >= highest_v
                and part.id != device.part.id
            ]
            if fitting:
                best = max(fitting, key=_rating_then_price)
                yield (_device_candidate(job, run, device, best),)


def _rating_then_price(part: Fuse | Breaker) -> tuple[float, float]:
    return part.rating_a, -part.price_eur


def _device_candidate(job: Job, run: DesignRun, device: DesignDevice, part: Fuse | Breaker) -> Candidate:
    written = next(each for each in job.run if each.id == run.id)
    devices = tuple(
        dataclasses.replace(each, part=part.id) if each.id == device.id else each for each in written.device
    )
    return Candidate(
        kind="device",
        description=said(
            "{new} instead of {old} as {device} in run {run}",
            new=part.name,
            old=device.part.name,
            device=device.id,
            run=run.id,
        ),
        cost_eur=part.price_eur,
        job=_with_run(job, run.id, device=devices),
    )


def lower_outputs(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose charger limits that fit what the hot alternator spares, or what the battery takes."""
    del catalogue
    short = [f for f in _troubles(found) if f.rule in {"alternator-spare", "charge-current"}]
    shares = [
        max(f.limit, 0.0) / f.value
        for f in short
        if f.value is not None and f.limit is not None and f.value > 0
    ]
    if not shares:
        return
    share = min(shares)
    if all(f.rule == "alternator-spare" and " idle " in f.subject for f in short):
        yield from _idle_limits(job, found, share)
    changed = job
    words: list[str] = []
    for placed, part in found.design.placed(AlternatorCharger):
        now_a = (placed.setting.output_limit_a if placed.setting else None) or part.output_max_a
        limit_a = float(int(share * now_a))
        if limit_a < max(part.output_limit_min_a, 1.0) or part.output_limit_min_a == 0.0:
            return
        words.append(f"{placed.id} {limit_a:g} A")
        changed = with_setting(changed, placed.id, output_limit_a=limit_a)
    yield (
        Candidate(
            kind="setting",
            description=said("set output limits: {limits}", limits=", ".join(words)),
            cost_eur=0.0,
            job=changed,
        ),
    )


def _idle_limits(job: Job, found: Assessment, share: float) -> Iterator[Family]:
    """Propose limits for the idling engine alone, where only that is short."""
    changed = job
    words: list[str] = []
    for placed, part in found.design.placed(AlternatorCharger):
        old = placed.setting or Setting(part=placed.id)
        set_a = [each for each in (old.output_limit_a, old.idle_limit_a) if each is not None]
        limit_a = float(int(share * min([part.output_max_a, *set_a])))
        if limit_a < max(part.output_limit_min_a, 1.0):
            return
        words.append(f"{placed.id} {limit_a:g} A")
        changed = with_setting(changed, placed.id, idle_limit_a=limit_a)
    if words:
        yield (
            Candidate(
                kind="setting",
                description=said(
                    "set limits for the idling engine, where the charger has such a setting: {limits}",
                    limits=", ".join(words),
                ),
                cost_eur=0.0,
                job=changed,
            ),
        )

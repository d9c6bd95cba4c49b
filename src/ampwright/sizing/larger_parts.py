"""Every larger part that might take a part's place, as far as the catalogue goes: for jobs that begin at the smallest."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from ampwright.assessment.result import Assessment
from ampwright.job.design import Design, DesignPart
from ampwright.job.records import Job
from ampwright.parts.base import PartBase
from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import MainsCharger, PanelController
from ampwright.parts.hardware import BusBar
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Fuse, Isolator
from ampwright.sizing.candidate import Candidate, CandidateKind, Family, with_part
from ampwright.sizing.changes import troubles
from ampwright.sizing.supply import larger_battery, more_panels
from ampwright.sizing.wiring_trial import same_make

__all__ = ["larger_bonds", "larger_gear", "more_panels_with_controller", "stronger_battery"]

T = TypeVar("T", bound=PartBase)
BONDED = "earth-and-polarity"
PANEL_FUSES = "iec-60269-6-gpv"
UNFUSED_STRINGS = 2
"""Strings of which none can be fed back by more than one other (the rule on string fuses checks it)."""


def stronger_battery(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose every larger battery of the same kind, then one more string of the present one."""
    placed, battery = found.design.parts[found.design.battery], found.design.battery_part()
    alike = (
        part
        for part in catalogue.of_kind(Battery)
        if part.chemistry == battery.chemistry and part.nominal_v == battery.nominal_v
    )
    larger = sorted(
        (part for part in alike if part.capacity_ah > battery.capacity_ah), key=lambda part: part.capacity_ah
    )
    if larger:
        yield _instead(job, placed, larger, "battery")
    else:
        yield from list(larger_battery(job, found, catalogue))[1:]


def more_panels_with_controller(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose more panels with the smallest controller that takes their current, fused in each string from three on."""
    for family in more_panels(job, found, catalogue):
        yield tuple(_for_more_panels(each, found.design, catalogue) for each in family)


def _for_more_panels(candidate: Candidate, design: Design, catalogue: Catalogue) -> Candidate:
    placed_panels = {placed.id: panel for placed, panel in design.placed(Panel)}
    rows = [part for part in candidate.job.part if part.id in placed_panels]
    input_a = sum(row.strings * placed_panels[row.id].short_circuit_a for row in rows)
    job, cost_eur = candidate.job, candidate.cost_eur
    for placed, controller in design.placed(PanelController):
        larger = _larger(catalogue, controller, _output_a, _is_same_tracker)
        taking = next((part for part in larger if part.input_max_a >= input_a), None)
        changed = with_part(job, placed, taking.id) if taking is not None else None
        if taking is not None and changed is not None and controller.input_max_a < input_a:
            job, cost_eur = changed, cost_eur + taking.price_eur
    for row in rows:
        fuse = _string_fuse(catalogue, placed_panels[row.id])
        if row.strings > UNFUSED_STRINGS and fuse is not None:
            parts = (
                dataclasses.replace(each, string_device=fuse.id) if each.id == row.id else each
                for each in job.part
            )
            job, cost_eur = (
                dataclasses.replace(job, part=tuple(parts)),
                cost_eur + fuse.price_eur * row.strings,
            )
    return dataclasses.replace(candidate, job=job, cost_eur=cost_eur)


def _string_fuse(catalogue: Catalogue, panel: Panel) -> Fuse | None:
    """Return the largest string fuse that the panel allows."""
    fuses = (each for each in catalogue.of_kind(Fuse) if each.family == PANEL_FUSES)
    return max(
        (each for each in fuses if each.rating_a <= panel.series_fuse_max_a), key=_rating_a, default=None
    )


def larger_gear(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose larger inverters, mains chargers, panel controllers, bus bars and switches where they are in trouble."""
    design, in_trouble = found.design, {each.subject for each in troubles(found)}
    for placed, inverter in design.placed(Inverter):
        if placed.id in in_trouble:
            larger_ones = _larger(catalogue, inverter, lambda part: part.continuous_w, _is_same_mains)
            yield _instead(job, placed, larger_ones, "device")
    for placed, charger in design.placed(MainsCharger):
        if placed.id in in_trouble:
            yield _instead(job, placed, _larger(catalogue, charger, _output_a, _is_same_inlet), "charger")
    for placed, controller in design.placed(PanelController):
        if placed.id in in_trouble:
            yield _instead(job, placed, _larger(catalogue, controller, _output_a, _is_same_tracker), "device")
    for placed, bar in design.placed(BusBar):
        if placed.id in in_trouble:
            yield _instead(job, placed, _larger(catalogue, bar, _rating_a), "device")
    yield from _larger_switches(job, catalogue, in_trouble)


def larger_bonds(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose larger cables of the same make for the ties between negative and metal."""
    if all(each.rule != BONDED for each in troubles(found)):
        return
    for number, bond in enumerate(job.bond):
        present = catalogue.parts[bond.cable]
        if isinstance(present, Cable):
            larger = [part for part in catalogue.of_kind(Cable) if same_make(part, present)]
            larger = sorted(
                (part for part in larger if part.area_mm2 > present.area_mm2), key=lambda part: part.area_mm2
            )
            yield tuple(_with_bond(job, number, part) for part in larger)


def _with_bond(job: Job, number: int, cable: Cable) -> Candidate:
    bonds = tuple(
        dataclasses.replace(each, cable=cable.id) if at == number else each
        for at, each in enumerate(job.bond)
    )
    return Candidate(
        kind="cable",
        description=f"{cable.name} as bond",
        cost_eur=cable.price_eur_per_m,
        job=dataclasses.replace(job, bond=bonds),
    )


def _larger_switches(job: Job, catalogue: Catalogue, in_trouble: set[str]) -> Iterator[Family]:
    for run in job.run:
        for device in run.device:
            part = catalogue.parts.get(device.part)
            if device.id in in_trouble and isinstance(part, Isolator | Fuse):
                sizes = _larger(catalogue, part, _rating_a)
                yield tuple(_with_device(job, run.id, device.id, each) for each in sizes)


def _with_device(job: Job, run_id: str, device_id: str, part: Isolator | Fuse) -> Candidate:
    runs = tuple(
        dataclasses.replace(
            run,
            device=tuple(
                dataclasses.replace(each, part=part.id) if each.id == device_id else each
                for each in run.device
            ),
        )
        if run.id == run_id
        else run
        for run in job.run
    )
    return Candidate(
        kind="device",
        description=f"{part.name} as {device_id}",
        cost_eur=part.price_eur,
        job=dataclasses.replace(job, run=runs),
    )


def _larger(
    catalogue: Catalogue,
    present: T,
    size: Callable[[T], float],
    is_alike: Callable[[T, T], bool] = lambda _, __: True,
) -> list[T]:
    """Return the larger parts that may take a part's place, smallest first."""
    parts = catalogue.of_kind(type(present))
    fitting = [part for part in parts if size(part) > size(present) and is_alike(part, present)]
    return sorted(fitting, key=size)


def _rating_a(part: Isolator | Fuse | BusBar) -> float:
    return part.rating_a


def _output_a(part: MainsCharger | PanelController) -> float:
    return part.output_max_a


def _is_same_mains(part: Inverter, present: Inverter) -> bool:
    return (
        part.input_nominal_v == present.input_nominal_v
        and part.output_ac_v == present.output_ac_v
        and (part.charger_max_a > 0.0) == (present.charger_max_a > 0.0)
    )


def _is_same_inlet(part: MainsCharger, present: MainsCharger) -> bool:
    return part.input_ac_v == present.input_ac_v and part.output_nominal_v == present.output_nominal_v


def _is_same_tracker(part: PanelController, present: PanelController) -> bool:
    return part.tracking == present.tracking and part.output_nominal_v == present.output_nominal_v


def _instead(
    job: Job, placed: DesignPart, larger: list[Any], kind: CandidateKind, *, extra_eur: float = 0.0
) -> Family:
    """Return the larger parts in place of the present one."""
    return tuple(
        Candidate(
            kind=kind,
            description=f"{part.name} instead of {placed.part.name}",
            cost_eur=part.price_eur * placed.strings * placed.in_series + extra_eur,
            job=changed,
        )
        for part in larger
        if (changed := with_part(job, placed, part.id)) is not None
    )

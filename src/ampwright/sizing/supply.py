"""Candidates that add supply or store: panels, battery, charger, converter."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from ampwright.assessment.result import Assessment
from ampwright.findings import Severity
from ampwright.job.design import DesignPart
from ampwright.job.records import Job
from ampwright.parts.battery import Battery
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.converter import Converter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Fuse
from ampwright.said import said
from ampwright.sizing.candidate import Candidate, CandidateKind, Family, with_part

__all__ = ["larger_battery", "larger_charger", "larger_converter", "more_panels"]

TROUBLE = (Severity.FAIL, Severity.CONDITION)
MOST_STEPS = 2
"""Sizes tried beyond the present one."""
LITHIUM = said("Larger lithium batteries deliver larger fault currents; the wiring was checked again.")


def more_panels(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose one or two more strings of each placed panel."""
    del catalogue
    for placed, panel in found.design.placed(Panel):
        family: list[Candidate] = []
        for more in range(1, MOST_STEPS + 1):
            count = more * placed.in_series
            parts = tuple(
                dataclasses.replace(part, strings=part.strings + more) if part.id == placed.id else part
                for part in job.part
            )
            area_m2 = panel.length_mm * panel.width_mm * count / 1e6
            needs_roof = area_m2 > 0 and not panel.is_portable
            family.append(
                Candidate(
                    kind="panel",
                    description=said(
                        "{count} more {part} in parallel; find {area_m2:.1f} m² of free roof",
                        count=count,
                        part=panel.name,
                        area_m2=area_m2,
                    )
                    if needs_roof
                    else said("{count} more {part} in parallel", count=count, part=panel.name),
                    cost_eur=panel.price_eur * count,
                    job=dataclasses.replace(job, part=parts),
                )
            )
        yield tuple(family)


def larger_battery(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the next larger batteries of the same kind, or one more string."""
    placed = found.design.parts[found.design.battery]
    battery = found.design.battery_part()
    larger = sorted(
        (
            part
            for part in catalogue.of_kind(Battery)
            if part.chemistry == battery.chemistry
            and part.nominal_v == battery.nominal_v
            and part.capacity_ah > battery.capacity_ah
        ),
        key=_capacity_ah,
    )
    caution = LITHIUM if battery.chemistry == "lfp" else ""
    yield _replacements(job, placed, tuple(larger), kind="battery", caution=caution)
    if not placed.is_inside_module and placed.strings < battery.parallel_max_count:
        yield _one_more_string(job, placed, battery, catalogue)


def _replacements(
    job: Job,
    placed: DesignPart,
    larger: tuple[Battery, ...] | tuple[AlternatorCharger, ...] | tuple[Converter, ...],
    *,
    kind: CandidateKind,
    caution: str = "",
) -> Family:
    """Return the first few larger parts in place of the present one."""
    family: list[Candidate] = []
    for part in larger[:MOST_STEPS]:
        changed = with_part(job, placed, part.id)
        if changed is not None:
            family.append(
                Candidate(
                    kind=kind,
                    description=said(
                        "{new} instead of {old} (inside the power module: outside its certificate)",
                        new=part.name,
                        old=placed.part.name,
                    )
                    if placed.is_inside_module
                    else said("{new} instead of {old}", new=part.name, old=placed.part.name),
                    cost_eur=part.price_eur * placed.strings * placed.in_series,
                    job=changed,
                    caution=caution,
                )
            )
    return tuple(family)


def _capacity_ah(battery: Battery) -> float:
    return battery.capacity_ah


def _rating_a(fuse: Fuse) -> float:
    return fuse.rating_a


def _one_more_string(job: Job, placed: DesignPart, battery: Battery, catalogue: Catalogue) -> Family:
    fuses = sorted(
        (
            fuse
            for fuse in catalogue.of_kind(Fuse)
            if fuse.family == "ul-248-15-t" and fuse.rating_a >= battery.discharge_max_a
        ),
        key=_rating_a,
    )
    strings = placed.strings + 1
    device = placed.string_device.id if placed.string_device else fuses[0].id if fuses else ""
    fuse_eur = 0.0
    if placed.string_device is None and fuses:
        fuse_eur = fuses[0].price_eur * strings
    parts = tuple(
        dataclasses.replace(part, strings=strings, string_device=device) if part.id == placed.id else part
        for part in job.part
    )
    return (
        Candidate(
            kind="battery",
            description=said("one more {part} in parallel, a fuse in each string", part=battery.name),
            cost_eur=battery.price_eur * placed.in_series + fuse_eur,
            job=dataclasses.replace(job, part=parts),
            caution=said(
                "Parallel strings feed a fault in their neighbour; charge both fully before joining them."
            ),
        ),
    )


def larger_charger(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the next larger alternator chargers."""
    for placed, charger in found.design.placed(AlternatorCharger):
        larger = sorted(
            (
                part
                for part in catalogue.of_kind(AlternatorCharger)
                if part.input_nominal_v == charger.input_nominal_v
                and part.output_nominal_v == charger.output_nominal_v
                and part.output_max_a > charger.output_max_a
            ),
            key=_output_a,
        )
        yield _replacements(job, placed, tuple(larger), kind="charger")


def larger_converter(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the next larger converters in place of one that cannot give what it feeds."""
    short = {f.subject for f in found.findings if f.rule == "converter-load" and f.severity in TROUBLE}
    for placed, converter in found.design.placed(Converter):
        if placed.id not in short:
            continue
        larger = sorted(
            (
                part
                for part in catalogue.of_kind(Converter)
                if part.input_nominal_v == converter.input_nominal_v
                and part.output_nominal_v == converter.output_nominal_v
                and part.output_max_a > converter.output_max_a
            ),
            key=_output_a,
        )
        yield _replacements(job, placed, tuple(larger), kind="converter")


def _output_a(part: AlternatorCharger | Converter) -> float:
    return part.output_max_a

"""Rule on negatives: as strong as their positives, and tied to the metal of the vehicle at one place."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import effective_area_mm2, largest_device_a, run_capacity
from ampwright.assessment.circuits import Circuit
from ampwright.assessment.reach import reached
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import cable_text, part_source, run_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignBond, DesignRun
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.protection import Breaker, Fuse
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, Source

__all__ = ["EARTH_AND_POLARITY"]

WIRING = Group.WIRING
LEAST_BOND_MM2 = 8.36
"""8 AWG, the least tie of a battery to the chassis of a park trailer."""
LEAST_BOND_SOURCE = Source(
    document="NFPA 70 (NEC) 552.10", edition="2008", place="bonding of the battery circuit"
)
MEASURE = said(
    "Write [[bond]] with the place and the cable. Before the main fuse goes in: less than 1 "
    "ohm from battery negative to the metal with the tie in, open without it; and each "
    "positive against its negative with the meter's red lead on it."
)
COUPLING = said("Current that returns through a coupling or a hinge burns it and fails when it rusts.")

finding = partial(Finding, rule="earth-and-polarity", group=WIRING)


def _earth_and_polarity(design: Design, studies: Studies) -> Iterator[Finding]:
    yield from _thin_negatives(design, studies)
    yield from _chassis_returns(design, studies)
    if not design.bonds:
        yield finding(
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "Where battery negative is tied to the metal of the vehicle, and with what cable, is not "
                "said."
            ),
            way_out=MEASURE,
        )
        return
    yield from _ties(design)
    yield from _second_ties(design)


def _thin_negatives(design: Design, studies: Studies) -> Iterator[Finding]:
    """Yield a finding for each return smaller than its positive, and one for all others."""
    full = 0
    for run in design.runs:
        back = run.back_cable
        if back is None:
            continue
        if effective_area_mm2(back) >= effective_area_mm2(run.cable):
            full += 1
            continue
        yield _thin(design, run, studies.circuits.by_run[run.index])
    if full:
        yield finding(
            severity=Severity.PASS,
            subject=design.job.job.id,
            message=said(
                "{full} negatives are as large as their positives, as drawn; a meter shows whether they "
                "are so built.",
                full=full,
            ),
        )


def _thin(design: Design, run: DesignRun, circuit: Circuit) -> Finding:
    back = run.back_cable or run.cable
    told = said("{run}: its negative has only {cable}", run=run_text(run), cable=cable_text(back))
    capacity = run_capacity(design, run, cable=back)
    guards = [guard for guard in (circuit.own, circuit.upstream) if guard is not None]
    if circuit.why_unknown or not capacity.is_known or not guards:
        return finding(
            severity=Severity.NOT_CHECKED,
            subject=run.id,
            message=said(
                "{told}; what protects it could not be judged ({why_unknown}).",
                told=told,
                why_unknown=circuit.why_unknown or capacity.note or said("no device"),
            ),
            way_out=said("Use the same cable out and back."),
        )
    guard = min(guards, key=lambda each: each.rating_a)
    limit = largest_device_a(design, capacity.current_a, device=guard.part)
    is_over = guard.rating_a > limit.rating_a
    return finding(
        severity=Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=said(
            "{told}, which allows a device of {rating_a:.0f} A; {device} has {rating_a_2:g} A.",
            told=told,
            rating_a=limit.rating_a,
            device=guard.device.id,
            rating_a_2=guard.rating_a,
        ),
        value=guard.rating_a,
        limit=limit.rating_a,
        unit="A",
        source=limit.source,
        way_out=said("Use the same cable out and back.") if is_over else "",
        caution=said("The negative burns before the device opens.") if is_over else "",
    )


def _chassis_returns(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold each return through metal: never through a plug or from the trailer, and never without a tie."""
    tied = {bond.metal for bond in design.bonds}
    for run in design.runs:
        if run.back_cable is not None:
            continue
        if run.plugs or _crosses(design, run):
            yield finding(
                severity=Severity.FAIL,
                subject=run.id,
                message=said(
                    "{run}: returns through metal, and leaves the {part_of} or passes a plug.",
                    run=run_text(run),
                    part_of=said(run.part_of),
                ),
                source=COMMON_PRACTICE,
                way_out=said("Give it a return conductor of its own through the plug."),
                caution=COUPLING,
            )
        elif (
            design.bonds
            and run.part_of not in tied
            and studies.circuits.by_run[run.index].root_kind == "battery"
        ):
            yield finding(
                severity=Severity.FAIL,
                subject=run.id,
                message=said(
                    "{run}: returns through the {part_of}'s metal, which no tie joins to the battery.",
                    run=run_text(run),
                    part_of=said(run.part_of),
                ),
                source=COMMON_PRACTICE,
                way_out=said("Tie the negative to that metal, or give the run a return conductor."),
                caution=COUPLING,
            )


def _crosses(design: Design, run: DesignRun) -> bool:
    """Tell whether one end of a run is carried by something else than the run."""
    carried = {placed.id: placed.part_of for placed in design.parts} | {
        load.id: load.part_of for load in design.loads
    }
    ends = {
        carried.get(design.nodes[node].split(".")[0]) or carried.get(design.nodes[node])
        for node in (run.start, run.end)
    }
    carriers = {each for each in ends if each is not None}
    return len(carriers | {run.part_of}) > 1


def _ties(design: Design) -> Iterator[Finding]:
    """Hold the ties of the auxiliary battery's net: one for each metal, strong enough for the largest device."""
    net = reached(design, design.node_of(design.parts[design.battery].id))
    for metal in sorted({bond.metal for bond in design.bonds}):
        here = [bond for bond in design.bonds if bond.metal == metal and bond.node in net]
        if len(here) > 1:
            places = said_together((design.nodes[bond.node] for bond in here), between=", ")
            yield finding(
                severity=Severity.CONDITION,
                subject=design.job.job.id,
                message=said(
                    "The negative is tied to the {metal}'s metal at {here_count} places ({places}): current "
                    "divides between cable and metal, and past a current sensor.",
                    metal=said(metal),
                    here_count=len(here),
                    places=places,
                ),
                source=COMMON_PRACTICE,
                way_out=said("Keep one tie, near the battery."),
            )
        elif here:
            yield _tie(design, here[0])
        else:
            yield finding(
                severity=Severity.NOT_CHECKED,
                subject=design.job.job.id,
                message=said(
                    "The tie to the {metal}'s metal does not hang on the auxiliary battery.",
                    metal=said(metal),
                ),
                way_out=MEASURE,
            )


def _tie(design: Design, bond: DesignBond) -> Finding:
    where = said(
        "Negative is tied to the {metal}'s metal at {nodes} with {cable}",
        metal=said(bond.metal),
        nodes=design.nodes[bond.node],
        cable=cable_text(bond.cable),
    )
    if design.job.job.region == "us-ca" and bond.cable.area_mm2 < LEAST_BOND_MM2:
        return finding(
            severity=Severity.CONDITION,
            subject=design.job.job.id,
            message=said("{where}; at least 8 AWG is asked.", where=where),
            value=bond.cable.area_mm2,
            limit=LEAST_BOND_MM2,
            unit="mm²",
            at_most=False,
            source=LEAST_BOND_SOURCE,
            way_out=said("Use a larger cable for the tie."),
        )
    weak = _too_large_device(design, bond)
    if weak is not None:
        name, rating_a, limit_a = weak
        return finding(
            severity=Severity.CONDITION,
            subject=design.job.job.id,
            message=said(
                "{where}, which allows a device of {limit_a:.0f} A; a fault to the metal flows through "
                "{name}, {rating_a:g} A.",
                where=where,
                limit_a=limit_a,
                name=name,
                rating_a=rating_a,
            ),
            value=rating_a,
            limit=limit_a,
            unit="A",
            source=COMMON_PRACTICE,
            way_out=said("Use a cable for the tie that the battery's own device protects."),
            caution=said("The tie burns before the device opens."),
        )
    return finding(
        severity=Severity.PASS,
        subject=design.job.job.id,
        message=said("{where}.", where=where),
        source=COMMON_PRACTICE,
    )


def _too_large_device(design: Design, bond: DesignBond) -> tuple[str, float, float] | None:
    """Return the largest device at the battery, its rating and what the tie allows, where that is too little."""
    battery = design.node_of(design.parts[design.battery].id)
    found = [
        (device.id, device.part, run)
        for run in design.runs
        if battery in {run.start, run.end}
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    for name, part, run in sorted(found, key=lambda each: -each[1].rating_a)[:1]:
        capacity = run_capacity(design, run, cable=bond.cable)
        limit_a = largest_device_a(design, capacity.current_a, device=part).rating_a
        if part.rating_a > limit_a:
            return name, part.rating_a, limit_a
    return None


def _second_ties(design: Design) -> Iterator[Finding]:
    """Yield a finding for each alternator charger that joins the negatives of its two sides, or does not state it."""
    for placed, part in design.placed(AlternatorCharger):
        if part.is_isolated:
            continue
        is_stated = part.is_isolated is False
        yield finding(
            severity=Severity.ADVICE if is_stated else Severity.NOT_CHECKED,
            subject=placed.id,
            message=said(
                "{part} joins the negatives of both batteries inside: its return is a second way beside "
                "the tie.",
                part=placed.id,
            )
            if is_stated
            else said(
                "{part}: whether it joins the negatives of both batteries inside is not stated.",
                part=placed.id,
            ),
            source=part_source(part),
            way_out=said("Give its return the cable its device allows; a bad tie shows there first, as heat.")
            if is_stated
            else said("Measure between its two negatives with nothing connected."),
        )


EARTH_AND_POLARITY = Rule(
    name="earth-and-polarity",
    group=WIRING,
    asks="Are all negatives as strong as their positives, and tied to the metal of the vehicle at one place?",
    check=_earth_and_polarity,
)

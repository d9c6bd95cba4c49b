"""Rules on cables' ends: does the conductor fit its terminals, and do these stay within their temperature."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import Capacity, run_capacity, table_capacity
from ampwright.assessment.ends import CableEnd, cable_ends, parts_at_nodes
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import cable_text, part_source, run_text, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import BusBar, Plug
from ampwright.records import record
from ampwright.sources import COMMON_PRACTICE, Source
from ampwright.standards.din_46235.lugs import LUG_SOURCE, lug_for

__all__ = ["LUGS_MAX_COUNT", "TERMINALS_FIT", "TERMINAL_TEMPERATURE"]

WIRING = Group.WIRING
LUGS_MAX_COUNT = 4
"""Lugs on one stud (ISO 13297 and ISO 10133, from memory)."""
LUGS_SOURCE = Source(
    document="ISO 13297 and ISO 10133", place="conductors on one stud", standing="from memory"
)
LOWEST_CLASS_DEGC = 60.0
"""Terminals that say nothing count as the lowest class in use (NFPA 70, 110.14(C), from memory)."""
CLASS_SOURCE = Source(
    document="NFPA 70, 110.14(C): a conductor's current at a terminal is that of the terminal's class",
    standing="from memory",
)
HEAT = "A terminal that gets too hot loosens, heats more and can burn."


def _terminals_fit(design: Design, _: Studies) -> Iterator[Finding]:
    at_nodes = parts_at_nodes(design)
    not_said: dict[str, None] = {}
    for run in design.runs:
        ends = [end for end in cable_ends(design, run, at_nodes) if not isinstance(end.part, Plug)]
        not_said |= dict.fromkeys(end.part.id for end in ends if end.form == "")
        said = [end for end in ends if end.form]
        if said:
            yield _fit_finding(run, said)
    yield from _stud_findings(design, at_nodes)
    if not_said:
        yield Finding(
            rule="terminals-fit",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=f"Nothing is said of the terminals of {', '.join(not_said)}: whether the cables fit was not checked.",
            way_out="Give terminal, and stud_mm or terminal_max_mm2, in the part's data.",
        )


def _conductors(run: DesignRun) -> tuple[Cable, ...]:
    return tuple(dict.fromkeys((run.cable, *((run.back_cable,) if run.back_cable else ()))))


def _fit_finding(run: DesignRun, ends: list[CableEnd]) -> Finding:
    """Return the worst that is to be said of one run's ends."""
    make = partial(Finding, rule="terminals-fit", group=WIRING, subject=run.id)
    mild: Finding | None = None
    for end in ends:
        for cable in _conductors(run):
            if end.form == "stud":
                lug = lug_for(cable.area_mm2)
                if lug is None or not lug.fits(end.part.stud_mm):
                    mild = mild or make(
                        severity=Severity.CONDITION,
                        message=f"{run_text(run)}: no usual cable lug for {cable_text(cable)} goes on the M{end.part.stud_mm:g} stud "
                        f"of {end.where}.",
                        source=LUG_SOURCE,
                        way_out="Find a lug for that stud, or lead the cable to a bar; never drill a lug or part strands.",
                    )
            elif cable.area_mm2 > end.max_mm2:
                return make(
                    severity=Severity.FAIL,
                    message=f"{run_text(run)}: the {end.form} of {end.where} takes up to {end.max_mm2:g} mm², the conductor has "
                    f"{cable_text(cable)}.",
                    value=cable.area_mm2,
                    limit=end.max_mm2,
                    unit="mm²",
                    source=part_source(end.part),
                    way_out="Use a smaller cable if every other rule allows, or a bar or part with larger terminals; "
                    "never cut strands away.",
                    caution=HEAT,
                )
            elif cable.area_mm2 < end.min_mm2:
                mild = mild or make(
                    severity=Severity.CONDITION,
                    message=f"{run_text(run)}: the {end.form} of {end.where} holds from {end.min_mm2:g} mm², the conductor has "
                    f"{cable_text(cable)}.",
                    value=cable.area_mm2,
                    limit=end.min_mm2,
                    unit="mm²",
                    at_most=False,
                    source=part_source(end.part),
                    way_out="Crimp a ferrule or sleeve that the terminal holds, or use a larger cable.",
                )
    places = ", ".join(end.where for end in ends)
    return mild or make(severity=Severity.PASS, message=f"{run_text(run)}: fits {places}.")


def _stud_findings(design: Design, at_nodes: dict[int, DesignPart]) -> Iterator[Finding]:
    """Yield one finding for each node of a part: how many cables are put on it."""
    counts = Counter(node for run in design.runs for node in (run.start, run.end))
    ends = [end for run in design.runs for end in cable_ends(design, run, at_nodes)]
    forms = {end.node: end.form for end in ends if end.node >= 0 and end.form}
    for node, form in forms.items():
        placed, count = at_nodes[node], counts[node]
        part, is_stud = placed.part, form == "stud"
        studs = part.stud_count if isinstance(part, BusBar) else 1
        most = studs * (LUGS_MAX_COUNT if is_stud else 1)
        is_over = count > most
        each = f"{studs} studs with at most {LUGS_MAX_COUNT} lugs each" if studs > 1 else "one stud"
        yield Finding(
            rule="terminals-fit",
            group=WIRING,
            severity=Severity.CONDITION if is_over else Severity.PASS,
            subject=placed.id,
            message=f"{design.nodes[node]}: {count} cable{'s' if count > 1 else ''} on "
            + (f"{each}; at most {most}." if is_stud else f"one {form}; one conductor each."),
            value=float(count),
            limit=float(most),
            source=LUGS_SOURCE if is_stud else COMMON_PRACTICE,
            way_out="Lead the cables to a bus bar." if is_over else "",
        )


@record
class _Hottest:
    """The end of a run whose terminal allows least."""

    where: str
    """Part or device in words."""
    class_degc: float
    """Temperature class counted with."""
    is_said: bool
    """False where the part does not say its class."""
    ambient_degc: float
    """Hottest air around it."""
    capacity: Capacity
    """Current of the weaker conductor at that class."""


def _terminal_temperature(design: Design, studies: Studies) -> Iterator[Finding]:
    at_nodes = parts_at_nodes(design)
    for run in design.runs:
        current_a = float(studies.network.peak_a[run.index])
        found = [_at_end(design, run, end) for end in cable_ends(design, run, at_nodes)]
        known = [each for each in found if each.capacity.is_known]
        if not known or current_a > run_capacity(design, run).current_a:
            continue  # cable-capacity says it already, or there is no terminal at either end
        if math.isnan(current_a):
            yield Finding(
                rule="terminal-temperature",
                group=WIRING,
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=f"{run_text(run)}: its largest current is not known, so neither are its terminals' temperatures.",
                way_out="Mend what keeps the network from being solved.",
            )
            continue
        said = [each for each in known if each.is_said]
        worst = min(said, key=_current, default=None)
        if worst is None or worst.capacity.current_a >= current_a:
            worst = min(known, key=_current)
        yield _heat_finding(design, run, worst, current_a)


def _current(hottest: _Hottest) -> float:
    return hottest.capacity.current_a


def _at_end(design: Design, run: DesignRun, end: CableEnd) -> _Hottest:
    is_said = end.part.terminal_degc > 0.0
    class_degc = end.part.terminal_degc if is_said else LOWEST_CLASS_DEGC
    found = [
        table_capacity(
            design,
            cable,
            rated_degc=min(class_degc, cable.insulation_degc),
            ambient_degc=end.ambient_degc,
        )
        for cable in _conductors(run)
    ]
    unknown = [each for each in found if not each.is_known]
    return _Hottest(
        where=end.where,
        class_degc=class_degc,
        is_said=is_said,
        ambient_degc=end.ambient_degc,
        capacity=unknown[0] if unknown else min(found, key=_capacity_a),
    )


def _capacity_a(capacity: Capacity) -> float:
    return capacity.current_a


def _heat_finding(design: Design, run: DesignRun, worst: _Hottest, current_a: float) -> Finding:
    limit_a = worst.capacity.current_a
    is_over = current_a > limit_a
    unsure = is_over and not worst.is_said
    of_class = f"{worst.class_degc:g} °C" + ("" if worst.is_said else " (its class is not said)")
    return Finding(
        rule="terminal-temperature",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unsure else Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=f"{run_text(run)}: carries {current_a:.1f} A; at the terminal of {worst.where}, {of_class}, it may carry "
        f"{limit_a:.1f} A in air of {temperature_text(design, worst.ambient_degc)}.",
        value=current_a,
        limit=limit_a,
        unit="A",
        source=CLASS_SOURCE,
        way_out=""
        if not is_over
        else "Look up the temperature its terminals may reach and give terminal_degc."
        if unsure
        else "Use a larger cable: more copper runs cooler at its ends; better insulation does not help.",
        caution=HEAT if is_over and not unsure else "",
    )


TERMINALS_FIT = Rule(
    name="terminals-fit",
    group=WIRING,
    asks="Does each cable fit the stud, clamp or blade at both its ends and at its devices, and not too many on one?",
    check=_terminals_fit,
)
TERMINAL_TEMPERATURE = Rule(
    name="terminal-temperature",
    group=WIRING,
    asks="Does each terminal, device and plug stay within its temperature class at the cable's largest current?",
    check=_terminal_temperature,
)

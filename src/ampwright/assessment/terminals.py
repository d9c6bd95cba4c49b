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
from ampwright.said import said, said_together
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
HEAT = said("A terminal that gets too hot loosens, heats more and can burn.")


def _terminals_fit(design: Design, _: Studies) -> Iterator[Finding]:
    at_nodes = parts_at_nodes(design)
    not_said: dict[str, None] = {}
    for run in design.runs:
        ends = [end for end in cable_ends(design, run, at_nodes) if not isinstance(end.part, Plug)]
        not_said |= dict.fromkeys(end.part.id for end in ends if end.form == "")
        told = [end for end in ends if end.form]
        if told:
            yield _fit_finding(run, told)
    yield from _stud_findings(design, at_nodes)
    if not_said:
        yield Finding(
            rule="terminals-fit",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "Nothing is said of the terminals of {not_said}: whether the cables fit was not checked.",
                not_said=said_together(not_said, between=", "),
            ),
            way_out=said("Give terminal, and stud_mm or terminal_max_mm2, in the part's data."),
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
                        message=said(
                            "{run}: no usual cable lug for {cable} goes on the M{stud_mm:g} stud of {where}.",
                            run=run_text(run),
                            cable=cable_text(cable),
                            stud_mm=end.part.stud_mm,
                            where=end.where,
                        ),
                        source=LUG_SOURCE,
                        way_out=said(
                            "Find a lug for that stud, or lead the cable to a bar; never drill a lug or part strands."
                        ),
                    )
            elif cable.area_mm2 > end.max_mm2:
                return make(
                    severity=Severity.FAIL,
                    message=said(
                        "{run}: the {form} of {where} takes up to {max_mm2:g} mm², the conductor has {cable}.",
                        run=run_text(run),
                        form=said(end.form),
                        where=end.where,
                        max_mm2=end.max_mm2,
                        cable=cable_text(cable),
                    ),
                    value=cable.area_mm2,
                    limit=end.max_mm2,
                    unit="mm²",
                    source=part_source(end.part),
                    way_out=said(
                        "Use a smaller cable if every other rule allows, or a bar or part with larger terminals; "
                        "never cut strands away."
                    ),
                    caution=HEAT,
                )
            elif cable.area_mm2 < end.min_mm2:
                mild = mild or make(
                    severity=Severity.CONDITION,
                    message=said(
                        "{run}: the {form} of {where} holds from {min_mm2:g} mm², the conductor has {cable}.",
                        run=run_text(run),
                        form=said(end.form),
                        where=end.where,
                        min_mm2=end.min_mm2,
                        cable=cable_text(cable),
                    ),
                    value=cable.area_mm2,
                    limit=end.min_mm2,
                    unit="mm²",
                    at_most=False,
                    source=part_source(end.part),
                    way_out=said("Crimp a ferrule or sleeve that the terminal holds, or use a larger cable."),
                )
    places = said_together((end.where for end in ends), between=", ")
    return mild or make(
        severity=Severity.PASS, message=said("{run}: fits {places}.", run=run_text(run), places=places)
    )


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
        each = (
            said(
                "{studs} studs with at most {lugs_max_count} lugs each",
                studs=studs,
                lugs_max_count=LUGS_MAX_COUNT,
            )
            if studs > 1
            else said("one stud")
        )
        yield Finding(
            rule="terminals-fit",
            group=WIRING,
            severity=Severity.CONDITION if is_over else Severity.PASS,
            subject=placed.id,
            message=(
                said("{node}: {count} cables on ", node=design.nodes[node], count=count)
                if count > 1
                else said("{node}: 1 cable on ", node=design.nodes[node])
            )
            + (
                said("{each}; at most {most}.", each=each, most=most)
                if is_stud
                else said("one {form}; one conductor each.", form=said(form))
            ),
            value=float(count),
            limit=float(most),
            source=LUGS_SOURCE if is_stud else COMMON_PRACTICE,
            way_out=said("Lead the cables to a bus bar.") if is_over else "",
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
                message=said(
                    "{run}: its largest current is not known, so neither are its terminals' temperatures.",
                    run=run_text(run),
                ),
                way_out=said("Mend what keeps the network from being solved."),
            )
            continue
        told = [each for each in known if each.is_said]
        worst = min(told, key=_current, default=None)
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
    of_class = said("{class_degc:g} °C", class_degc=worst.class_degc) + (
        "" if worst.is_said else said(" (its class is not said)")
    )
    return Finding(
        rule="terminal-temperature",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unsure else Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=said(
            "{run}: carries {current_a:.1f} A; at the terminal of {where}, {of_class}, it may carry "
            "{limit_a:.1f} A in air of {temperature}.",
            run=run_text(run),
            current_a=current_a,
            where=worst.where,
            of_class=of_class,
            limit_a=limit_a,
            temperature=temperature_text(design, worst.ambient_degc),
        ),
        value=current_a,
        limit=limit_a,
        unit="A",
        source=CLASS_SOURCE,
        way_out=""
        if not is_over
        else said("Look up the temperature its terminals may reach and give terminal_degc.")
        if unsure
        else said(
            "Use a larger cable: more copper runs cooler at its ends; better insulation does not help."
        ),
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

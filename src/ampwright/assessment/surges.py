"""Rules on the vehicle's side: load dump, jump start and reversed battery, and the sag while the engine starts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.reach import reached
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.network.short_corners import CRANK_S, CRANK_SOURCE
from ampwright.parts.base import SuppliedPart
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.relay import Relay
from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.sources import Source

__all__ = ["ENGINE_START", "LOAD_DUMP"]

WIRING = Group.WIRING
CLAMPED_V = {12.0: 35.0, 24.0: 58.0}
"""Peak of a load dump where the alternator clamps it, by nominal voltage (58 V is a usual value)."""
UNCLAMPED_V = {12.0: 101.0, 24.0: 202.0}
"""Peak of a load dump where nothing clamps it, the severe level, by nominal voltage."""
LOAD_DUMP_SOURCE = Source(
    document="ISO 16750-2", edition="2012", place="4.6.4, tests A and B", standing="second hand"
)
JUMP_START_V = {12.0: 24.0}
"""A 12 V vehicle started from a 24 V one, for 60 s; ISO 16750-2 4.3.1 (from memory)."""
REVERSED_V = {12.0: 14.0, 24.0: 28.0}
"""Battery the wrong way round, fuses still whole, for 60 s; ISO 16750-2 4.7 (from memory)."""
NEVER = said("Never take a battery off while the engine runs.")


@record
class _Stands:
    """What one part or load on the vehicle's side survives; None = not stated."""

    subject: str
    """Its name."""
    minute_v: float | None
    """For a minute."""
    surge_v: float | None
    """For the length of a load dump."""
    reverse_v: float | None
    """With the poles exchanged."""
    is_jump_started: bool
    """True where a jump start of the engine comes to it: on the starter battery's side."""


def _vehicle_side(design: Design, *, names: tuple[str, ...] = (STARTER_NODE,)) -> frozenset[int]:
    """Return what hangs on the vehicle's nodes of these names with neither charger nor relay between."""
    relays = frozenset(
        i for i, link in enumerate(design.links) if isinstance(design.parts[link.part].part, Relay)
    )
    found: frozenset[int] = frozenset()
    for name in names:
        if design.node_of(name) >= 0:
            found |= reached(design, design.node_of(name), without_links=relays)
    return found


def _parts_there(design: Design, nodes: frozenset[int]) -> Iterator[tuple[str, SuppliedPart]]:
    names = {design.nodes[node] for node in nodes}
    for placed in design.parts:
        terminals = {placed.id, f"{placed.id}.in", f"{placed.id}.out"}
        if isinstance(placed.part, SuppliedPart) and terminals & names:
            yield placed.id, placed.part


def _standing(design: Design) -> Iterator[_Stands]:
    nodes, started = _vehicle_side(design, names=(STARTER_NODE, SECOND_NODE)), _vehicle_side(design)
    at_starter = {name for name, _ in _parts_there(design, started)}
    for name, part in _parts_there(design, nodes):
        lasting_v = part.input_max_v if isinstance(part, AlternatorCharger | Converter) else None
        yield _Stands(
            subject=name,
            minute_v=part.survives_minute_v or lasting_v,
            surge_v=part.survives_surge_v,
            reverse_v=part.survives_reverse_v,
            is_jump_started=name in at_starter,
        )
    for load in design.loads:
        if load.node in nodes:
            yield _Stands(
                subject=load.id,
                minute_v=load.max_v,
                surge_v=load.survives_surge_v,
                reverse_v=load.survives_reverse_v,
                is_jump_started=load.node in started,
            )


def _load_dump(design: Design, _: Studies) -> Iterator[Finding]:
    """Yield one finding for all that is too weak, one for all that states nothing, one for the rest."""
    if not design.vehicle.has_alternator:
        return
    weak: list[tuple[str, str]] = []
    unsaid: list[tuple[str, str]] = []
    sound: list[tuple[str, str]] = []
    for each in _standing(design):
        too_weak, open_questions = _weighed(design, each)
        if too_weak:
            weak.append(
                (
                    each.subject,
                    said(
                        "{subject} ({too_weak})",
                        subject=each.subject,
                        too_weak=said_together(too_weak, between=", "),
                    ),
                )
            )
        elif open_questions:
            unsaid.append(
                (
                    each.subject,
                    said(
                        "{subject} ({open_questions})",
                        subject=each.subject,
                        open_questions=said_together(open_questions, between=", "),
                    ),
                )
            )
        else:
            sound.append((each.subject, each.subject))
    for severity, found, told, way_out in (
        (
            Severity.CONDITION,
            weak,
            said("Hangs on an alternator and does not survive what may come there"),
            said(
                "Put a load dump suppressor at its feed, or use parts made for vehicles. {never}", never=NEVER
            ),
        ),
        (
            Severity.NOT_CHECKED,
            unsaid,
            said("Hangs on an alternator, and not stated is"),
            said("Ask the makers for the levels of ISO 16750-2. {never}", never=NEVER),
        ),
        (Severity.PASS, sound, said("Survives load dump, jump start and a reversed battery"), ""),
    ):
        if found:
            yield Finding(
                rule="load-dump",
                group=WIRING,
                severity=severity,
                subject=found[0][0] if len(found) == 1 else design.job.job.id,
                message=said(
                    "{told}: {text}.",
                    told=told,
                    text=said_together((text for _, text in found), between="; "),
                ),
                source=LOAD_DUMP_SOURCE,
                way_out=way_out,
            )


def _weighed(design: Design, each: _Stands) -> tuple[list[str], list[str]]:
    """Return what is too much for it, and what cannot be said of it."""
    system_v = design.vehicle.system_v
    open_questions: list[str] = []
    too_weak: list[str] = []
    clamps = design.vehicle.clamps_load_dump
    low_v, high_v = CLAMPED_V[system_v], UNCLAMPED_V[system_v]
    if each.surge_v is None:
        open_questions.append(
            said("load dump: {low_v:g} V clamped, {high_v:g} V not", low_v=low_v, high_v=high_v)
        )
    elif each.surge_v < low_v or (clamps is False and each.surge_v < high_v):
        wanted_v = high_v if clamps is False else low_v
        too_weak.append(
            said(
                "a load dump reaches {wanted_v:g} V, it survives {surge_v:g} V",
                wanted_v=wanted_v,
                surge_v=each.surge_v,
            )
        )
    elif clamps is None and each.surge_v < high_v:
        open_questions.append(
            said("{surge_v:g} V is enough only if the alternator clamps load dump", surge_v=each.surge_v)
        )
    for asked, stated_v, what in (
        (
            JUMP_START_V.get(system_v) if each.is_jump_started else None,
            each.minute_v,
            said("a jump start from 24 V"),
        ),
        (REVERSED_V[system_v], each.reverse_v, said("a reversed battery")),
    ):
        if asked is None:
            continue
        if stated_v is None:
            open_questions.append(what)
        elif stated_v < asked:
            too_weak.append(
                said(
                    "{what} puts {asked:g} V on it, it survives {stated_v:g} V",
                    what=what,
                    asked=asked,
                    stated_v=stated_v,
                )
            )
    return too_weak, open_questions


def _works_from_v(part: SuppliedPart) -> float | None:
    """Return the lowest supply voltage a part works at; None = not stated."""
    if isinstance(part, Inverter):
        return part.input_min_v
    return part.input_stop_v if isinstance(part, Converter) else part.works_from_v


def _engine_start(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what hangs on the starter battery against its sag; what a charger isolates is not asked."""
    nodes = _vehicle_side(design)
    asked = [(load.id, load.node, load.min_v) for load in design.loads if load.node in nodes]
    for name, part in _parts_there(design, nodes):
        if isinstance(part, AlternatorCharger):
            continue  # it locks out for that second and begins again
        node = next(n for n in (design.node_of(f"{name}{end}") for end in ("", ".in", ".out")) if n in nodes)
        asked.append((name, node, _works_from_v(part)))
    make = partial(Finding, rule="engine-start", group=Group.USE, unit="V", source=CRANK_SOURCE)
    unsaid: list[str] = []
    for name, node, works_from_v in asked:
        voltage_v = float(studies.network.crank_v[node])
        if works_from_v is None or math.isnan(voltage_v):
            unsaid.append(name)
            continue
        is_low = voltage_v < works_from_v
        yield make(
            severity=Severity.CONDITION if is_low else Severity.PASS,
            subject=name,
            message=said(
                "{name}: {voltage_v:.1f} V for about {crank_s:g} s while the engine starts; works from "
                "{works_from_v:g} V",
                name=name,
                voltage_v=voltage_v,
                crank_s=CRANK_S,
                works_from_v=works_from_v,
            )
            + (said(": it drops out and starts again.") if is_low else "."),
            value=voltage_v,
            limit=works_from_v,
            at_most=False,
            way_out=said("Feed it from the auxiliary battery behind a charger.") if is_low else "",
        )
    if unsaid:
        yield make(
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "The starter battery sags while the engine starts; whether {unsaid} stay up is not known.",
                unsaid=said_together(unsaid, between=", "),
            ),
            way_out=said("Find the lowest voltage each works at, or feed it from the auxiliary battery."),
        )


LOAD_DUMP = Rule(
    name="load-dump",
    group=WIRING,
    asks="Do the parts on the vehicle's side survive load dump, jump start and a reversed battery?",
    check=_load_dump,
)
ENGINE_START = Rule(
    name="engine-start",
    group=Group.USE,
    asks="Does what hangs on the starter battery stay up while the engine starts?",
    check=_engine_start,
)

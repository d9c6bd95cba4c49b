"""Rule on polarised breakers: each one breaks current in one direction only."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.reach import feeding_nodes, reached
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.protection import Breaker
from ampwright.said import said, said_together

__all__ = ["BREAKER_POLARITY"]

WIRING = Group.WIRING
MOST_NAMES = 3
"""Sources named on one side before the rest is only counted."""
BURNS = said("A polarised breaker that opens against its mark goes on arcing and burns.")


def _breaker_polarity(design: Design, _: Studies) -> Iterator[Finding]:
    feeds = feeding_nodes(design)
    for run in design.runs:
        sides = None
        for device in run.devices:
            if isinstance(device.part, Breaker):
                sides = sides or _sides(design, run, feeds)
                yield _in_run(design, run, (device.id, device.part), sides)
    for placed in design.parts:
        part = placed.string_device
        if isinstance(part, Breaker):
            yield _in_string(placed.id, placed.strings, part)


def _sides(design: Design, run: DesignRun, feeds: dict[int, str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what can feed current into a run from its start and from its end, the run itself taken away."""
    start, end = (
        tuple(
            sorted(
                feeds[node]
                for node in reached(design, node_at, without_runs=frozenset((run.index,))) & feeds.keys()
            )
        )
        for node_at in (run.start, run.end)
    )
    return start, end


def _in_run(
    design: Design,
    run: DesignRun,
    device: tuple[str, Breaker],
    sides: tuple[tuple[str, ...], tuple[str, ...]],
) -> Finding:
    name, part = device
    make = partial(Finding, rule="breaker-polarity", group=WIRING, subject=name, source=part_source(part))
    from_start, from_end = sides
    is_both = bool(from_start and from_end)
    where = said("{name} in run {run}", name=name, run=run.id)
    if part.is_polarised is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("{where}: its data do not say whether it is polarised.", where=where),
            way_out=said("Look for + and - or line and load marks on it; write is_polarised into its data."),
        )
    if not part.is_polarised:
        return make(
            severity=Severity.PASS, message=said("{where} breaks current in both directions.", where=where)
        )
    if is_both:
        return make(
            severity=Severity.FAIL,
            message=said(
                "{where} is polarised, and current can come from both sides: from {nodes} ({names}) and "
                "from {nodes_2} ({names_2}).",
                where=where,
                nodes=design.nodes[run.start],
                names=_names(from_start),
                nodes_2=design.nodes[run.end],
                names_2=_names(from_end),
            ),
            way_out=said("Use a breaker without polarity, or a fuse."),
            caution=BURNS,
        )
    if not (from_start or from_end):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("{where} is polarised; nothing feeds its run.", where=where),
        )
    source = run.start if from_start else run.end
    return make(
        severity=Severity.ADVICE,
        message=said(
            "{where} is polarised; all current comes from {nodes}.", where=where, nodes=design.nodes[source]
        ),
        way_out=said("Mount it with the end marked + or line towards {nodes}.", nodes=design.nodes[source]),
        caution=BURNS,
    )


def _in_string(placed_id: str, strings: int, part: Breaker) -> Finding:
    make = partial(
        Finding,
        rule="breaker-polarity",
        group=WIRING,
        subject=said("{placed_id} string", placed_id=placed_id),
        source=part_source(part),
    )
    if part.is_polarised is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{placed_id}: the data of its string breakers do not say whether they are polarised.",
                placed_id=placed_id,
            ),
            way_out=said("Look for + and - or line and load marks on them."),
        )
    is_wrong = part.is_polarised and strings > 1
    return make(
        severity=Severity.FAIL if is_wrong else Severity.ADVICE if part.is_polarised else Severity.PASS,
        message=said("{placed_id}: its string breakers ", placed_id=placed_id)
        + (said("are polarised") if part.is_polarised else said("break current in both directions"))
        + (said(", and a faulty string is fed backwards by the others.") if is_wrong else "."),
        way_out=said("Use fuses, or breakers without polarity.")
        if is_wrong
        else said("Mount it with the end marked + or line towards the source.")
        if part.is_polarised
        else "",
        caution=BURNS if part.is_polarised else "",
    )


def _names(names: tuple[str, ...]) -> str:
    more = len(names) - MOST_NAMES
    return said_together(names[:MOST_NAMES], between=", ") + (
        said(" and {more} more", more=more) if more > 0 else ""
    )


BREAKER_POLARITY = Rule(
    name="breaker-polarity",
    group=WIRING,
    asks="Does each breaker break current from every side it can come from?",
    check=_breaker_polarity,
    no_override="A breaker that opens against its mark goes on arcing: there is then no protection.",
)

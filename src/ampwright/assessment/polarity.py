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

__all__ = ["BREAKER_POLARITY"]

WIRING = Group.WIRING
MOST_NAMES = 3
"""Sources named on one side before the rest is only counted."""
BURNS = "A polarised breaker that opens against its mark goes on arcing and burns."


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
    where = f"{name} in run {run.id}"
    if part.is_polarised is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=f"{where}: its data do not say whether it is polarised.",
            way_out="Look for + and - or line and load marks on it; write is_polarised into its data.",
        )
    if not part.is_polarised:
        return make(severity=Severity.PASS, message=f"{where} breaks current in both directions.")
    if is_both:
        return make(
            severity=Severity.FAIL,
            message=f"{where} is polarised, and current can come from both sides: from {design.nodes[run.start]} "
            f"({_names(from_start)}) and from {design.nodes[run.end]} ({_names(from_end)}).",
            way_out="Use a breaker without polarity, or a fuse.",
            caution=BURNS,
        )
    if not (from_start or from_end):
        return make(severity=Severity.NOT_CHECKED, message=f"{where} is polarised; nothing feeds its run.")
    source = run.start if from_start else run.end
    return make(
        severity=Severity.ADVICE,
        message=f"{where} is polarised; all current comes from {design.nodes[source]}.",
        way_out=f"Mount it with the end marked + or line towards {design.nodes[source]}.",
        caution=BURNS,
    )


def _in_string(placed_id: str, strings: int, part: Breaker) -> Finding:
    make = partial(
        Finding,
        rule="breaker-polarity",
        group=WIRING,
        subject=f"{placed_id} string",
        source=part_source(part),
    )
    if part.is_polarised is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=f"{placed_id}: the data of its string breakers do not say whether they are polarised.",
            way_out="Look for + and - or line and load marks on them.",
        )
    is_wrong = part.is_polarised and strings > 1
    return make(
        severity=Severity.FAIL if is_wrong else Severity.ADVICE if part.is_polarised else Severity.PASS,
        message=f"{placed_id}: its string breakers "
        + ("are polarised" if part.is_polarised else "break current in both directions")
        + (", and a faulty string is fed backwards by the others." if is_wrong else "."),
        way_out="Use fuses, or breakers without polarity."
        if is_wrong
        else "Mount it with the end marked + or line towards the source."
        if part.is_polarised
        else "",
        caution=BURNS if part.is_polarised else "",
    )


def _names(names: tuple[str, ...]) -> str:
    more = len(names) - MOST_NAMES
    return ", ".join(names[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")


BREAKER_POLARITY = Rule(
    name="breaker-polarity",
    group=WIRING,
    asks="Does each breaker break current from every side it can come from?",
    check=_breaker_polarity,
    no_override="A breaker that opens against its mark goes on arcing: there is then no protection.",
)

"""Rule on 12 V taken from one of two batteries in series."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.nodes import MIDDLE, STARTER_NODE
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE

__all__ = ["BATTERY_TAP"]


def _battery_tap(design: Design, studies: Studies) -> Iterator[Finding]:
    """Find what hangs on the joint between two batteries in series: only the lower one gives it."""
    taps = [node for node, name in enumerate(design.nodes) if name.endswith(MIDDLE)]
    for node in taps:
        yield _tapped(design, studies, node)
    if not taps and design.vehicle.system_v == 24.0 and design.node_of(STARTER_NODE) >= 0:
        yield Finding(
            rule="battery-tap",
            group=Group.WIRING,
            severity=Severity.PASS,
            subject=STARTER_NODE,
            message=said("Nothing is taken between the two batteries of the 24 V vehicle."),
            source=COMMON_PRACTICE,
        )


def _tapped(design: Design, studies: Studies, node: int) -> Finding:
    reached, runs = _hanging_on(design, node)
    ends = {f"{placed.id}.in" for placed in design.parts}
    loads = [load for load in design.loads if load.node in reached]
    day_wh = sum(float(studies.energy.load_wh_per_day[load.index]) for load in loads)
    day_ah = day_wh / (0.5 * _whole_v(design, node))
    takers = [load.id for load in loads]
    takers += [design.nodes[other] for other in sorted(reached) if design.nodes[other] in ends]
    battery = design.nodes[node].removesuffix(MIDDLE)
    return Finding(
        rule="battery-tap",
        group=Group.WIRING,
        severity=Severity.FAIL,
        subject=design.nodes[node],
        message=said(
            "{takers} on {runs} takes half the voltage from one of the two batteries of {battery}: "
            "it gives {day_ah:.1f} Ah a day more than the other. In series both get the same charge, "
            "so the one is starved and the other overcharged.",
            takers=said_together(takers, between=", ") or said("something"),
            runs=said_together(runs, between=", ") or said("the joint itself"),
            battery=battery,
            day_ah=day_ah,
        ),
        value=day_ah,
        limit=0.0,
        unit="Ah",
        source=COMMON_PRACTICE,
        way_out=said(
            "Feed it from both batteries through a step-down converter (part kind converter), or "
            "from a battery of that voltage with a charger of its own."
        ),
        caution=said(
            "An overcharged battery gasses and can burst; the starved one leaves the vehicle standing."
        ),
    )


def _whole_v(design: Design, node: int) -> float:
    return design.vehicle.system_v if design.nodes[node].startswith(STARTER_NODE) else design.system_v


def _hanging_on(design: Design, node: int) -> tuple[set[int], list[str]]:
    """Return the nodes that runs and paths inside parts lead to from a tap, and the runs."""
    steps = [(run.start, run.end, run.id) for run in design.runs]
    steps += [(link.start, link.end, "") for link in design.links]
    reached, waiting, names = {node}, [node], list[str]()
    while waiting:
        here = waiting.pop()
        for start, end, name in steps:
            other = end if start == here else start if end == here else -1
            if other >= 0 and other not in reached:
                reached.add(other)
                waiting.append(other)
                names += [name] if name else []
    return reached, names


BATTERY_TAP = Rule(
    name="battery-tap",
    group=Group.WIRING,
    asks="Is nothing taken from one of two batteries in series?",
    check=_battery_tap,
)

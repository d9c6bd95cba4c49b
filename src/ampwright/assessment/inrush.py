"""Rule on inrush: does a starting compressor leave the devices closed."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.circuits import Circuit, Protection
from ampwright.assessment.fault_time import opening_band, rated_device
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.converters import sides_of
from ampwright.job.design import Design
from ampwright.said import said
from ampwright.sources import own_choice

__all__ = ["INRUSH"]

WIRING = Group.WIRING
INRUSH_S = 1.0
"""A compressor's start is reckoned to last this long (docs/choices.md#inrush-duration)."""


def _inrush(design: Design, studies: Studies) -> Iterator[Finding]:
    by_far = {c.far_node: c for c in studies.circuits.by_run if not c.why_unknown}
    extra_a: dict[tuple[int, str], float] = {}
    guards: dict[tuple[int, str], Protection] = {}
    sides = sides_of(design)
    for load in design.loads:
        if load.fridge is None or load.node < 0:
            continue
        running_a = load.power_w / sides.nominal_v[load.node]
        for guard in _guards(by_far, load.node):
            key = (guard.run, guard.device.id)
            guards[key] = guard
            # one motor starts at a time: others run on
            extra_a[key] = max(extra_a.get(key, 0.0), load.fridge.start_a * load.count - running_a)
    for key, guard in guards.items():
        yield _finding(design, studies, guard, extra_a[key])


def _guards(by_far: dict[int, Circuit], node: int) -> Iterator[Protection]:
    """Yield the devices between a node and the source, from the node upwards."""
    seen: set[int] = set()
    while node in by_far and node not in seen:
        seen.add(node)
        circuit = by_far[node]
        if circuit.own is not None:
            yield circuit.own
        elif circuit.upstream is not None and circuit.upstream.run not in seen:
            yield circuit.upstream
        node = circuit.feeding_node


def _finding(design: Design, studies: Studies, guard: Protection, extra_a: float) -> Finding:
    current_a = float(studies.network.peak_a[guard.run]) + max(extra_a, 0.0)
    band = None if math.isnan(current_a) else opening_band(rated_device(design, guard), current_a)
    if band is None:
        return Finding(
            rule="inrush",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=guard.device.id,
            message=said(
                "{device}: current or opening time at a compressor's start is not known.",
                device=guard.device.id,
            ),
        )
    opens = band.opening_min_s < INRUSH_S and current_a > guard.rating_a
    return Finding(
        rule="inrush",
        group=WIRING,
        severity=Severity.CONDITION if opens else Severity.PASS,
        subject=guard.device.id,
        message=said(
            "{device}, {rating_a:g} A: carries up to {current_a:.1f} A for {inrush_s:g} s when a "
            "compressor starts while the rest is at its peak; ",
            device=guard.device.id,
            rating_a=guard.rating_a,
            current_a=current_a,
            inrush_s=INRUSH_S,
        )
        + (
            said("it may open after {opening_min_s:.3g} s.", opening_min_s=band.opening_min_s)
            if opens
            else said("it stays closed.")
        ),
        value=band.opening_min_s if opens else None,
        limit=INRUSH_S if opens else None,
        unit="s",
        at_most=False,
        source=band.source if opens else own_choice("inrush-duration"),
        way_out=said("A slower or larger device where the cable allows it.") if opens else "",
    )


INRUSH = Rule(
    name="inrush",
    group=WIRING,
    asks="Do starting compressors leave the devices closed?",
    check=_inrush,
)

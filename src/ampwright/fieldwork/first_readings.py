"""Readings taken before the last fuse goes in: what to expect, and when to stop.

Answers whether a finished installation may be joined to its battery. A reading that is not expected stops the work; what
is found then belongs to whoever mends it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from ampwright.assessment.reach import reached
from ampwright.energy.bank import bank_table, rest_v
from ampwright.fieldwork.predicted_system import standby_a
from ampwright.job.design import Design, DesignPart
from ampwright.job.nodes import STARTER_NODE
from ampwright.parts.charger import AlternatorCharger, PanelController
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record

__all__ = [
    "LAMP_W",
    "FirstReading",
    "LastStep",
    "ReadingKind",
    "first_readings",
    "last_step",
]

ReadingKind = Literal[
    "battery-voltage",
    "plus-to-minus",
    "minus-to-metal",
    "plus-to-metal",
    "charger-input",
    "panel-open-circuit",
    "across-holder",
]
"""What is read."""
LEAST_OHM = 100.0
"""Least resistance plus to minus, loads off, after a minute on the meter (docs/choices.md#first-readings)."""
BOND_OHM = 0.5
"""Most from minus to a metal it is tied to, the meter's own leads taken off (docs/choices.md#first-readings)."""
LAMP_W = 5.0
"""Lamp across the open holder: a short then draws less than half an ampere (docs/choices.md#first-readings)."""
LAMP_LEAST_V = 1.0
LEAD_REST_V = (2.033, 2.15)
"""Rest voltage of a lead-acid cell from half to full: the open-circuit table of `energy`."""
LITHIUM_SOCS_FRAC = (0.1, 0.99)
LEAD_SOCS_FRAC = (0.5, 1.0)
DIM_FRAC = 0.85
"""Open-circuit voltage in poor daylight over that of full sun (docs/choices.md#first-readings)."""
HOT_CELL_DEGC = 70.0
TEST_DEGC = 25.0


@record
class LastStep:
    """What joins the battery to the system at the very end."""

    kind: Literal["fuse", "isolator", "lead"]
    """A fuse or breaker at its post, an isolator where the fuse is inside a closed module, or its bare plus lead."""
    names: tuple[str, ...]
    """Ids of it; empty for a lead."""
    isolators: tuple[str, ...]
    """Ids of the hand switches at the battery's post."""


@record
class FirstReading:
    """One reading before the last fuse."""

    kind: ReadingKind
    """What is read."""
    subject: str
    """Device, charger or panel it is about."""
    at: str
    """Where the probes go: id of the device or node."""
    expected: float | None
    """Usual value; None = only limits are known."""
    low: float | None
    """Below this: stop."""
    high: float | None
    """Above this: stop."""
    unit: str
    """Unit of the reading."""
    note: str = ""
    """Why nothing can be expected; empty otherwise."""


def last_step(design: Design) -> LastStep:
    """Return what joins the battery last and parts it first: its fuse, or a module's isolator where the fuse is inside."""
    node = design.node_of(design.parts[design.battery].id)
    here = [(run, device) for run in design.runs if node in (run.start, run.end) for device in run.devices]
    isolators = tuple(device.id for _, device in here if isinstance(device.part, Isolator))
    fuses = tuple(
        device.id
        for run, device in here
        if isinstance(device.part, Fuse | Breaker) and not (run.is_inside_module and isolators)
    )
    if fuses:
        return LastStep(kind="fuse", names=fuses, isolators=isolators)
    if isolators:
        return LastStep(kind="isolator", names=isolators, isolators=isolators)
    return LastStep(kind="lead", names=(), isolators=())


def first_readings(design: Design) -> tuple[FirstReading, ...]:
    """Return the readings in the order in which they are taken; what a job has not is left out."""
    return tuple(_readings(design))


def _readings(design: Design) -> Iterator[FirstReading]:
    battery = design.parts[design.battery].id
    last = last_step(design)
    holder = last.names[0] if last.names else battery
    frac = LITHIUM_SOCS_FRAC if design.battery_part().chemistry == "lfp" else LEAD_SOCS_FRAC
    low_v, high_v = rest_v(design, frac[0]), rest_v(design, frac[1])
    yield FirstReading(
        kind="battery-voltage",
        subject=battery,
        at=holder,
        expected=rest_v(design, 0.5 * (frac[0] + frac[1])),
        low=low_v,
        high=high_v + 0.2 * design.system_v / 12.0,
        unit="V",
    )
    yield FirstReading(
        kind="plus-to-minus", subject=battery, at=holder, expected=None, low=LEAST_OHM, high=None, unit="Ω"
    )
    yield from _metal(design, holder)
    yield from _chargers(design)
    yield from _panels(design)
    yield _across(design, holder)


def _metal(design: Design, holder: str) -> Iterator[FirstReading]:
    is_tied = bool(design.bonds)
    yield FirstReading(
        kind="minus-to-metal",
        subject=design.nodes[design.bonds[0].node] if is_tied else design.parts[design.battery].id,
        at=holder,
        expected=0.0 if is_tied else None,
        low=None,
        high=BOND_OHM if is_tied else None,
        unit="Ω",
        note="" if is_tied else "bond not said",
    )
    yield FirstReading(
        kind="plus-to-metal", subject=holder, at=holder, expected=None, low=LEAST_OHM, high=None, unit="Ω"
    )


def _chargers(design: Design) -> Iterator[FirstReading]:
    cells = design.vehicle.system_v / 2.0
    for placed, _ in design.placed(AlternatorCharger):
        start = design.node_of(f"{placed.id}.in")
        starter = design.node_of(STARTER_NODE)
        if start >= 0 and starter >= 0 and starter in reached(design, start):
            yield FirstReading(
                kind="charger-input",
                subject=placed.id,
                at=f"{placed.id}.in",
                expected=0.5 * sum(LEAD_REST_V) * cells,
                low=LEAD_REST_V[0] * cells,
                high=LEAD_REST_V[1] * cells,
                unit="V",
            )


def _panels(design: Design) -> Iterator[FirstReading]:
    for placed, panel in design.placed(Panel):
        into = _controller_input(design, placed)
        full_v = placed.in_series * panel.open_circuit_v
        slope = panel.open_circuit_v_frac_per_k
        hot_v = full_v * (1.0 + slope * (HOT_CELL_DEGC - TEST_DEGC))
        cold_v = full_v * (1.0 + slope * (design.job.season.coldest_degc - TEST_DEGC))
        yield FirstReading(
            kind="panel-open-circuit",
            subject=placed.id,
            at=into,
            expected=full_v,
            low=DIM_FRAC * min(hot_v, full_v),
            high=max(cold_v, full_v),
            unit="V",
        )


def _controller_input(design: Design, placed: DesignPart) -> str:
    near = reached(design, design.node_of(placed.id))
    return next(
        (
            f"{one.id}.in"
            for one, _ in design.placed(PanelController)
            if design.node_of(f"{one.id}.in") in near
        ),
        placed.id,
    )


def _across(design: Design, holder: str) -> FirstReading:
    """Return the voltage at a lamp across the open holder: own consumption through its hot resistance at most.

    A cold filament has a tenth of that, so the lamp all but goes out once capacitors are charged.
    """
    lamp_ohm = design.system_v**2 / LAMP_W
    most_v = max(LAMP_LEAST_V, standby_a(design) * lamp_ohm)
    full_v = float(bank_table(design).table_v[-1])
    return FirstReading(
        kind="across-holder",
        subject=holder,
        at=holder,
        expected=None if math.isnan(most_v) else 0.0,
        low=-0.1,
        high=min(most_v, 0.5 * full_v),
        unit="V",
    )

"""Rule on an inverter's capacitors: what their charging current does to devices and contacts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.circuits import Circuit, Protection
from ampwright.assessment.fault_time import rated_device
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.network.capacitor_charge import SETTLED_TIME_CONSTANTS, CapacitorCharge, capacitor_charge
from ampwright.parts.inverter import Inverter
from ampwright.parts.protection import Isolator
from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.sources import Source, own_choice
from ampwright.standards.device_bands.band import least_square_a2s

__all__ = ["INVERTER_CAPACITORS"]

WIRING = Group.WIRING
PART_OF_MELTING_FRAC = 0.5
"""A pulse below this part of the smallest melting integral opens nothing (docs/choices.md#melting-part)."""
MODULE = Source(document="definition of the power module", place="port")
ARC = said("Connecting it draws an arc: no face near it, nothing that burns beside it.")


@record
class _Way:
    """From the battery to an inverter."""

    guards: tuple[Protection, ...]
    """Fuses and breakers on it."""
    isolators: tuple[str, ...]
    """Isolators on it."""
    loop_ohm: float
    """Least resistance of the loop: battery at its fault current, cold copper, nothing else."""


def _inverter_capacitors(design: Design, studies: Studies) -> Iterator[Finding]:
    for placed, part in design.placed(Inverter):
        make = partial(
            Finding, rule="inverter-capacitors", group=WIRING, subject=placed.id, source=part_source(part)
        )
        if part.has_precharge:
            yield make(
                severity=Severity.PASS,
                message=said("{part} limits its own charging current.", part=placed.id),
            )
            continue
        way = _way(design, studies, design.node_of(placed.id))
        if part.input_capacitance_uf is None or way is None:
            why = (
                said("its capacitance is not stated")
                if way is not None
                else said("its feed could not be followed")
            )
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part}: the current that charges its capacitors is not known; {why}.",
                    part=placed.id,
                    why=why,
                ),
                way_out=said(
                    "Connect it through a pre-charge resistor, or ask its maker for the capacitance."
                ),
            )
        elif placed.precharge_ohm is not None:
            yield _through_resistor(design, placed, part.input_capacitance_uf, placed.precharge_ohm)
        else:
            yield _straight(design, placed.id, part.input_capacitance_uf, way)
    yield from _hidden(design, studies)


def _hidden(design: Design, studies: Studies) -> Iterator[Finding]:
    """Yield a finding for each port of the module behind which it hides an inverter."""
    for port in design.ports:
        make = partial(Finding, rule="inverter-capacitors", group=WIRING, subject=port.id, source=MODULE)
        if port.has_precharge:
            yield make(
                severity=Severity.PASS,
                message=said(
                    "{port}: the module charges what is behind it through a resistor before its switch "
                    "closes.",
                    port=port.id,
                ),
            )
        elif port.capacitance_uf is not None:
            way = _way(design, studies, port.node)
            if way is None:
                yield make(
                    severity=Severity.NOT_CHECKED,
                    message=said(
                        "{port}: the current that charges the capacitors behind it is not known; its feed could "
                        "not be followed.",
                        port=port.id,
                    ),
                    way_out=said("Connect it through a pre-charge resistor."),
                )
            else:
                yield _straight(design, port.id, port.capacitance_uf, way)


def _full_v(design: Design) -> float:
    return design.battery_part().charge_v * design.parts[design.battery].in_series


def _way(design: Design, studies: Studies, node: int) -> _Way | None:
    """Return what lies between battery and inverter; None where there is no single way."""
    by_far: dict[int, Circuit] = {c.far_node: c for c in studies.circuits.by_run if not c.why_unknown}
    inside = {link.end: link.start for link in design.links}
    placed, battery = design.parts[design.battery], design.battery_part()
    root = design.node_of(placed.id)
    ohm = battery.charge_v * placed.in_series / (battery.short_circuit_a * placed.strings)
    guards: list[Protection] = []
    isolators: list[str] = []
    while node != root:
        circuit = by_far.pop(node, None)
        if circuit is None:
            if node not in inside:
                return None
            node = inside.pop(node)
            continue
        run = design.runs[circuit.run]
        ohm += run.conductor_20_ohm
        guards += [circuit.own] if circuit.own is not None else []
        isolators += [device.id for device in run.devices if isinstance(device.part, Isolator)]
        node = circuit.feeding_node
    return _Way(guards=tuple(guards), isolators=tuple(isolators), loop_ohm=ohm)


def _through_resistor(design: Design, placed: DesignPart, capacitance_uf: float, ohm: float) -> Finding:
    found = capacitor_charge(open_v=_full_v(design), loop_ohm=ohm, capacitance_uf=capacitance_uf)
    wait_s = SETTLED_TIME_CONSTANTS * found.time_constant_s
    return Finding(
        rule="inverter-capacitors",
        group=WIRING,
        severity=Severity.PASS,
        subject=placed.id,
        message=said(
            "{part}: through {ohm:g} ohm at most {peak_a:.2g} A charge its {capacitance_uf:,.0f} µF; "
            "time constant {time_constant_s:.2g} s, so hold it for {wait_s:.2g} s. The resistor "
            "takes {energy_ws:.2g} Ws each time, and {peak_a_2:.0f} W for as long as the inverter is "
            "shorted or switched on.",
            part=placed.id,
            ohm=ohm,
            peak_a=found.peak_a,
            capacitance_uf=capacitance_uf,
            time_constant_s=found.time_constant_s,
            wait_s=wait_s,
            energy_ws=found.energy_ws,
            peak_a_2=found.peak_a * _full_v(design),
        ),
        value=wait_s,
        unit="s",
    )


def _straight(design: Design, name: str, capacitance_uf: float, way: _Way) -> Finding:
    pulse = capacitor_charge(open_v=_full_v(design), loop_ohm=way.loop_ohm, capacitance_uf=capacitance_uf)
    limits = [(guard, least_square_a2s(rated_device(design, guard))) for guard in way.guards]
    make = partial(
        Finding,
        rule="inverter-capacitors",
        group=WIRING,
        subject=name,
        value=pulse.square_a2s,
        unit="A²s",
        source=own_choice("melting-part"),
    )
    told = _pulse_text(name, capacitance_uf, pulse)
    unknown = [guard.device.id for guard, limit in limits if limit is None]
    if unknown:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{told} How much {unknown} stands is not held.",
                told=told,
                unknown=said_together(unknown, between=", "),
            ),
            way_out=said("Connect it through a pre-charge resistor."),
        )
    held = sorted(
        ((PART_OF_MELTING_FRAC * limit, guard) for guard, limit in limits if limit is not None),
        key=lambda pair: pair[0],
    )
    limit_a2s = held[0][0] if held else None
    opens = [guard.device.id for limit, guard in held if pulse.square_a2s > limit]
    if opens:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{told} {opens} may open, or age each time; a breaker's or switch's contacts may weld.",
                told=told,
                opens=said_together(opens, between=", "),
            ),
            limit=limit_a2s,
            way_out=said("Connect it through a pre-charge resistor."),
            caution=ARC,
        )
    if way.isolators:
        return make(
            severity=Severity.ADVICE,
            message=said(
                "{told} The devices stay closed; the contacts of {isolators} take that peak and are "
                "pitted each time.",
                told=told,
                isolators=said_together(way.isolators, between=", "),
            ),
            limit=limit_a2s,
            way_out=said("Close the isolator through a pre-charge resistor."),
        )
    return make(
        severity=Severity.PASS,
        message=said("{told} The devices in its feed stay closed.", told=told),
        limit=limit_a2s,
    )


def _pulse_text(name: str, capacitance_uf: float, pulse: CapacitorCharge) -> str:
    return said(
        "{name}: connecting its {capacitance_uf:,.0f} µF to a full battery draws at most "
        "{peak_a:,.0f} A for about {time_constant_s:,.0f} µs, {square_a2s:,.0f} A²s.",
        name=name,
        capacitance_uf=capacitance_uf,
        peak_a=pulse.peak_a,
        time_constant_s=1000000.0 * pulse.time_constant_s,
        square_a2s=pulse.square_a2s,
    )


INVERTER_CAPACITORS = Rule(
    name="inverter-capacitors",
    group=WIRING,
    asks="Does the current that charges an inverter's capacitors when it is connected leave devices and contacts whole?",
    check=_inverter_capacitors,
)

"""Rules on the power module: its ports, and what is locked inside."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import cable_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignPort, DesignRun
from ampwright.parts.cable import Cable
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["MODULE_PORT", "OUTSIDE_CERTIFICATE"]

WIRING = Group.WIRING


def _port_source(design: Design) -> Source:
    definition = design.module
    return Source(
        document=f"module {definition.id}" if definition else "module",
        edition=f"revision {definition.revision}" if definition else "",
        place="port data",
    )


def _module_port(design: Design, studies: Studies) -> Iterator[Finding]:
    for port in design.ports:
        if not port.runs:
            yield Finding(
                rule="module-port",
                group=WIRING,
                severity=Severity.ADVICE,
                subject=port.id,
                message=said("Port {port} is not used; cover its terminal.", port=port.id),
                source=_port_source(design),
            )
        for index in port.runs:
            yield from _port_run(design, studies, port, design.runs[index])


def _port_run(design: Design, studies: Studies, port: DesignPort, run: DesignRun) -> Iterator[Finding]:
    make = partial(Finding, rule="module-port", group=WIRING, subject=port.id, source=_port_source(design))
    current_a = float(studies.network.peak_a[run.index])
    unknown = math.isnan(current_a)
    is_over = not unknown and current_a > port.max_a
    yield make(
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        message=said("Port {port} is for {max_a:g} A; run {run} ", port=port.id, max_a=port.max_a, run=run.id)
        + (
            said("has an unknown current.")
            if unknown
            else said("carries {current_a:.1f} A.", current_a=current_a)
        ),
        value=None if unknown else current_a,
        limit=port.max_a,
        unit="A",
        way_out=said("Limit the current, or feed the load elsewhere.") if is_over else "",
    )
    thinnest = min((run.cable, run.back_cable or run.cable), key=_area)
    is_thin = thinnest.area_mm2 < port.smallest_mm2
    yield make(
        severity=Severity.FAIL if is_thin else Severity.PASS,
        message=said(
            "Port {port} wants at least {smallest_mm2:g} mm², supplied by {supplied_by}; run {run} "
            "has {cable}.",
            port=port.id,
            smallest_mm2=port.smallest_mm2,
            supplied_by=said(port.supplied_by),
            run=run.id,
            cable=cable_text(thinnest),
        ),
        value=thinnest.area_mm2,
        limit=port.smallest_mm2,
        unit="mm²",
        at_most=False,
        way_out=said("Use a larger cable.") if is_thin else "",
    )
    circuit = studies.circuits.by_run[run.index]
    guard = circuit.own or circuit.upstream
    if port.has_inside_device or circuit.root_kind == "panel" or guard is None:
        return
    is_large = guard.rating_a > port.device_max_a
    yield make(
        severity=Severity.FAIL if is_large else Severity.PASS,
        message=said(
            "Port {port} allows a device of {device_max_a:g} A; {device} is {rating_a:g} A.",
            port=port.id,
            device_max_a=port.device_max_a,
            device=guard.device.id,
            rating_a=guard.rating_a,
        ),
        value=guard.rating_a,
        limit=port.device_max_a,
        unit="A",
        way_out=said("Use a smaller device.") if is_large else "",
    )


def _area(cable: Cable) -> float:
    return cable.area_mm2


def _outside_certificate(design: Design, _: Studies) -> Iterator[Finding]:
    use = design.job.module
    if use is None or design.module is None:
        return
    for change in use.change:
        yield Finding(
            rule="outside-certificate",
            group=WIRING,
            severity=Severity.CONDITION,
            subject=f"{use.id}.{change.part}",
            message=said(
                "{part} inside module {use} becomes {becomes}: outside the certificate. Reason given: "
                "{reason}",
                part=change.part,
                use=use.id,
                becomes=change.becomes,
                reason=change.reason,
            ),
            source=_port_source(design),
            way_out=said("Have the module's maker release the change as a revision, or undo it."),
        )
    if not use.change:
        certificate = design.module.certificate or said("no certificate is stated for it")
        yield Finding(
            rule="outside-certificate",
            group=WIRING,
            severity=Severity.PASS,
            subject=use.id,
            message=said(
                "Nothing inside module {use} is changed ({certificate}).", use=use.id, certificate=certificate
            ),
            source=_port_source(design),
        )


MODULE_PORT = Rule(
    name="module-port",
    group=WIRING,
    asks="Does each port of the module get the current, cable and device it wants?",
    check=_module_port,
)
OUTSIDE_CERTIFICATE = Rule(
    name="outside-certificate",
    group=WIRING,
    asks="Is the inside of the module as it was released?",
    check=_outside_certificate,
    no_override="Only whoever certified the module can say what its inside may be.",
)

"""Rule: are isolators and devices within reach when the vehicle is loaded."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.design_zone import DesignZone
from ampwright.job.nodes import STARTER_NODE
from ampwright.parts.protection import Isolator
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE

__all__ = ["REACH"]


def _reach(design: Design, _: Studies) -> Iterator[Finding]:
    unknown: list[str] = []
    reached: list[str] = []
    buried: dict[str, list[str]] = {}
    for device, zone in _devices(design):
        is_reachable = zone.written.is_reachable_loaded if zone is not None else None
        if zone is None or is_reachable is None:
            unknown.append(zone.id if zone is not None else device.id)
        elif isinstance(device.part, Isolator):
            yield _isolator(device, zone, is_reachable=is_reachable)
        elif is_reachable:
            reached.append(device.id)
        else:
            buried.setdefault(zone.id, []).append(device.id)
    if reached:
        yield Finding(
            rule="reach",
            group=Group.WIRING,
            severity=Severity.PASS,
            subject=design.job.job.id,
            source=COMMON_PRACTICE,
            message=said("{named} can be reached with the vehicle loaded.", named=named(reached)),
        )
    for zone_id, devices in buried.items():
        yield Finding(
            rule="reach",
            group=Group.WIRING,
            severity=Severity.ADVICE,
            subject=zone_id,
            source=COMMON_PRACTICE,
            message=said(
                "{named} in {zone_id} cannot be reached with the vehicle loaded.",
                named=named(devices),
                zone_id=zone_id,
            ),
            way_out=said(
                "Carry spares for what can be reached, and say in the handover what must be unloaded first."
            ),
        )
    if unknown:
        yield Finding(
            rule="reach",
            group=Group.WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "Whether isolator and devices can be reached with the vehicle loaded is not said of {named}.",
                named=named(unknown),
            ),
            way_out=said("Say it of each place that holds one."),
        )


def _devices(design: Design) -> Iterator[tuple[DesignDevice, DesignZone | None]]:
    """Yield every device with its place; those at the starter battery sit in a place of the vehicle itself."""
    for run in design.runs:
        for device in run.devices:
            node = _node_of(design, run, device)
            if node != STARTER_NODE:
                yield device, _zone_of(design, run, device)


def _isolator(device: DesignDevice, zone: DesignZone, *, is_reachable: bool) -> Finding:
    can = said("can") if is_reachable else said("cannot")
    return Finding(
        rule="reach",
        group=Group.WIRING,
        severity=Severity.PASS if is_reachable else Severity.CONDITION,
        subject=device.id,
        source=COMMON_PRACTICE,
        message=said(
            "{device} in {zone} {can} be reached with the vehicle loaded.",
            device=device.id,
            zone=zone.id,
            can=can,
        ),
        way_out="" if is_reachable else said("Move the isolator, or fit one that is worked from outside."),
        caution="" if is_reachable else said("In a fire or with smoke, seconds count."),
    )


def _node_of(design: Design, run: DesignRun, device: DesignDevice) -> str:
    return design.nodes[run.start if device.end == "from" else run.end]


def _zone_of(design: Design, run: DesignRun, device: DesignDevice) -> DesignZone | None:
    """Return the place of the part at the device's end, else the first or last place its run passes."""
    node = _node_of(design, run, device)
    for part in design.parts:
        if part.zone is not None and (node == part.id or node.startswith(f"{part.id}.")):
            return part.zone
    if not run.zones:
        return None
    return run.zones[0] if device.end == "from" else run.zones[-1]


REACH = Rule(
    name="reach",
    group=Group.WIRING,
    asks="Can isolator and devices be reached with the vehicle loaded?",
    check=_reach,
)

"""Rule on the order to stop: what must obey where the battery's management gives it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.as_left import CUTOFF_SUBJECT
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import as_charger
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["STOP_WIRE"]

WIRING = Group.WIRING


def _stop_wire(design: Design, _: Studies) -> Iterator[Finding]:
    battery, placed = design.battery_part(), design.parts[design.battery]
    if battery.chemistry != "lfp":
        return
    make = partial(Finding, rule="stop-wire", group=WIRING, subject=placed.id, source=part_source(battery))
    opens_itself = battery.is_management_inside
    if battery.stop_output in {"", "none"}:
        if opens_itself:
            yield make(
                severity=Severity.PASS,
                message=said("{part} opens its own switch; ", part=placed.id)
                + (
                    said("it gives no order to stop.")
                    if battery.stop_output
                    else said("no order to stop is known of.")
                ),
            )
            return
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part} has no switch of its own, and how its management stops chargers and loads is not "
                "said.",
                part=placed.id,
            ),
            way_out=said("Give stop_output of the battery, and say which parts obey."),
        )
        return
    for one in _obeying(design):
        yield _finding(placed, one, opens_itself=opens_itself)


def _obeying(design: Design) -> Iterator[tuple[str, bool | None, Part | None]]:
    """Yield everything that should obey, whether it is said to, and its part."""
    for placed in design.parts:
        if as_charger(placed) is not None or isinstance(placed.part, Inverter):
            yield placed.id, placed.setting.is_stopped_by_battery if placed.setting else None, placed.part
    cutoff = design.job.load_cutoff
    if cutoff is not None:
        yield CUTOFF_SUBJECT, cutoff.is_stopped_by_battery, None


def _finding(
    battery: DesignPart, one: tuple[str, bool | None, Part | None], *, opens_itself: bool
) -> Finding:
    name, told, part = one
    output = getattr(battery.part, "stop_output", "")
    makes = said("wire") if output == "wire" else said("data bus")
    make = partial(
        Finding,
        rule="stop-wire",
        group=WIRING,
        subject=name,
        source=Source(document="job file", place=f"setting {name}") if part is None else part_source(part),
    )
    heavy = Severity.CONDITION if opens_itself else Severity.FAIL
    last = said("its switch then opens under load") if opens_itself else said("nothing else stops it")
    input_ = getattr(part, "stop_input", "") if part is not None else ""
    if part is not None and input_ not in {"", output}:
        return make(
            severity=heavy,
            message=said(
                "{battery} orders stop by {makes}; {name} cannot take that order, and {last}.",
                battery=battery.id,
                makes=makes,
                name=name,
                last=last,
            ),
            way_out=said("Use a device with that input, or a relay that the order opens."),
            caution=""
            if opens_itself
            else said("A lithium battery charged beyond its limits can catch fire."),
        )
    if told is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{battery} orders stop by {makes}; whether {name} obeys is not said.",
                battery=battery.id,
                makes=makes,
                name=name,
            ),
            way_out=said("Look at the wiring and say is_stopped_by_battery."),
        )
    if told:
        return make(
            severity=Severity.PASS,
            message=said("{name} obeys the order of {battery} to stop.", name=name, battery=battery.id),
        )
    return make(
        severity=heavy,
        message=said(
            "{battery} orders stop by {makes}; {name} is not connected to it, and {last}.",
            battery=battery.id,
            makes=makes,
            name=name,
            last=last,
        ),
        way_out=said("Connect it, and test it."),
        caution="" if opens_itself else said("A lithium battery charged beyond its limits can catch fire."),
    )


STOP_WIRE = Rule(
    name="stop-wire",
    group=WIRING,
    asks="Where the battery's management orders chargers and loads to stop, do they obey?",
    check=_stop_wire,
)

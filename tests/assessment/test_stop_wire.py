import dataclasses

from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.result import Assessment
from ampwright.assessment.stop_wire import STOP_WIRE
from ampwright.findings import Finding, Severity


def with_battery(found: Assessment, **changed: object) -> list[Finding]:
    part = dataclasses.replace(found.design.battery_part(), **changed)  # type: ignore[arg-type]
    parts = tuple(
        dataclasses.replace(placed, part=part) if placed.id == "battery" else placed
        for placed in found.design.parts
    )
    return list(STOP_WIRE.check(dataclasses.replace(found.design, parts=parts), studies_of(found)))


def test_management_without_switch_and_without_order_is_not_checked() -> None:
    (finding,) = with_battery(base("base-12v"), is_management_inside=False, stop_output="")
    assert finding.severity == Severity.NOT_CHECKED


def test_management_that_only_signals_needs_everything_connected() -> None:
    found = studied(change={"setting/charger/is_stopped_by_battery": False})
    said = with_battery(found, is_management_inside=False, stop_output="wire")
    by_subject = {f.subject: f for f in said}
    assert by_subject["charger"].severity == Severity.FAIL
    assert by_subject["charger"].caution
    assert by_subject["controller"].severity == Severity.NOT_CHECKED
    # the small inverter has no input for it
    assert by_subject["inverter"].severity == Severity.FAIL
    assert set(by_subject) == {"charger", "controller", "inverter", "load cut-off"}


def test_a_bus_order_is_not_taken_by_a_wire_input() -> None:
    said = with_battery(base("base-12v"), stop_output="bus")
    charger = next(f for f in said if f.subject == "charger")
    assert (charger.severity, "data bus" in charger.message) == (Severity.CONDITION, True)


def test_lead_acid_gives_no_orders() -> None:
    assert of_rule(studied(change={"part/battery/part": "agm-200"}), STOP_WIRE) == []

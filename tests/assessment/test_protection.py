import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.protection import BREAKING_CAPACITY, DEVICE_CARRIES_LOAD, DEVICE_VOLTAGE
from ampwright.findings import Severity
from ampwright.parts.protection import Fuse


def test_holder_limits_the_fuse() -> None:
    found = base("base-12v")
    runs = tuple(
        dataclasses.replace(
            run,
            devices=tuple(
                dataclasses.replace(device, part=dataclasses.replace(device.part, holder_max_a=30.0))
                if isinstance(device.part, Fuse)
                else device
                for device in run.devices
            ),
        )
        for run in found.design.runs
    )
    findings = list(
        DEVICE_CARRIES_LOAD.check(dataclasses.replace(found.design, runs=runs), studies_of(found))
    )
    # 47 A of the charger's input through a holder for 30 A, in a fuse of 100 A
    assert [(f.subject, f.limit) for f in findings if f.severity == Severity.FAIL] == [
        ("F1", 30.0),
        ("F2", 30.0),
    ]


def test_device_near_its_rating_earns_advice_and_an_isolator_does_not() -> None:
    found = studied(change={"run/W4/device/Q4/part": "breaker-hm-20"})
    (finding,) = of_rule(found, DEVICE_CARRIES_LOAD, "Q4")
    assert finding.severity == Severity.ADVICE
    assert of_rule(found, DEVICE_CARRIES_LOAD, "S1")[0].severity == Severity.PASS


def test_string_devices_are_held_against_fault_and_voltage() -> None:
    found = studied(
        change={
            "part/battery/part": "lfp-100",
            "part/battery/strings": 3,
            "part/battery/string_device": "fuse-sf51-150",
        }
    )
    # two other strings push 2 * 2200 A and the chargers 60 A into the third: above 2000 A
    (finding,) = of_rule(found, BREAKING_CAPACITY, "battery string")
    assert finding.severity == Severity.FAIL
    assert finding.value == 2 * 2200.0 + 60.0
    assert of_rule(found, DEVICE_VOLTAGE, "battery string")[0].severity == Severity.PASS


def test_isolators_interrupt_no_fault() -> None:
    assert of_rule(base("base-12v"), BREAKING_CAPACITY, "S1") == []


@pytest.mark.parametrize(
    ("rating_a", "ambient_degc", "severity", "limit_a"),
    [
        # class T, 0.5 % a kelvin above 25 °C; the run carries about 47 A
        (50.0, 25.0, Severity.ADVICE, 50.0),
        (50.0, 60.0, Severity.CONDITION, 41.25),
        (60.0, 60.0, Severity.ADVICE, 49.5),
        (100.0, 60.0, Severity.PASS, 82.5),
        (45.0, 60.0, Severity.FAIL, 45.0),
        (100.0, 90.0, Severity.NOT_CHECKED, 100.0),
    ],
)
def test_hot_air_leaves_a_fuse_less_of_its_rating(
    rating_a: float, ambient_degc: float, severity: Severity, limit_a: float
) -> None:
    found = base("base-12v")
    runs = tuple(
        dataclasses.replace(
            run,
            ambient_max_degc=ambient_degc,
            devices=tuple(
                dataclasses.replace(device, part=dataclasses.replace(device.part, rating_a=rating_a))
                for device in run.devices
            ),
        )
        if run.id == "W2"
        else run
        for run in found.design.runs
    )
    findings = DEVICE_CARRIES_LOAD.check(dataclasses.replace(found.design, runs=runs), studies_of(found))
    (finding,) = (each for each in findings if each.subject == "F2")
    assert finding.severity == severity
    assert finding.limit == pytest.approx(limit_a)

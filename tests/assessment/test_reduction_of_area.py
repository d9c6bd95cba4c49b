"""Where a smaller cable follows a larger one, the device upstream must suit the smaller, or it needs its own."""

from typing import Any

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.device_place import DEVICE_AT_SOURCE
from ampwright.assessment.device_size import DEVICE_AGAINST_CABLE
from ampwright.findings import Severity

BAR = {"id": "bar2", "part": "bus-250", "zone": "bench"}


def tail(cable: str, **said: Any) -> dict[str, list[dict[str, Any]]]:
    """Return W6 as far as a second bar, and from there a run of another cable to the refrigerator."""
    run = {
        "id": "W6B",
        "start": "bar2",
        "end": "fridge",
        "cable": cable,
        "length_m": 2,
        "zones": ["bench"],
        **said,
    }
    return {"part": [BAR], "run": [run]}


@pytest.mark.parametrize(
    ("cable", "against", "place"),
    [
        ("cable-4", Severity.PASS, Severity.PASS),  # 20 A in W6 protects the same size behind it
        ("cable-2-5", Severity.PASS, Severity.PASS),  # 32 A at 45 °C
    ],
)
def test_smaller_cable_that_the_device_upstream_protects(
    cable: str, against: Severity, place: Severity
) -> None:
    found = studied(add=tail(cable), change={"run/W6/end": "bar2"})
    assert [f.severity for f in of_rule(found, DEVICE_AGAINST_CABLE, "W6B")] == [against]
    assert [f.severity for f in of_rule(found, DEVICE_AT_SOURCE, "W6B")] == [place]


def test_smaller_cable_behind_a_device_for_the_larger() -> None:
    change = {"run/W6/end": "bar2", "run/W6/cable": "cable-35", "run/W6/device/Q6/part": "breaker-hm-100"}
    found = studied(add=tail("cable-4"), change=change)
    assert [f.severity for f in of_rule(found, DEVICE_AGAINST_CABLE, "W6")] == [Severity.PASS]
    for rule in (DEVICE_AGAINST_CABLE, DEVICE_AT_SOURCE):
        assert [f.severity for f in of_rule(found, rule, "W6B")] == [Severity.FAIL]


def test_smaller_cable_with_a_device_at_the_reduction() -> None:
    change = {"run/W6/end": "bar2", "run/W6/cable": "cable-35", "run/W6/device/Q6/part": "breaker-hm-100"}
    own = [{"id": "Q6B", "part": "breaker-hm-20", "distance_m": 0.05}]
    found = studied(add=tail("cable-4", device=own), change=change)
    for rule in (DEVICE_AGAINST_CABLE, DEVICE_AT_SOURCE):
        assert [f.severity for f in of_rule(found, rule, "W6B")] == [Severity.PASS]


def test_device_at_the_far_end_of_the_smaller_cable_is_too_late() -> None:
    change = {"run/W6/end": "bar2", "run/W6/cable": "cable-35", "run/W6/device/Q6/part": "breaker-hm-100"}
    own = [{"id": "Q6B", "part": "breaker-hm-20", "end": "to", "distance_m": 0.05}]
    found = studied(add=tail("cable-4", device=own), change=change)
    (finding,) = of_rule(found, DEVICE_AT_SOURCE, "W6B")
    assert finding.severity == Severity.FAIL
    assert finding.value == pytest.approx(1.95)


def test_device_only_behind_the_smaller_cable() -> None:
    # no device in the first, smaller part; one at the beginning of the second
    own = [{"id": "Q6B", "part": "breaker-hm-20", "distance_m": 0.05}]
    found = studied(add=tail("cable-4", device=own), change={"run/W6/end": "bar2"}, remove=["run/W6/device"])
    for rule in (DEVICE_AGAINST_CABLE, DEVICE_AT_SOURCE):
        assert [f.severity for f in of_rule(found, rule, "W6")] == [Severity.FAIL]

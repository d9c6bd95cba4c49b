from base_jobs import base, of_rule, studied

from ampwright.assessment.device_place import DEVICE_AT_SOURCE, FED_FROM_BOTH_ENDS, ISOLATOR
from ampwright.findings import Severity


def test_upstream_device_protects_from_the_beginning() -> None:
    found = studied(
        change={"run/W1/device/F1/part": "fuse-t-100", "run/W6/cable": "cable-50"},
        remove=["run/W6/device", "run/W6/plugs"],
    )
    (finding,) = of_rule(found, DEVICE_AT_SOURCE, "W6")
    assert (finding.severity, finding.value) == (Severity.PASS, None)
    assert "from its beginning by F1" in finding.message


def test_sheath_of_72_inch_is_for_a_battery_terminal_only() -> None:
    bare = studied(change={"run/W6/device/Q6/is_sheathed": True}, remove=["run/W1/device/F1"])
    (finding,) = of_rule(bare, DEVICE_AT_SOURCE, "W6")
    assert finding.limit is not None
    assert abs(finding.limit - 40 * 0.0254) < 1e-9


def test_charger_beyond_two_runs_feeds_both() -> None:
    subjects = {f.subject: f.value for f in of_rule(base("base-12v"), FED_FROM_BOTH_ENDS)}
    assert subjects == {"W1": 60.0, "W3": 40.0, "W4": 20.0}


def test_chargers_behind_a_shunt() -> None:
    subjects = {f.subject: f.value for f in of_rule(base("base-module"), FED_FROM_BOTH_ENDS)}
    assert subjects["pm.W1"] == subjects["pm.W2"] == 70.0


def test_inverter_with_a_charger_feeds_back() -> None:
    found = studied("base-24v", change={"part/mains/part": "invchg-2400-24v", "run/W4/end": "mains"})
    assert of_rule(found, FED_FROM_BOTH_ENDS, "W4")[0].value == 50.0


THIN = {
    "setting/charger/output_limit_a": 20,
    "run/W3/cable": "cable-2-5",
    "run/W3/device/Q3/part": "breaker-hm-20",
}


def two_devices(distance_m: float, part: str = "breaker-hm-20") -> list[dict[str, object]]:
    return [
        {"id": "S3", "part": "isolator-150", "distance_m": 0.1},
        {"id": "Q3", "part": "breaker-hm-20", "distance_m": 0.05},
        {"id": "Q3b", "part": part, "distance_m": distance_m, "end": "to"},
    ]


def test_device_at_the_charger_mends_it() -> None:
    found = studied(change={**THIN, "run/W3/device": two_devices(0.05)} | {"run/W3/cable": "cable-2-5"})
    (finding,) = of_rule(found, FED_FROM_BOTH_ENDS, "W3")
    assert finding.severity == Severity.PASS
    assert "Q3b" in finding.message


def test_device_far_from_the_charger_or_too_large_does_not() -> None:
    for devices in (two_devices(0.4), two_devices(0.05, "breaker-hm-50")):
        found = studied(change={**THIN, "run/W3/device": devices})
        (finding,) = of_rule(found, FED_FROM_BOTH_ENDS, "W3")
        assert finding.severity == Severity.FAIL


def test_isolator_before_everything() -> None:
    (finding,) = of_rule(base("base-12v"), ISOLATOR)
    assert (finding.subject, finding.severity) == ("battery", Severity.PASS)


def test_what_an_isolator_leaves_live_is_named() -> None:
    own = [{"id": "S7", "part": "isolator-150", "distance_m": 0.1}]
    found = studied(change={"run/W7/device": own}, remove=["run/W1/device/S1"])
    (finding,) = of_rule(found, ISOLATOR)
    assert finding.severity == Severity.ADVICE
    assert "fridge" in finding.message
    assert "inverter" not in finding.message


def loop_at_battery(**more) -> dict:
    return {
        "run": [{"id": "W11", "start": "battery", "end": "bar", "cable": "cable-4", "length_m": 1, **more}]
    }


def test_a_second_way_from_the_battery_without_a_device_fails_though_it_lies_in_a_loop() -> None:
    (finding,) = of_rule(studied(add=loop_at_battery()), DEVICE_AT_SOURCE, "W11")
    assert finding.severity == Severity.FAIL
    assert "leaves battery without a device" in finding.message
    assert finding.no_override


def test_a_loop_with_devices_at_the_battery_is_left_to_a_look() -> None:
    own = {"id": "F11", "part": "fuse-t-100", "distance_m": 0.1}
    (finding,) = of_rule(studied(add=loop_at_battery(device=[own])), DEVICE_AT_SOURCE, "W11")
    assert finding.severity == Severity.NOT_CHECKED

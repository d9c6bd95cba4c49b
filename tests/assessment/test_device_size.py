from base_jobs import of_rule, studied

from ampwright.assessment.device_size import DEVICE_AGAINST_CABLE, OUTPUT_FAILS_SHORTED
from ampwright.findings import Severity


def test_smaller_upstream_device_protects_behind_a_larger_own_one() -> None:
    own = [{"id": "Q10", "part": "breaker-hm-50", "distance_m": 0.05}]
    found = studied(change={"run/W10/device": own})
    # 50 A is too large for 4 mm², the feed's 30 A before it is not
    (finding,) = of_rule(found, DEVICE_AGAINST_CABLE, "W10")
    assert (finding.value, finding.severity) == (30.0, Severity.PASS)
    assert "in run W8" in finding.message


def test_slow_fuse_is_too_large_though_its_rating_is_not() -> None:
    found = studied(change={"run/W7/device/F7/part": "fuse-sf30-150", "run/W1/device/F1/part": "fuse-t-200"})
    # 35 mm² is worth 31.7 mm²: 178 A at 45 °C; a fuse that must open at twice its rating: 1.45 / 2 * 178 A
    (finding,) = of_rule(found, DEVICE_AGAINST_CABLE, "W7")
    assert finding.severity == Severity.FAIL
    assert finding.limit is not None
    assert abs(finding.limit - 129.0) < 4.0


def test_channel_set_above_its_cable() -> None:
    found = studied(
        change={
            "run/W9/cable": "cable-1-5",
            "run/W9/start": "outputs.1",
            "channel/Lights/number": 1,
            "channel/Lights/limit_a": 25,
        }
    )
    (finding,) = of_rule(found, DEVICE_AGAINST_CABLE, "W9")
    assert (finding.value, finding.severity) == (25.0, Severity.FAIL)


def test_branch_without_any_device_is_said() -> None:
    found = studied(remove=["run/W8/device", "run/W1/device/F1"])
    (finding,) = of_rule(found, OUTPUT_FAILS_SHORTED, "W9")
    assert (finding.value, finding.severity) == (None, Severity.CONDITION)
    assert "nothing protects it" in finding.message


def test_run_with_no_device_at_all() -> None:
    found = studied(remove=["run/W1/device/F1"])
    (finding,) = of_rule(found, DEVICE_AGAINST_CABLE, "W1")
    assert (finding.value, finding.severity) == (None, Severity.FAIL)

import dataclasses

from base_jobs import base, of_rule

from ampwright.assessment.fault_time import FAR_FAULT_CLEARS, _as_read
from ampwright.findings import Severity
from ampwright.standards.device_bands.band import RatedDevice, device_band


def test_rows_that_were_read_are_enough_for_the_battery_fuse() -> None:
    # class T of 150 A opens within 0.3 s from 7 times on (second hand); 50 mm² endures the largest fault longer
    (finding,) = of_rule(base("base-12v"), FAR_FAULT_CLEARS, "W1")
    assert finding.severity == Severity.PASS
    assert finding.source is not None
    assert finding.source.standing == "second hand"


def test_rows_from_memory_are_left_out() -> None:
    device = RatedDevice(device_class="ul-248-15-t", rating_a=100.0)
    read = _as_read(device)
    # at 5.5 times: 5 s by a row from memory, nothing by those that were read
    plain, strict = device_band(device, current_a=550.0), device_band(read, current_a=550.0)
    assert plain is not None
    assert plain.opening_max_s == 5.0
    assert strict is not None
    assert strict.opening_max_s is None
    late = device_band(read, current_a=1400.0)
    assert late is not None
    assert late.opening_max_s == 0.02


def test_a_class_from_memory_stays_unchecked() -> None:
    device = RatedDevice(device_class="iso-8820-5-sf30", rating_a=100.0)
    assert device_band(_as_read(device), current_a=700.0) is None
    assert dataclasses.replace(device, points=()) == _as_read(device)

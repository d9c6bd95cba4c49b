import dataclasses

import numpy as np
import pytest
from base_jobs import base

from ampwright.assessment.circuits import circuits
from ampwright.assessment.fault_time import rated_device
from ampwright.assessment.rule import Studies
from ampwright.assessment.selectivity import DISCRIMINATION, selectivity
from ampwright.findings import Severity
from ampwright.standards.device_bands.band import device_band


def study(name, **changed):
    found = base(name)
    network = dataclasses.replace(found.network, **changed)
    return selectivity(found.design, network, circuits(found.design, network))


def pair_of(name, below, above, **changed):
    (pair,) = [
        each
        for each in study(name, **changed).pairs
        if (each.below.device.id, each.above.device.id) == (below, above)
    ]
    return pair


def test_every_device_above_is_asked_nearest_first() -> None:
    pairs = [(each.below.device.id, each.above.device.id) for each in study("base-module").pairs]
    assert [above for below, above in pairs if below == "F14"] == ["F13", "pm.F1"]
    assert "F10" not in {below for below, _ in pairs}  # its own battery, nothing above it


@pytest.mark.parametrize("name", ["base-12v", "base-24v", "base-module"])
def test_a_scan_of_many_currents_finds_the_same(name: str) -> None:
    # Asked at 2 000 currents instead of at the steps of the tables.
    design = base(name).design
    for pair in study(name).pairs:
        upper, lower = rated_device(design, pair.above), rated_device(design, pair.below)
        assert pair.fault_a is not None
        is_alone = []
        for current_a in np.geomspace(pair.below.rating_a, pair.fault_a, 2_000).tolist():
            above, below = device_band(upper, current_a=current_a), device_band(lower, current_a=current_a)
            if below is None or below.opening_max_s is None or above is None:
                continue
            is_alone.append((current_a, below.opening_max_s < above.opening_min_s))
        first_shared_a = next((current_a for current_a, alone in is_alone if not alone), None)
        if first_shared_a is None:
            assert pair.is_total
        elif pair.up_to_a is None:
            assert not is_alone[0][1]
        else:
            assert first_shared_a * 0.99 < pair.up_to_a < first_shared_a * 1.000001


def test_a_range_of_overload_is_told_from_one_of_faults() -> None:
    pair = pair_of("base-module", "pm.Q3", "pm.F1")
    assert pair.up_to_a is not None
    assert pair.far_fault_a is not None
    assert pair.up_to_a < pair.far_fault_a
    assert pair.is_overload_only
    assert not dataclasses.replace(pair, far_fault_a=pair.up_to_a / 2.0).is_overload_only
    assert not dataclasses.replace(pair, far_fault_a=None).is_overload_only


def test_smallest_fault_is_that_of_every_run_below() -> None:
    # pm.Q5 protects its own run and those behind it that have no device
    found = base("base-module")
    pair = pair_of("base-module", "pm.Q5", "pm.F1")
    seen = [each.fault_a for each in found.network.far_fault if each.device == "pm.Q5"]
    assert pair.far_fault_a == min(seen)
    missing = tuple(each for each in found.network.far_fault if each.fault_a != min(seen))
    assert pair_of("base-module", "pm.Q5", "pm.F1", far_fault=missing).far_fault_a is None


def test_what_is_not_known_is_not_judged() -> None:
    found = base("base-module")
    faults = tuple(
        dataclasses.replace(each, fault_a=float("nan")) if each.device == "F14" else each
        for each in found.network.device_fault
    )
    pair = pair_of("base-module", "F14", "F13", device_fault=faults)
    assert "largest fault at F14" in pair.why_unknown
    network = dataclasses.replace(found.network, device_fault=faults)
    studies = Studies(
        **{
            **{f.name: getattr(found, f.name, None) for f in dataclasses.fields(Studies)},
            "network": network,
            "circuits": circuits(found.design, network),
        }
    )
    findings = {each.subject: each for each in DISCRIMINATION.check(found.design, studies)}
    assert findings["F13"].severity is Severity.NOT_CHECKED
    assert "F14" in findings["F13"].message
    assert findings["pm.F1"].severity is Severity.ADVICE


def test_a_device_in_a_loop_is_left_out() -> None:
    found = base("base-12v")
    (run,) = [each for each in found.design.runs if any(d.id == "Q8" for d in each.devices)]
    told = study("base-12v", meshed=(run.index,))
    assert "Q8" not in {each.below.device.id for each in told.pairs}
    assert [each.why for each in told.left_out if each.device == "Q8"] == [
        "it lies in a loop and is fed from both sides"
    ]

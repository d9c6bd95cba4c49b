"""Capacity of a run and the largest device, against Table 5 of 33 CFR 183.425 read by hand."""

import dataclasses
import math

import pytest
from base_jobs import base, design

from ampwright.assessment.capacity import TABLES, effective_area_mm2, largest_device_a, run_capacity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.protection import Fuse
from ampwright.standards.regions.read import REGIONS, region_rules

PARTS = shipped_catalogue().parts


def run_of(of: Design, name: str) -> DesignRun:
    return next(run for run in of.runs if run.id == name)


def test_class_5_counts_with_its_resistance() -> None:
    cable = PARTS["cable-2-5"]
    # 17.24 ohm mm2/km of copper, 2 % of lay: 17.58 / 7.98 = 2.20 mm2
    assert effective_area_mm2(cable) == pytest.approx(2.20, abs=0.02)
    assert effective_area_mm2(PARTS["cable-14-awg"]) == pytest.approx(2.081, abs=0.001)


def test_table_row_with_heat_balance() -> None:
    found = design("base-24v")
    # 14 AWG, 105 degC: 35 A at 30 degC, times sqrt((105 - 45)/(105 - 30)) at 45 degC
    capacity = run_capacity(found, run_of(found, "W6"))
    assert capacity.current_a == pytest.approx(35.0 * math.sqrt(60.0 / 75.0), abs=0.01)
    assert capacity.source is not None
    assert capacity.source.standing == "derived"


def test_weaker_conductor_counts() -> None:
    found = design("base-24v", change={"run/W6/back_cable": "cable-16-awg"})
    capacity = run_capacity(found, run_of(found, "W6"))
    assert capacity.current_a == pytest.approx(25.0 * math.sqrt(0.8), abs=0.01)


def test_other_cable_laid_in_its_place() -> None:
    found = design("base-24v")
    capacity = run_capacity(found, run_of(found, "W6"), cable=PARTS["cable-10-awg"])
    assert capacity.current_a == pytest.approx(60.0 * math.sqrt(0.8), abs=0.01)


def test_cable_outside_the_table_is_not_known() -> None:
    found = design("base-24v")
    huge = dataclasses.replace(PARTS["cable-4-0-awg"], area_mm2=185.0, resistance_ohm_per_km=0.1)
    capacity = run_capacity(found, run_of(found, "W6"), cable=huge)
    assert not capacity.is_known
    assert capacity.source is None
    assert "Table 5" in capacity.note


def test_region_decides_the_largest_device() -> None:
    us, uk = base("base-24v").design, base("base-12v").design
    assert largest_device_a(us, 40.0).rating_a == pytest.approx(60.0)
    assert largest_device_a(us, 40.0).source.document == "33 CFR 183.455"
    assert largest_device_a(uk, 40.0).rating_a == pytest.approx(40.0)
    assert largest_device_a(uk, 40.0).source.document.startswith("IEC 60364-4-43")


@pytest.mark.parametrize(
    ("device", "rating_a", "sure_a"),
    [
        ("fuse-c-20", 40.0, 40.0),  # must open at 1.35: 1.45 / 1.35 is above 1, the rating decides
        ("fuse-sf30-50", 29.0, 29.0),  # must open only at 2.0: 1.45 / 2 of the cable
        ("fuse-t-100", 40.0, 40.0),  # must open at 1.35 within two hours
        ("breaker-hm-20", 40.0, 40.0),
    ],
)
def test_device_must_open_below_1_45_times_the_cable(device: str, rating_a: float, sure_a: float) -> None:
    limit = largest_device_a(base("base-12v").design, 40.0, device=PARTS[device])
    assert (limit.rating_a, limit.sure_rating_a) == (pytest.approx(rating_a), pytest.approx(sure_a))


def test_slow_fuse_that_the_rating_alone_would_pass() -> None:
    slow = PARTS["fuse-sf30-50"]
    assert isinstance(slow, Fuse)
    limit = largest_device_a(base("base-12v").design, 60.0, device=slow)
    # 50 A is below 60 A, yet 2 * 50 A is above 1.45 * 60 A = 87 A
    assert slow.rating_a > limit.rating_a


def test_a_table_of_another_country_is_said_to_be_a_default() -> None:
    european, american = base("base-12v").design, base("base-24v").design
    told = {each.region.name: run_capacity(each, each.runs[0]).source for each in (european, american)}
    assert "default in uk-eu, choice region-capacity-table" in str(told["uk-eu"])
    assert "default" not in str(told["us-ca"])
    assert str(told["us-ca"]).startswith("33 CFR 183.425, text in force, Table 5")


def test_every_region_names_a_table_that_is_shipped() -> None:
    assert {region_rules(name).capacity_table for name in REGIONS} <= set(TABLES)


def test_the_region_changes_no_current_of_the_same_table() -> None:
    found = base("base-12v").design
    moved = dataclasses.replace(found, region=region_rules("us-ca"))
    for run in found.runs:
        assert run_capacity(found, run).current_a == run_capacity(moved, run).current_a

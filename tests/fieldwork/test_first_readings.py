"""Readings before the battery is joined: limits by hand, and what joins it last."""

import copy

import planted
import pytest

from ampwright.fieldwork.first_readings import first_readings, last_step


@pytest.fixture(scope="module")
def readings():
    return {each.kind: each for each in first_readings(planted.design_from(planted.base_job("base-12v")))}


def test_six_and_more_readings(readings):
    assert len(readings) >= 6


def test_battery_window_of_lithium(readings):
    one = readings["battery-voltage"]
    assert one.low == pytest.approx(4 * 2.9781)
    assert one.high == pytest.approx(4 * 3.415 + 0.2)


def test_starter_battery_at_the_charger(readings):
    one = readings["charger-input"]
    # six cells, 2.033 V half charged to 2.15 V full
    assert (one.low, one.high) == pytest.approx((12.2, 12.9), abs=0.01)


def test_panel_from_hot_and_dim_to_the_coldest_morning(readings):
    design = planted.design_from(planted.base_job("base-12v"))
    panel = next(placed.part for placed in design.parts if placed.part.kind == "panel")
    one = readings["panel-open-circuit"]
    slope = panel.open_circuit_v_frac_per_k
    assert one.low == pytest.approx(0.85 * panel.open_circuit_v * (1 + slope * 45))
    assert one.high == pytest.approx(
        panel.open_circuit_v * (1 + slope * (design.job.season.coldest_degc - 25))
    )
    assert one.at == "controller.in"


def test_lamp_across_the_gap(readings):
    # 12 V and 5 W: 28.8 ohm hot; 55 mA of own consumption
    assert readings["across-holder"].high == pytest.approx(0.055 * 28.8)


def test_minus_to_metal_follows_the_bond(readings):
    assert readings["minus-to-metal"].high == 0.5
    raw = copy.deepcopy(planted.base_job("base-12v"))
    del raw["bond"]
    kinds = {each.kind: each for each in first_readings(planted.design_from(raw))}
    assert kinds["minus-to-metal"].high is None
    assert kinds["minus-to-metal"].note == "bond not said"


def test_what_joins_the_battery_last():
    own = last_step(planted.design_from(planted.base_job("base-12v")))
    assert (own.kind, own.names, own.isolators) == ("fuse", ("F1",), ("S1",))
    inside = last_step(planted.design_from(planted.base_job("base-module")))
    assert (inside.kind, inside.names) == ("isolator", ("pm.S1",))
    raw = copy.deepcopy(planted.base_job("base-12v"))
    raw["run"][0]["device"] = []
    assert last_step(planted.design_from(raw)).kind == "lead"


def test_without_panels_and_alternator_their_readings_are_left_out():
    raw = copy.deepcopy(planted.base_job("base-12v"))
    gone = {"panel", "controller", "charger"}
    raw["part"] = [part for part in raw["part"] if part["id"] not in gone]
    raw["setting"] = [one for one in raw["setting"] if one["part"] not in gone]
    raw["run"] = [
        run
        for run in raw["run"]
        if run["start"].split(".")[0] not in gone and run["end"].split(".")[0] not in gone
    ]
    kinds = {each.kind for each in first_readings(planted.design_from(raw))}
    assert kinds == {"battery-voltage", "plus-to-minus", "minus-to-metal", "plus-to-metal", "across-holder"}

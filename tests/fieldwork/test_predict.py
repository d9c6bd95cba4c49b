"""Predicted readings: by hand for one job, and what must hold for every one."""

import copy
import math

import planted
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.fieldwork.bench import bench_of, bench_ohm
from ampwright.fieldwork.predict import predicted_tests
from ampwright.fieldwork.predicted import PredictedTest, judgement
from ampwright.fieldwork.predicted_system import standby_a

BASES = ("base-12v", "base-24v", "base-module", "base-mains")


@pytest.fixture(scope="module")
def base():
    return planted.base_job("base-12v")


@pytest.fixture(scope="module")
def tests(base):
    return predicted_tests(planted.assessed(base))


def only(tests, kind, subject, **wanted):
    found = [
        test
        for test in tests
        if (test.kind, test.subject) == (kind, subject)
        and all(getattr(test, name) == value for name, value in wanted.items())
    ]
    (test,) = found
    return test


def doubt(test, cause):
    return next(each.half_width for each in test.contributions if each.cause == cause)


def test_loop_of_the_fridge_by_hand(tests):
    # W1: 2 x 0.5 m of 50 mm2 (0.386 mohm/m), W6: 2 x 2.5 m of 4 mm2 (4.95 mohm/m); 25 degC: 1 + 5 x 0.00393
    copper = (0.386 + 24.75) * 1.01965
    # joints 1 mohm each; F1 0.43 and S1 0.2, Q6 6 and two poles of the plug 0.3 each
    fixed = 2.0 + 0.63 + 6.6
    loop = only(tests, "loop-resistance", "fridge")
    assert 1000.0 * loop.expected == pytest.approx(copper + fixed, abs=0.1)
    assert 1000.0 * doubt(loop, "length") == pytest.approx(0.05 * copper, rel=0.03)
    assert 1000.0 * doubt(loop, "joints") == pytest.approx(0.5 * 2.0 + 0.25 * 7.23, rel=0.03)
    assert 1000.0 * doubt(loop, "temperature") == pytest.approx(15.0 * 0.00393 * 25.136, rel=0.03)


def test_drop_is_current_times_loop(tests):
    loop, drop = (only(tests, kind, "fridge") for kind in ("loop-resistance", "voltage-drop"))
    assert drop.expected == pytest.approx(loop.expected * drop.load_a)
    # the load's current is not known better than a quarter
    assert doubt(drop, "load") == pytest.approx(0.25 * drop.expected)
    assert drop.high == pytest.approx(drop.expected + drop.tolerance)
    assert drop.low is None


def test_voltage_at_the_device_is_rest_less_sag_less_drop(tests):
    device, drop = (only(tests, kind, "fridge") for kind in ("device-voltage", "voltage-drop"))
    # lithium at 80 %: 3.3097 V a cell, 5 mohm inside
    assert device.expected == pytest.approx(4 * 3.3097 - 0.005 * drop.load_a - drop.expected, abs=0.002)


def test_standby_is_what_is_always_on_outside_the_battery(base):
    design = planted.assessed(base).design
    # charger 10, controller 10, outputs 35 mA; the inverter sleeps without a load, the battery has its own inside
    assert standby_a(design) == pytest.approx(0.055 + buttons_a(design))


def buttons_a(design):
    return sum(placed.part.standby_a for placed in design.parts if placed.part.kind == "button-panel")


def test_charger_gives_its_label_on_the_road(tests):
    output = only(tests, "charger-output", "charger", state="road")
    assert output.expected == pytest.approx(40.0)
    # clamp: 2 % and 3 digits of 0.1 A; charger 5 %
    assert output.tolerance == pytest.approx(2.0 * math.hypot(0.8 + 0.3, 2.0) / math.sqrt(3.0))


def test_short_alternator_gives_what_is_spare_with_more_doubt(base):
    raw = copy.deepcopy(base)
    raw["vehicle"]["alternator"]["hot_idle_frac"] = 0.3  # 45 A less 30 A: 15 A for the charger
    tests = predicted_tests(planted.assessed(raw))
    idle = only(tests, "charger-output", "charger", state="idle")
    # 14.2 V less 15 A x 9.9 mohm, times 0.95 or what the part says, over the battery's 13.1 to 13.3 V
    assert 13.0 < idle.expected < 16.0
    assert doubt(idle, "load") == pytest.approx(0.15 * 45.0 / 15.0 * idle.expected)


def test_lithium_gives_a_window_and_no_state_of_charge(tests):
    rest = [test for test in tests if test.kind == "rest-voltage"]
    (one,) = rest
    assert one.soc_frac is None
    assert one.low == pytest.approx(4 * 2.9781, abs=0.1)
    assert one.high == pytest.approx(4 * 3.3502, abs=0.1)


def test_lead_acid_gives_charge_by_rest_voltage(base):
    raw = copy.deepcopy(base)
    for part in raw["part"]:
        if part["id"] == "battery":
            part["part"] = "agm-200"
    tests = predicted_tests(planted.assessed(raw))
    rest = {test.soc_frac: test for test in tests if test.kind == "rest-voltage"}
    # six cells: 2.1333, 2.10, 2.05 and 2.00 V
    assert [round(rest[frac].expected, 2) for frac in (1.0, 0.75, 0.5, 0.25)] == [12.8, 12.6, 12.3, 12.0]
    # a tenth of charge more or less is 6 x 0.02 V at three quarters
    assert doubt(rest[0.75], "charge") == pytest.approx(0.12)


def test_settings_are_found_again_as_thresholds(tests):
    assert only(tests, "threshold", "load cut-off", name="open_v").expected == 11.8
    assert only(tests, "threshold", "load cut-off", name="close_v").expected == 12.8


def test_channel_limits_stand_beside_what_their_loads_take(tests):
    limits = [test for test in tests if test.kind == "channel-limit"]
    assert limits
    for test in limits:
        assert test.load_a is None or test.load_a < test.expected


@pytest.mark.parametrize("name", BASES)
def test_every_prediction_lies_inside_its_limits(name):
    found = predicted_tests(planted.assessed(planted.base_job(name)))
    assert len({test.id for test in found}) == len(found)
    for test in found:
        assert test.expected is not None, test.id
        assert test.contributions, test.id
        assert test.tolerance > 0.0
        assert judgement(test, test.expected) == "within", test.id
        assert test.low is not None or test.high is not None


@pytest.mark.parametrize("name", BASES)
def test_a_bad_joint_falls_outside(name):
    found = predicted_tests(planted.assessed(planted.base_job(name)))
    for test in found:
        if test.kind == "loop-resistance":
            assert judgement(test, test.expected + 0.05) == "outside", test.id


@settings(max_examples=25, deadline=None)
@given(
    length=st.floats(1.0, 2.0),
    joint=st.floats(1.0, 3.0),
    contact=st.floats(1.0, 3.0),
    warmer=st.floats(0.0, 60.0),
)
def test_resistance_grows_with_each_doubt(length, joint, contact, warmer):
    design = planted.design_from(planted.base_job("base-12v"))
    likely = bench_ohm(design)
    doubted = bench_ohm(
        design,
        conductor_degc=25.0 + warmer,
        length_factor=length,
        joint_factor=joint,
        contact_factor=contact,
    )
    assert (doubted >= likely - 1e-15).all()


@pytest.fixture(scope="module")
def joined():
    raw = planted.base_job("base-12v")
    raw["run"] = [
        *raw["run"],
        {"id": "W99", "start": "starter-battery", "end": "bar", "cable": "cable-25", "length_m": 3.0},
    ]
    return planted.assessed(raw)


def test_current_of_two_batteries_divides_by_their_ways(joined):
    design, bench = joined.design, bench_of(joined.design)
    ohm = {run.id: float(bench.ohm[run.index]) for run in design.runs}
    drop, device = (
        only(predicted_tests(joined), kind, "fridge") for kind in ("voltage-drop", "device-voltage")
    )
    # the fridge hangs on W6 behind the bar, W1 leads there from the battery and W99 from the other one
    rest_v, inside_ohm = 4 * 3.3097, 0.005
    way_ohm = ohm["W1"]
    first_ohm, other_ohm = inside_ohm + way_ohm, design.vehicle.starter_resistance_ohm + ohm["W99"]
    load_a = drop.load_a
    share_frac = other_ohm / (first_ohm + other_ohm)
    both_ohm = first_ohm * share_frac
    assert drop.note == "two batteries"
    assert drop.expected == pytest.approx(load_a * (share_frac * way_ohm + ohm["W6"]), rel=1e-3)
    assert device.expected == pytest.approx(rest_v - load_a * (both_ohm + ohm["W6"]), abs=0.002)


def test_every_circuit_of_two_batteries_is_predicted(joined):
    tests = [test for test in predicted_tests(joined) if test.note == "two batteries"]
    assert {test.kind for test in tests} == {"load-current", "voltage-drop", "device-voltage"}
    for test in tests:
        assert judgement(test, test.expected) == "within", test.id
        assert test.tolerance > 0.0
    alone = predicted_tests(planted.assessed(planted.base_job("base-12v")))
    # the second battery carries a part: less is lost on the way from the first
    assert only(tests, "voltage-drop", "fridge").expected < only(alone, "voltage-drop", "fridge").expected


def test_what_asks_for_more_than_its_way_gives_says_so(base):
    raw = copy.deepcopy(base)
    (laptop,) = (load for load in raw["load"] if load["id"] == "laptop")
    laptop["power_w"] = 60000.0
    tests = [test for test in predicted_tests(planted.assessed(raw)) if test.subject == "laptop"]
    assert {(test.expected, test.note) for test in tests} == {(None, "no steady voltage")}
    assert judgement(tests[0], 0.1) == "not predicted"


def test_behind_a_converter_the_drop_is_read_from_its_output():
    tests = predicted_tests(planted.assessed(planted.base_job("base-24v")))
    device, drop = (only(tests, kind, "dash") for kind in ("device-voltage", "voltage-drop"))
    assert drop.source_node == "step.out"
    # 120 W at the 12 V side; the converter holds its voltage, so the rest is the drop of W8 alone
    assert drop.load_a == pytest.approx(120.0 / device.expected)
    assert device.expected + drop.expected == pytest.approx(converter_v("base-24v"))


def converter_v(name):
    design = planted.design_from(planted.base_job(name))
    return next(placed.part.output_v for placed in design.parts if placed.part.kind == "converter")


def test_judgement_knows_both_sides():
    test = PredictedTest(
        kind="threshold", subject="x", state="bench", unit="V", expected=12.0, low=11.9, high=12.1
    )
    assert [judgement(test, value) for value in (11.8, 12.05, 12.2, math.nan)] == [
        "outside",
        "within",
        "outside",
        "not predicted",
    ]

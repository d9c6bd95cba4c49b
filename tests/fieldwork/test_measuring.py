"""The measuring procedure: what it foretells by hand, and that its lines flow back into the verdict."""

import copy
import tomllib
from pathlib import Path

import planted
import pytest

from ampwright.api import sun_of
from ampwright.energy.simulate import energy_model
from ampwright.fieldwork.measuring import measuring_plan
from ampwright.findings import Severity
from ampwright.network.solve import network_result


def plan_of(raw):
    design = planted.design_from(raw)
    network = network_result(design)
    model = energy_model(design, sun_of(design, Path()), path_ohm=network.path_ohm)
    return measuring_plan(design, network, model.alternator)


def step(plan, title):
    (found,) = (one for one in plan.steps if one.title == title)
    return found


@pytest.fixture(scope="module")
def base():
    return planted.base_job("base-12v")


def test_expected_readings_by_hand(base):
    plan = plan_of(base)
    assert step(plan, "What the vehicle itself takes by day").expected == 30.0
    # charger: 40 A at 14.2 V over its efficiency, at 14.2 V behind its way: 44.9 A; with 30 A for the vehicle
    assert step(plan, "What the alternator gives hot, at idle").expected == pytest.approx(74.9, abs=0.5)
    assert step(plan, "Current into charger, at idle").expected == pytest.approx(44.9, abs=0.5)
    # W2: 4.5 m of 25 mm2, 0.78 mohm a metre and way, at 60 degC, 1 mohm of joints, fuse 0.75 mohm: 9.87 mohm
    lost = step(plan, "Voltage lost on the way to charger, at idle")
    assert lost.expected == pytest.approx(44.9 * 0.00987, abs=0.01)
    assert lost.field == "run.W2.joint_ohm"
    assert "less 0.0089 ohm" in lost.meaning


def with_reading(raw, one, reading):
    """Write a step's line into a job as a person does, the reading in the place of 0.0."""
    raw = copy.deepcopy(raw)
    ((name, value),) = tomllib.loads(one.line.replace("0.0", repr(reading))).items()
    *tables, field = one.field.split(".")
    holder = raw
    if tables[0] in {"run", "part"}:
        holder = next(row for row in raw[tables[0]] if row["id"] == tables[1])
    else:
        for table in tables:
            holder = holder[table]
    assert name == field
    holder[field] = value
    return raw


def test_every_line_can_be_written_where_it_says(base):
    for one in plan_of(base).steps:
        if one.field:
            assert one.expected is not None
            planted.design_from(with_reading(base, one, one.expected or 0.1))


def test_the_verdict_follows_a_reading(base):
    def spare(raw):
        found = planted.assessed(raw).findings
        return next(f for f in found if (f.rule, f.subject) == ("alternator-spare", "alternator idle day"))

    one = step(plan_of(base), "What the alternator gives hot, at idle")
    assert spare(base).severity == Severity.PASS
    low = spare(with_reading(base, one, 62.0))
    assert low.severity == Severity.CONDITION
    assert low.limit == pytest.approx(62.0 - 30.0)
    own = step(plan_of(base), "What the vehicle itself takes by day")
    assert spare(with_reading(base, own, 70.0)).limit == pytest.approx(0.7 * 150.0 - 70.0)


def test_joints_read_on_the_vehicle_change_the_way(base):
    one = step(plan_of(base), "Voltage lost on the way to charger, at idle")
    worse = plan_of(with_reading(base, one, 0.011))
    before, after = one.expected, step(worse, "Voltage lost on the way to charger, at idle").expected
    assert after == pytest.approx(before + 45.3 * 0.010, abs=0.03)


def test_without_alternator_only_the_parked_vehicle_and_without_both_nothing(base):
    raw = copy.deepcopy(base)
    del raw["vehicle"]["alternator"]
    assert [one.field for one in plan_of(raw).steps] == ["vehicle.starter_battery.standby_a"]
    raw["part"] = [part for part in raw["part"] if part["id"] != "charger"]
    raw["run"] = [run for run in raw["run"] if run["id"] not in {"W2", "W3"}]
    raw["setting"] = [one for one in raw["setting"] if one["part"] != "charger"]
    del raw["vehicle"]["starter_battery"]
    plan = plan_of(raw)
    assert plan.steps == ()
    assert "nothing to measure" in plan.note


def test_cautions_name_what_hurts(base):
    said = " ".join(plan_of(base).cautions)
    for word in ("Exhaust", "Belt", "hot", "never the driver", "dry grass"):
        assert word in said

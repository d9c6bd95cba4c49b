"""Which side of a converter a node lies on, and its nominal voltage there."""

import sys
from pathlib import Path

import pytest

from ampwright.job.converters import placed_converters, sides_of

sys.path.insert(0, str(Path(__file__).parents[1] / "cases"))
import planted


@pytest.fixture
def raw():
    return planted.base_job("base-24v")


def nominal(design, name):
    return sides_of(design).nominal_v[design.node_of(name)]


def test_behind_it_is_its_own_nominal_voltage(raw):
    design = planted.design_from(raw)
    sides = sides_of(design)
    (placed,) = [placed for placed, _ in placed_converters(design)]
    assert nominal(design, "dash") == 12.0
    assert nominal(design, "step.in") == nominal(design, "bar") == design.system_v
    assert nominal(design, "starter-battery") == 24.0
    assert sides.behind(design.node_of("dash"), placed.index)
    assert not sides.behind(design.node_of("bar"), placed.index)
    assert not sides.behind(-1, placed.index)
    assert sides.nominal_at(-1, 7.0) == 7.0


def test_it_belongs_to_the_vehicle_when_the_vehicle_feeds_it(raw):
    own = planted.design_from(raw)
    assert not sides_of(own).is_vehicle[own.node_of("dash")]
    theirs = planted.design_from(planted.edited(raw, {"set": {"run/W7/start": "starter-battery"}}))
    assert sides_of(theirs).is_vehicle[theirs.node_of("dash")]
    assert sides_of(theirs).is_vehicle[theirs.node_of("step.in")]


def test_those_behind_others_come_later(raw):
    edit = {
        "add": {
            "part": [{"id": "a-last", "part": "step-24-12-5", "zone": "locker"}],
            "run": [
                {"id": "X", "start": "step.out", "end": "a-last.in", "cable": "cable-12-awg", "length_m": 1}
            ],
        }
    }
    changed = planted.edited(raw, edit)
    changed["part"].insert(0, changed["part"].pop())
    design = planted.design_from(changed)
    assert [placed.id for placed, _ in placed_converters(design)] == ["step", "a-last"]


def test_a_ring_of_converters_ends(raw):
    """Two that feed each other are nonsense; it is still answered."""
    edit = {
        "add": {
            "part": [{"id": "other", "part": "step-24-12-5", "zone": "locker"}],
            "run": [
                {"id": "X", "start": "step.out", "end": "other.in", "cable": "cable-12-awg", "length_m": 1},
                {"id": "Y", "start": "other.out", "end": "step.in", "cable": "cable-12-awg", "length_m": 1},
            ],
        }
    }
    design = planted.design_from(planted.edited(raw, edit))
    assert {placed.id for placed, _ in placed_converters(design)} == {"step", "other"}


def test_a_second_alternator_on_the_auxiliary_battery_leaves_the_vehicle_its_side(raw):
    second = {
        "feeds": "auxiliary",
        "rating_a": 100,
        "regulation": "fixed",
        "voltage_v": 28.2,
        "lowest_v": 27.4,
        "highest_v": 28.6,
        "hot_road_frac": 0.8,
        "hot_idle_frac": 0.5,
    }
    run = {"id": "X", "start": "bar", "end": "second-alternator", "cable": "cable-2-0-awg", "length_m": 2}
    edit = {
        "add": {"run": [run]},
        "set": {"vehicle/second_alternator": second, "run/W7/start": "starter-battery"},
    }
    design = planted.design_from(planted.edited(raw, edit))
    sides = sides_of(design)
    assert sides.is_vehicle[design.node_of("dash")]
    assert not sides.is_vehicle[design.node_of("second-alternator")]

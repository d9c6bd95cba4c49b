import importlib.util
from pathlib import Path

import numpy as np
import pytest

from ampwright.network.box_air import box_air, warmed
from ampwright.network.heat import boxes_in_use, enclosure_heat, fixed_point

SPEC = importlib.util.spec_from_file_location("heat_jobs", Path(__file__).with_name("test_heat.py"))
heat_jobs = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(heat_jobs)


def test_runs_that_end_in_a_box_have_its_air_and_others_keep_theirs():
    design = heat_jobs.planted_box()
    [heat] = enclosure_heat(design)
    hot = warmed(design, (heat,))
    assert heat.air_degc > 43
    assert [run.ambient_max_degc for run in hot.runs] == pytest.approx([heat.air_degc, heat.air_degc, 43])
    assert warmed(design, ()) is design


def test_the_course_over_the_air_around_is_that_of_the_fixed_point():
    design = heat_jobs.planted_box()
    none = np.zeros(len(design.runs))
    [(part, course)] = box_air(design, none).items()
    [use] = boxes_in_use(design, none)
    assert design.parts[part].id == "box"
    assert (np.diff(course) > 0).all()
    for around in (-20.0, 10.0, 25.0, 50.0, 65.0):
        exact = fixed_point(design, use, around).air_degc
        assert np.interp(around, course[0], course[1]) == pytest.approx(exact, abs=0.3)


def test_a_box_without_a_charger_has_no_course():
    design = heat_jobs.planted_box()
    bare = design.__class__(**{
        **{name: getattr(design, name) for name in design.__dataclass_fields__},
        "parts": tuple(part for part in design.parts if part.id != "charger"),
    })  # fmt: skip
    assert box_air(bare, np.zeros(len(design.runs))) == {}

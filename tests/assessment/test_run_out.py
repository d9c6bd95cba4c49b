"""What runs out first, on courses of energy that were bent by hand."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from base_jobs import base, studied

from ampwright.assessment.result import Assessment
from ampwright.assessment.run_out import has_limits, run_out

COLD = {
    "load/fridge/part": "fridge-vaccine-30",
    "load/fridge/contents_low_degc": 2,
    "load/fridge/contents_high_degc": 8,
    "load/fridge/set_degc": 5,
}


def bent(found: Assessment, **arrays: Any) -> Any:
    return run_out(found.design, dataclasses.replace(found.energy, **arrays))


def off(found: Assessment, load: str, step: int) -> dict[str, Any]:
    index = next(one.index for one in found.design.loads if one.id == load)
    flags, missing = found.energy.is_unserved.copy(), found.energy.unserved_w.copy()
    flags[step:, index] = True
    missing[step:, index] = 10.0
    return {"is_unserved": flags, "unserved_w": missing}


def moment(found: Assessment, day: int, hour: int) -> int:
    per_day = found.energy.steps_per_day
    return (day - 1) * per_day + hour * per_day // 24


def test_nothing_runs_out() -> None:
    found = base("base-12v")
    answer = run_out(found.design, found.energy)
    assert not answer.runs_out
    assert answer.subject == "battery"
    assert answer.margin_frac == pytest.approx(float(found.energy.soc_frac.min()))
    assert "Nothing runs out" in answer.message


def test_load_without_voltage() -> None:
    found = base("base-12v")
    step = moment(found, 2, 20)
    answer = bent(found, **off(found, "lights", step))
    assert (answer.runs_out, answer.subject, answer.day_count, answer.clock) == (True, "lights", 2, "20:00")
    assert "for want of voltage" in answer.message
    assert answer.margin_frac < 0.0


def test_a_battery_that_is_too_cold_is_not_said_to_be_empty() -> None:
    found = base("base-12v")
    step = moment(found, 2, 5)
    gone, cells = found.energy.is_management_open.copy(), found.energy.cell_degc.copy()
    gone[step:], cells[step:] = True, -23.4
    frozen = bent(found, **off(found, "lights", step), is_management_open=gone, cell_degc=cells)
    assert frozen.subject == "battery"
    assert (
        "is too cold on day 2 at 05:00: its cells are at -23 °C, it gives nothing below -20 °C"
        in frozen.message
    )
    empty = bent(found, **off(found, "lights", step), is_management_open=gone)
    assert "runs out on day 2 at 05:00: its management opens" in empty.message


def test_first_of_several_counts() -> None:
    found = base("base-12v")
    late, early = off(found, "lights", moment(found, 3, 20)), off(found, "laptop", moment(found, 2, 19))
    both = {name: np.maximum(late[name], early[name]) for name in late}
    answer = bent(found, **both)
    assert (answer.subject, answer.day_count, answer.clock) == ("laptop", 2, "19:00")


@pytest.mark.parametrize(
    ("flag", "said"),
    [("is_cut_off", "the load cut-off opens"), ("is_management_open", "its management opens")],
)
def test_battery_is_named_when_it_cuts_off(flag: str, said: str) -> None:
    found = base("base-12v")
    step = moment(found, 2, 20)
    opened = getattr(found.energy, flag).copy()
    opened[step] = True
    answer = bent(found, **off(found, "lights", step), **{flag: opened})
    assert answer.subject == "battery"
    assert said in answer.message


def test_comfort_weighs_a_tenth_of_essential() -> None:
    found = base("base-12v")
    step = moment(found, 2, 20)
    essential = bent(found, **off(found, "lights", step)).margin_frac
    comfort = bent(found, **off(found, "laptop", step)).margin_frac
    assert essential < comfort < 0.0


def test_contents_leave_their_range_before_anything_else() -> None:
    found = studied(change=COLD)
    degc = found.energy.fridge_degc.copy()
    degc[moment(found, 2, 3) :, 0] = 9.5
    answer = bent(found, fridge_degc=degc, **off(found, "lights", moment(found, 3, 20)))
    assert (answer.subject, answer.day_count, answer.clock) == ("fridge", 2, "03:00")
    assert "9.5 °C" in answer.message


def test_contents_too_cold() -> None:
    found = studied(change=COLD)
    degc = found.energy.fridge_degc.copy()
    degc[moment(found, 1, 4), 0] = 1.0
    assert bent(found, fridge_degc=degc).subject == "fridge"


def test_gap_of_a_refrigerator_with_limits_is_no_failure() -> None:
    found = studied(change=COLD)
    load = next(one for one in found.design.loads if one.id == "fridge")
    assert has_limits(load)
    answer = bent(found, **off(found, "fridge", moment(found, 2, 20)))
    assert not answer.runs_out


def test_ice_that_is_used_up_comes_nearest() -> None:
    found = studied(change=COLD)
    ice = found.energy.fridge_ice_wh.copy()
    ice[moment(found, 2, 6), 0] = 33.0
    answer = bent(found, fridge_ice_wh=ice)
    assert (answer.subject, answer.runs_out) == ("fridge", False)
    assert answer.margin_frac == pytest.approx(0.1)
    assert "10 % left" in answer.message


def test_only_a_refrigerator_with_ice() -> None:
    gone = [
        "load/lights",
        "load/laptop",
        "load/mixer",
        "run/W9",
        "run/W10",
        "channel/Lights",
        "channel/Laptop",
    ]
    found = studied(change=COLD, remove=gone)
    assert run_out(found.design, found.energy).subject == "fridge"

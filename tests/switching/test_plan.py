from __future__ import annotations

from typing import Any

import planted
import pytest

from ampwright.job.design import Design
from ampwright.switching.plan import ChannelLoads, switch_plan


def design(name: str = "base-12v", **edit: Any) -> Design:
    return planted.design_from(planted.edited(planted.base_job(name), edit))


def channel(of: Design, number: int) -> ChannelLoads:
    return next(one for one in switch_plan(of).channels if one.number == number)


def names(of: Design, one: ChannelLoads) -> list[str]:
    return [of.loads[index].id for index in one.loads]


def test_wired_channels_in_order_with_their_loads() -> None:
    found = design()
    plan = switch_plan(found)
    assert [one.number for one in plan.channels] == [5, 6]
    assert [names(found, one) for one in plan.channels] == [["lights"], ["laptop"]]
    # 4 lamps of 5 W and 60 W, at 12 V
    assert [one.peak_a for one in plan.channels] == [pytest.approx(20 / 12), pytest.approx(5.0)]
    assert [found.channels[one.channel].name for one in plan.channels] == ["Lights", "Laptop"]


def test_module_sums_its_channels_and_counts_the_free_ones() -> None:
    (module,) = switch_plan(design()).modules
    assert module.peak_a == pytest.approx(80 / 12)
    assert module.free_count == 10


def test_peak_counts_and_not_the_usual_power() -> None:
    found = design(set={"load/laptop/peak_w": 90})
    assert channel(found, 6).peak_a == pytest.approx(7.5)


def test_channel_without_description() -> None:
    found = design(remove=["channel/Laptop"])
    assert channel(found, 6).channel == -1


def test_described_channel_without_a_run_carries_nothing() -> None:
    spare = {"module": "outputs", "number": 7, "name": "Spare"}
    plan = switch_plan(design(add={"channel": [spare]}))
    assert 7 not in {one.number for one in plan.channels}


def test_runs_may_be_written_either_way() -> None:
    found = design(set={"run/W9/start": "lights", "run/W9/end": "outputs.5"})
    assert names(found, channel(found, 5)) == ["lights"]


def test_loads_beyond_a_branch_and_at_an_outlet() -> None:
    more = {
        "part": [{"id": "post", "part": "bus-100", "zone": "bench"}],
        "run": [{"id": "W11", "start": "post", "end": "lights", "cable": "cable-4", "length_m": 1.0}],
        "load": [{"id": "radio", "name": "Radio", "power_w": 12, "at": "post"}],
    }
    found = design(set={"run/W9/end": "post"}, add=more)
    assert names(found, channel(found, 5)) == ["lights", "radio"]
    assert channel(found, 5).peak_a == pytest.approx(32 / 12)


def test_loads_of_a_second_module_behind_a_channel() -> None:
    more = {
        "part": [{"id": "more", "part": "out-8", "zone": "bench"}],
        "run": [{"id": "W11", "start": "outputs.1", "end": "more.in", "cable": "cable-10", "length_m": 1.0}],
    }
    found = design(set={"run/W9/start": "more.5"}, add=more, remove=["channel/Lights"])
    first = next(one for one in switch_plan(found).channels if one.number == 1)
    assert names(found, first) == ["lights"]


def test_nothing_is_found_back_through_the_feed() -> None:
    found = design()
    assert "fridge" not in names(found, channel(found, 5))


def test_24_volt_currents_and_jobs_without_a_module() -> None:
    plan = switch_plan(design("base-24v"))
    assert plan.channels == ()
    assert plan.modules == ()

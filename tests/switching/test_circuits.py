import planted
import pytest

from ampwright.switching.circuits import LOW_BATTERY_FRAC, channels_of, circuits_of
from ampwright.switching.plan import switch_plan


def found(solved_a=(), **edit):
    design = planted.design_from(planted.edited(planted.base_job("base-12v"), edit))
    channels = channels_of(design)
    return channels, circuits_of(design, switch_plan(design), channels, solved_a=dict(solved_a))


def test_every_channel_of_the_part_in_order():
    channels, _ = found()
    assert [one.number for one in channels] == list(range(1, 13))
    assert {one.max_a for one in channels if one.is_dimmable} == {10.0}
    assert [one.node for one in channels[:2]] == ["outputs.1", "outputs.2"]


def test_wired_circuits_with_the_larger_of_nominal_and_calculated_current():
    channels, (lights, laptop) = found({"outputs.5": 1.9, "outputs.6": 0.5}.items())
    assert (lights.name, lights.current_a) == ("Lights", 1.9)
    assert laptop.current_a == pytest.approx(5.0)  # 60 W at 12 V
    assert [channels[one.channel].number for one in (lights, laptop)] == [5, 6]


def test_a_load_nothing_leads_to_is_not_wired_and_counted_at_low_battery():
    lamp = {"id": "lamp", "name": "Lamp", "power_w": 24, "dimmed_frac": 0.5}
    *_, last = found(add={"load": [lamp]})[1]
    assert (last.id, last.channel, last.is_dimmed) == ("lamp", -1, True)
    assert last.current_a == pytest.approx(2.0 / LOW_BATTERY_FRAC)

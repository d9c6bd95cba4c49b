import dataclasses

import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.sizing.run_times import run_times, usable_wh


@pytest.fixture(scope="module")
def van(examples):
    loaded = api.load(examples / "night-survey-van.toml")
    return assess(loaded.design, loaded.sun)


def test_usable_energy_by_hand(van):
    # 100 Ah at 12 V; the job keeps 15 %, the part wants 1 - usable_frac kept: the larger one counts
    kept = max(0.15, 1.0 - van.design.battery_part().usable_frac)
    assert usable_wh(van.design) == pytest.approx(1200.0 * (1.0 - kept))


def test_laptop_alone_by_hand(van):
    own_w = van.energy.ledger.standby_wh / (24.0 * 8)
    laptop = next(each for each in run_times(van) if each.load == "laptop")
    assert laptop.battery_w == pytest.approx(65.0 + own_w)
    assert laptop.run_h == pytest.approx(usable_wh(van.design) / (65.0 + own_w))


def test_dimmed_lamps_draw_less(van):
    lamps = next(each for each in run_times(van) if each.load == "red-lamps")
    own_w = van.energy.ledger.standby_wh / (24.0 * 8)
    assert lamps.battery_w - own_w == pytest.approx(4 * 4.0 * 0.6)


def test_refrigerator_draws_its_mean(van):
    fridge = next(each for each in run_times(van) if each.load == "fridge")
    own_w = van.energy.ledger.standby_wh / (24.0 * 8)
    assert fridge.battery_w - own_w == pytest.approx(fridge.daily_wh / 24.0)


def test_inverter_loads_carry_its_losses(examples):
    loaded = api.load(examples / "bicycle-repair-truck.toml")
    found = assess(loaded.design, loaded.sun)
    pot = next(each for each in run_times(found) if each.load == "glue-pot")
    load = next(each for each in found.design.loads if each.id == "glue-pot")
    assert pot.battery_w > load.power_w / 0.97


@pytest.mark.parametrize("reserve", [0.0, 0.1, 0.3, 0.6])
def test_a_larger_reserve_never_lasts_longer(van, reserve):
    use = dataclasses.replace(van.design.job.use, reserve_frac=reserve)
    more = dataclasses.replace(van.design.job.use, reserve_frac=reserve + 0.1)
    less_kept, more_kept = (
        usable_wh(dataclasses.replace(van.design, job=dataclasses.replace(van.design.job, use=each)))
        for each in (use, more)
    )
    assert more_kept <= less_kept

"""Sums of the energy study's result, by hand."""

import dataclasses

import numpy as np
import pytest

from ampwright.assessment.assess import assess


@pytest.fixture(scope="module")
def energy(loaded_example):
    loaded = loaded_example("vaccine-outreach")
    return assess(loaded.design, loaded.sun).energy


def test_a_refrigerator_misses_what_it_takes_to_keep_cold_and_not_its_full_power(energy):
    (fridge,) = energy.fridge_loads
    steps = energy.is_unserved.shape[0]
    off = np.arange(steps) < steps // 3  # a third of the time without supply
    unserved, flags, given = (
        energy.unserved_w.copy(), energy.is_unserved.copy(), energy.load_w.copy()
    )  # fmt: skip
    unserved[:, fridge], flags[:, fridge] = np.where(off, 40.0, 0.0), off
    given[:, fridge] = np.where(off, 0.0, np.where(np.arange(steps) % 2 == 0, 12.0, 0.0))
    found = dataclasses.replace(energy, unserved_w=unserved, is_unserved=flags, load_w=given)
    hours = steps // 3 * energy.step_h
    served = ~off
    mean_w = 12.0 * (np.count_nonzero(served[::2])) / np.count_nonzero(served)  # 6 W but for one step
    assert mean_w == pytest.approx(6.0, abs=0.02)
    assert found.unserved_wh[fridge] == pytest.approx(mean_w * hours)
    never = dataclasses.replace(found, is_unserved=np.ones_like(flags))
    assert never.unserved_wh[fridge] == pytest.approx(40.0 * hours)  # nothing tells its mean draw


def test_other_loads_miss_what_they_wanted(energy):
    other = dataclasses.replace(energy, fridge_loads=())
    assert other.unserved_wh == pytest.approx(energy.unserved_w.sum(axis=0) * energy.step_h)

"""Time axis."""

import numpy as np
import pytest

from ampwright.climate.series import repeated
from ampwright.energy.calendar import calendar_of
from ampwright.errors import ClimateError

BANK = '[[part]]\nid = "bank"\npart = "lfp-100"\n'


def test_one_day_fills_all_days_and_all_days_stay(design_of, sun_of):
    design = design_of(BANK, days="3 x rest")
    sun = sun_of()
    calendar = calendar_of(design, sun)
    assert calendar.day_count == 3
    assert calendar.step_h == 0.25
    assert calendar.all_days(sun.ghi_w_m2).shape == (288,)
    everything = repeated(sun, 3)
    assert calendar_of(design, everything).all_days(everything.ghi_w_m2) is everything.ghi_w_m2


def test_values_by_plan(design_of, sun_of):
    calendar = calendar_of(design_of(BANK, days="2 x rest"), sun_of())
    values = np.arange(96.0).reshape(1, 96)
    assert calendar.by_plan(values)[96:].tolist() == list(range(96))


def test_other_day_counts_are_refused(design_of, sun_of):
    with pytest.raises(ClimateError, match="2 days, the use 3"):
        calendar_of(design_of(BANK, days="3 x rest"), repeated(sun_of(), 2))


def test_steps_must_be_whole_minutes(design_of, sun_of):
    with pytest.raises(ClimateError, match="whole minutes"):
        calendar_of(design_of(BANK), sun_of(steps=7))

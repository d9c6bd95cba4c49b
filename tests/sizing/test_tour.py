"""The demonstration job of a use that moves on, by hand: what its examples/README.md says of it."""

from __future__ import annotations

import pytest
from tests.conftest import EXAMPLES

from ampwright import api

NAME = "puppet-theatre-tour"


@pytest.fixture(scope="module")
def job():
    text = (EXAMPLES / f"{NAME}.toml").read_text(encoding="utf-8")
    return api.load_text(text, EXAMPLES / f"{NAME}.toml")


def test_each_leg_has_its_days_and_its_sun(job):
    legs = job.design.legs
    assert [(leg.name, leg.first, leg.day_count) for leg in legs] == [
        ("Bremerhaven", 0, 5),
        ("hills", 5, 4),
        ("mountains", 9, 5),
    ]
    sun = job.sun.ghi_w_m2.reshape(14, -1).mean(axis=1) * 0.024
    # October of the three places as shipped: 1.694, 1.544 and 2.123 kWh/m2 a day
    assert sun[[0, 5, 9]] == pytest.approx([1.694, 1.544, 2.123], abs=0.0006)


def test_four_shows_at_the_coast_take_half_of_the_battery(job):
    # Show day, by hand: lamps 100 W x 2.5 h, amplifier 30 W x 2.5 h, cabin lights 20 W x 4 h (at some 13 V of 12: 87 Wh), refrigerator and
    # parts 85 Wh: 497 Wh. Panel: 200 W x 1.69 h x 0.7 (shade) x 0.95 (rack) x 0.8 (heat, mismatch, controller) = 180 Wh.
    # Four of them cost 1.27 kWh of 2.56: 93 % less 50 %. A tenth for the losses nobody reckons by hand
    energy = api.answer(job).assessment.energy
    morning = energy.soc_frac[5 * energy.steps_per_day + 8 * energy.steps_per_day // 24]
    assert morning == pytest.approx(0.93 - 0.50, abs=0.05)

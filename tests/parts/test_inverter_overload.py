"""Thermal budget of an overload; times worked by hand from t = tau ln((r^2 - h) / (r^2 - 1))."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.inverter import Inverter, OverloadPoint
from ampwright.parts.inverter_overload import (
    Stretch,
    ThermalBudget,
    highest_start_level,
    level_after,
    overload_budget,
    pause_s,
    time_to_limit_s,
)

PART = shipped_catalogue().find("inv-600")
assert isinstance(PART, Inverter)
MINUTE = ThermalBudget(continuous_w=1000.0, continuous_va=1000.0, heating_s=60.0, cooling_s=60.0)
FULL = Stretch(lasts_s=40.0, load_factor=1.25)


@pytest.mark.parametrize("part", shipped_catalogue().of_kind(Inverter), ids=lambda part: part.id)
def test_from_cold_the_label_holds(part: Inverter) -> None:
    budget = overload_budget(part, output_frac=1.0)
    asked = (Stretch(lasts_s=10 * part.overload_s, load_factor=budget.ratio(part.overload_w, 0.0)),)
    assert time_to_limit_s(budget, asked) == pytest.approx(part.overload_s)


def test_600_w_by_hand() -> None:
    # r = 750/600 = 1.25, r^2 = 1.5625; tau = 60 / ln(1.5625 / 0.5625) = 60 / 1.021651 = 58.73 s
    budget = overload_budget(PART, output_frac=1.0)
    assert budget.heating_s == pytest.approx(58.73, abs=0.005)
    assert budget.cooling_s == budget.heating_s
    # warm from 480 W (level 0.64): 58.73 ln((1.5625 - 0.64) / 0.5625) = 58.73 * 0.49470 = 29.05 s
    assert time_to_limit_s(budget, (Stretch(lasts_s=99.0, load_factor=1.25),), start=0.64) == pytest.approx(
        29.05, abs=0.01
    )
    # in hot air 480 W are left: 550 W, r^2 = 1.312934; 58.73 ln(1.312934 / 0.312934) = 84.2 s
    hot = overload_budget(PART, output_frac=0.8)
    assert time_to_limit_s(
        hot, (Stretch(lasts_s=600.0, load_factor=hot.ratio(550.0, 0.0)),)
    ) == pytest.approx(84.2, abs=0.05)


def test_a_short_pause_does_not_reset_it_and_a_long_one_does() -> None:
    # 40 s at 1.25 from rest: 1.5625 (1 - e^-0.66667) = 0.76029; it holds. Again at once: over after 21.3 s in all 61.3 s.
    once = level_after(MINUTE, (FULL,))
    assert once == pytest.approx(0.76029, abs=1e-5)
    short = level_after(MINUTE, (FULL, Stretch(lasts_s=10.0, load_factor=0.0)))
    # after 10 s still 0.76029 e^-0.16667 = 0.64356; 60 ln((1.5625 - 0.64356) / 0.5625) = 29.4 s, asked 40
    assert time_to_limit_s(MINUTE, (FULL,), start=short) == pytest.approx(29.4, abs=0.05)
    long = level_after(MINUTE, (FULL, Stretch(lasts_s=300.0, load_factor=0.0)))
    # after 300 s 0.0051 is left, and the label's 61.3 s from cold are back within half a second
    assert time_to_limit_s(MINUTE, (Stretch(lasts_s=99.0, load_factor=1.25),), start=long) == pytest.approx(
        61.1, abs=0.05
    )
    assert math.isinf(time_to_limit_s(MINUTE, (FULL,), start=long))


def test_pause_needed_is_on_the_edge() -> None:
    level = level_after(MINUTE, (FULL,))
    wanted = highest_start_level(MINUTE, (FULL,))
    # backwards from 1: 1.5625 - 0.5625 e^0.66667 = 0.46690; pause 60 ln(0.76029 / 0.46690) = 29.26 s
    assert wanted == pytest.approx(0.46690, abs=1e-5)
    pause = pause_s(MINUTE, level=level, wanted=wanted, rest_ratio=0.0)
    assert pause == pytest.approx(29.26, abs=0.01)
    rests = [Stretch(lasts_s=pause + add, load_factor=0.0) for add in (-1.0, 1.0)]
    ends = [level_after(MINUTE, (FULL, rest, FULL)) for rest in rests]
    assert ends[0] > 1.0 > ends[1]


def test_load_in_the_pause_makes_it_longer_and_can_make_it_endless() -> None:
    # rest at half load: level falls towards 0.25: 60 ln((0.76027 - 0.25) / (0.46692 - 0.25)) = 51.3 s
    assert pause_s(MINUTE, level=0.76027, wanted=0.46692, rest_ratio=0.5) == pytest.approx(51.3, abs=0.05)
    assert math.isinf(pause_s(MINUTE, level=0.76027, wanted=0.46692, rest_ratio=0.7))
    assert pause_s(MINUTE, level=0.2, wanted=0.5, rest_ratio=0.9) == 0.0


def test_several_points_heat_by_the_tightest_and_cool_by_the_slowest() -> None:
    # 700 W for 20 s: r^2 = 1.361111, tau = 20 / ln(1.361111 / 0.361111) = 15.07 s; the other point 58.73 s
    part = dataclasses.replace(PART, overload_more=(OverloadPoint(power_w=700.0, lasts_s=20.0),))
    budget = overload_budget(part, output_frac=1.0)
    assert (budget.heating_s, budget.cooling_s) == pytest.approx((15.07, 58.73), abs=0.01)
    stated = overload_budget(dataclasses.replace(part, overload_recovery_s=900.0), output_frac=1.0)
    assert stated.cooling_s == 300.0


def test_no_overload_at_all_switches_off_at_once() -> None:
    part = dataclasses.replace(PART, overload_w=600.0)
    budget = overload_budget(part, output_frac=1.0)
    assert time_to_limit_s(budget, (Stretch(lasts_s=5.0, load_factor=1.01),)) == 0.0
    assert math.isinf(time_to_limit_s(budget, (Stretch(lasts_s=5.0, load_factor=1.0),)))
    assert time_to_limit_s(budget, (Stretch(lasts_s=5.0, load_factor=0.1),), start=1.2) == 0.0


@given(
    ratio=st.floats(0.0, 2.0),
    first=st.floats(0.1, 600.0),
    second=st.floats(0.1, 600.0),
    start=st.floats(0.0, 1.0),
)
def test_stretches_add_up(ratio: float, first: float, second: float, start: float) -> None:
    two = level_after(
        MINUTE,
        (Stretch(lasts_s=first, load_factor=ratio), Stretch(lasts_s=second, load_factor=ratio)),
        start=start,
    )
    one = level_after(MINUTE, (Stretch(lasts_s=first + second, load_factor=ratio),), start=start)
    assert two == pytest.approx(one, abs=1e-9)


@given(
    ratios=st.lists(st.floats(0.0, 1.6), min_size=1, max_size=6),
    start=st.floats(0.0, 1.0),
    lasts=st.floats(1.0, 200.0),
)
def test_time_to_limit_agrees_with_the_level(ratios: list[float], start: float, lasts: float) -> None:
    stretches = tuple(Stretch(lasts_s=lasts, load_factor=ratio) for ratio in ratios)
    levels = [level_after(MINUTE, stretches[:count], start=start) for count in range(1, len(stretches) + 1)]
    held = time_to_limit_s(MINUTE, stretches, start=start)
    if max(levels) > 1.0 + 1e-9:
        assert held <= lasts * len(ratios)
    if max(levels) < 1.0 - 1e-9:
        assert math.isinf(held)

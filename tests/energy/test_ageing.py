"""Years of the battery, against sums by hand."""

import dataclasses
import math

import numpy as np
import pytest

from ampwright.energy.ageing import (
    MOST_YEARS,
    battery_life,
    cycles_to_end,
    lfp_rate,
    longest_gap_days,
)
from ampwright.energy.simulate import energy_result
from ampwright.parts.battery import CyclePoint

BANK = """
[[part]]
id = "bank"
part = "{part}"
"""
YEAR_S = 365.25 * 86400.0


def points(*pairs):
    return tuple(CyclePoint(depth_frac=depth, cycle_count=count) for depth, count in pairs)


def with_part(design, **changed):
    part = dataclasses.replace(design.battery_part(), **changed)
    placed = dataclasses.replace(design.parts[design.battery], part=part)
    parts = tuple(placed if each.index == placed.index else each for each in design.parts)
    return dataclasses.replace(design, parts=parts)


def never_stored(design):
    job = dataclasses.replace(design.job, season=dataclasses.replace(design.job.season, storage_days=1))
    return dataclasses.replace(design, job=job)


@pytest.fixture(scope="module")
def case(design_of, sun_of):
    """A function that gives a design and its energy with a course and a temperature put in."""

    def build(part, course, degc):
        design = never_stored(design_of(BANK.format(part=part), days="10 x rest"))
        energy = energy_result(design, sun_of(), path_ohm=np.zeros(len(design.nodes)))
        steps = energy.battery_v.size
        soc = np.resize(np.asarray(course, float), steps + 1)
        return design, dataclasses.replace(energy, soc_frac=soc, cell_degc=np.full(steps, degc))

    return build


def test_rate_by_hand():
    # k * exp(0) * (c * 0.5^3 + d) at 25 degC full; 45 degC: exp(-17126 / 8.3145 * (1/318.15 - 1/298.15)) = 1.544
    full = 1.2571e-5 * (2.8575 * 0.125 + 0.60225)
    assert lfp_rate(np.array([25.0]), np.array([1.0]))[0] == pytest.approx(full, rel=1e-6)
    assert lfp_rate(np.array([45.0]), np.array([1.0]))[0] == pytest.approx(1.544 * full, rel=1e-3)


def test_lithium_at_rest_ages_by_the_root_of_time(case):
    design, energy = case("lfp-100", [1.0], 45.0)
    life = battery_life(design, energy)
    years = (0.2 / (float(lfp_rate(np.array([45.0]), np.array([1.0]))[0]) * math.sqrt(YEAR_S))) ** 2
    assert life.low_years == pytest.approx(years / 1.5)
    assert life.age_share_frac == 1.0
    assert life.full_cycles_per_year_count == 0.0


def test_lithium_that_cycles_loses_both(case):
    day = np.interp(np.arange(96), [0, 48, 96], [1.0, 0.2, 1.0])
    design, energy = case("lfp-100", day, 25.0)
    bare = battery_life(with_part(design, cycle_life=()), energy)
    life = battery_life(design, energy)
    assert not bare.has_cycles
    assert bare.low_years > life.low_years
    # ten cycles of 0.8 in eleven days at 4000 cycles, and the age of the middle of that course
    wear = 10.0 / 11.0 * 365.25 / 4000.0
    used = np.mean(lfp_rate(np.full(960, 25.0), energy.soc_frac[:-1]) ** 2)
    stored = lfp_rate(np.array([25.0]), energy.soc_frac[-1:])[0] ** 2
    age = math.sqrt((10 * used + stored) / 11 * YEAR_S) / 0.2
    at_low = life.low_years * 1.5
    assert age * math.sqrt(at_low) + wear * at_low == pytest.approx(1.0)
    assert life.full_cycles_per_year_count == pytest.approx(0.8 * 10 / 11 * 365.25, rel=1e-6)


def test_lead_acid_halves_for_ten_kelvin(case):
    cool = battery_life(*case("agm-100", [1.0], 20.0))
    cold = battery_life(*case("agm-100", [1.0], 0.0))
    hot = battery_life(*case("agm-100", [1.0], 40.0))
    assert cool.low_years == cold.low_years == pytest.approx(8.0 / 1.5)
    assert hot.low_years == pytest.approx(2.0 / 1.5)


def test_lead_acid_adds_the_shares_of_age_and_cycles(case):
    day = np.interp(np.arange(96), [0, 48, 96], [1.0, 0.5, 1.0])
    life = battery_life(*case("agm-100", day, 20.0))
    assert 1.0 / (1.5 * life.low_years) == pytest.approx(1.0 / 8.0 + 10.0 / 11.0 * 365.25 / 400.0, rel=1e-6)


def test_nothing_stated_nothing_said(case):
    design, energy = case("agm-100", [1.0], 20.0)
    assert battery_life(with_part(design, cycle_life=(), float_life_years=0.0), energy) is None
    life = battery_life(with_part(design, float_life_years=0.0), energy)
    assert not life.has_age
    assert life.low_years == MOST_YEARS  # no cycles in this course


def test_cycles_between_and_below_the_points():
    curve = points((0.1, 3000), (0.4, 750), (1.0, 150))
    got = cycles_to_end(curve, np.array([0.05, 0.1, 0.2, 1.0]))
    # 0.1 to 0.4 is a line of slope -1 on logarithmic axes; below, the same charge: 3000 * 0.1 / 0.05
    assert got == pytest.approx([6000.0, 3000.0, 1500.0, 150.0])


def test_longest_time_without_a_full_battery(case):
    _, energy = case("agm-100", [1.0], 20.0)
    course = np.full(energy.soc_frac.size, 0.6)
    course[96 * 2], course[96 * 7] = 0.98, 0.97
    assert longest_gap_days(dataclasses.replace(energy, soc_frac=course)) == pytest.approx(5.0)
    assert longest_gap_days(dataclasses.replace(energy, soc_frac=np.full(961, 0.6))) == pytest.approx(10.0)

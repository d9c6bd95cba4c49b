"""What the compiler makes of lanes, against plain numbers lane by lane."""

import math

import llvmlite.binding as llvm
import numpy as np
import pytest
from numba import njit

from ampwright.energy.lanes.values import (
    add1,
    add2,
    all_of,
    any_of,
    in_lane,
    lane_count,
    lane_of,
    no,
    number,
    pick,
    put1,
    put2,
    read1,
)
from ampwright.energy.physics.kernel import charger_a, consumer_a
from ampwright.energy.tables import LANES

COUNT = 6


def arithmetic(a, b, out):
    """Everything two numbers can do."""
    for i in range(out.shape[0]):
        x, y = read1(a, i), read1(b, i)
        put2(out, i, 0, x + 2.0 * y - 3 / y)
        put2(out, i, 1, min(x, y) - max(-x, 0.5) + abs(x - y))
        put2(out, i, 2, math.sqrt(max(x, 0.0)) * pick(x < y, x, 7.0))
        put2(out, i, 3, pick((x <= 1.0) & no(y > 2.0) | (x == y), 1.0, pick(x != 3.0, y, 2.0)))
        add2(out, i, 3, x)
        total = 0.0
        for _ in range(3):
            total += x
        put2(out, i, 4, pick(x >= y, total, -total))


def questions(a, out):
    """Whether a number is positive in any and in every lane, and how many lanes it is."""
    for i in range(a.shape[0]):
        is_positive = read1(a, i) > 0.0
        out[i, 0], out[i, 1] = any_of(is_positive), all_of(is_positive)
        for lane in range(lane_count(is_positive)):
            out[i, 2] += lane_of(is_positive, lane)


def doubled(value, truths, sums, given):
    """One lane after the other doubled; truths kept; sums added to."""
    result = read1(given, 0) * 1.0
    for lane in range(lane_count(result)):
        result = in_lane(result, lane, 2.0 * lane_of(result, lane))
    put1(truths, 1, read1(truths, 0) | (result > number(value)))
    add1(sums, 0, result)


def numbers(seed):
    values = np.random.default_rng(seed).uniform(-3.0, 6.0, (COUNT, LANES))
    values[0, :2], values[1, 0] = 3.0, 0.0
    return values


def test_lanes_reckon_as_plain_numbers_do():
    a, b = numbers(1), np.abs(numbers(2)) + 0.1
    b[2] = a[2]
    side, alone = np.zeros((COUNT, 5, LANES)), np.zeros((COUNT, 5, LANES))
    compiled = njit(error_model="numpy")(arithmetic)
    compiled(a, b, side)
    for lane in range(LANES):
        plain, one = np.zeros((COUNT, 5)), np.zeros((COUNT, 5))
        arithmetic(a[:, lane].copy(), b[:, lane].copy(), plain)
        compiled(a[:, lane].copy(), b[:, lane].copy(), one)
        np.testing.assert_array_equal(one, plain)
        alone[:, :, lane] = plain
    np.testing.assert_array_equal(side, alone)
    assert np.unique(side).size > 4 * COUNT * LANES


def test_any_and_all_ask_every_lane():
    values = np.full((3, LANES), -1.0)
    values[1, 5], values[2] = 1.0, 1.0
    found = np.zeros((3, 3))
    njit(questions)(values, found)
    assert found.tolist() == [[0, 0, 0], [1, 0, 1], [1, 1, LANES]]
    plain = np.zeros((2, 3))
    questions(np.array([-1.0, 1.0]), plain)
    assert plain.tolist() == [[0, 0, 0], [1, 1, 1]]


def test_single_lanes_and_truths():
    given, sums = np.arange(float(LANES))[None], np.ones((1, LANES))
    truths = np.zeros((2, LANES), np.bool_)
    truths[0, 0] = True
    njit(doubled)(np.full(LANES, 9.0), truths, sums, given)
    assert sums[0].tolist() == [1.0 + 2.0 * k for k in range(LANES)]
    assert truths[1].tolist() == [k == 0 or 2.0 * k > 9.0 for k in range(LANES)]


def currents(v, power_w, ohm, out):
    for i in range(out.shape[0]):
        for j in range(out.shape[1]):
            volt = read1(v, i)
            taken = consumer_a(0, read1(power_w, j), read1(ohm, j), 12.0, volt)
            put2(out, i, j, taken - charger_a(14.4, 0.01, 20.0, read1(power_w, j), volt))


def test_the_processors_vectors_are_used():
    features = llvm.get_host_cpu_features()
    register = "zmm" if features.get("avx512f") else "ymm" if features.get("avx2") else ""
    if not register:
        pytest.skip("this processor has neither AVX2 nor AVX-512")
    compiled = njit(error_model="numpy")(currents)
    v, power_w, ohm = numbers(3) + 20.0, np.abs(numbers(4)), np.abs(numbers(5)) + 0.01
    compiled(v, power_w, ohm, np.zeros((COUNT, COUNT, LANES)))
    (assembly,) = compiled.inspect_asm().values()
    lines = [line for line in assembly.splitlines() if "sqrt" in line or "div" in line]
    wide = [line for line in lines if "pd" in line.split()[0] and register[1:] in line]
    assert sum("sqrt" in line for line in wide) >= 2
    assert sum("div" in line for line in wide) >= 2
    assert not any("sqrtsd" in line for line in lines)

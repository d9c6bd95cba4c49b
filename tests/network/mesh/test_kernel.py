import json
import math
import os
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.network.kernel import tree_solution
from ampwright.network.mesh.kernel import (
    conductance_matrix,
    core_step,
    mesh_solution,
    mesh_step,
    transfer_ohm,
)

SOURCE_V = 12.0


def solved(branches, count, *, power=None, current=None, conductance=None, source_v=SOURCE_V):
    """Branches as (start, end, ohm); loads as {node: figure}."""
    start, end, ohm = (np.array(column) for column in zip(*branches, strict=True))
    matrix = conductance_matrix(start, end, ohm.astype(float), count)
    loads = [
        np.array([(figures or {}).get(k, 0.0) for k in range(count)])
        for figures in (power, current, conductance)
    ]
    parent, place = np.zeros(count, dtype=np.int64), np.arange(count)
    node_v, iterations, is_found = mesh_solution(parent, np.zeros(count), place, matrix, *loads, source_v)
    return node_v, (node_v[start] - node_v[end]) / ohm, iterations, is_found


@st.composite
def meshes(draw, *, is_linear=False):
    count = draw(st.integers(2, 16))
    figure = st.floats(0.0, 1.0)
    pairs = [(draw(st.integers(0, k - 1)), k) for k in range(1, count)]
    for _ in range(draw(st.integers(1, 6))):
        a, b = draw(st.integers(0, count - 1)), draw(st.integers(0, count - 1))
        if a != b:
            pairs.append((a, b))
    branches = [(a, b, 0.0005 + 0.03 * draw(figure)) for a, b in pairs]

    def loads(low, high):
        return {k: low + (high - low) * draw(figure) for k in range(count)}

    return branches, count, {} if is_linear else loads(0.0, 8.0), loads(-2.0, 2.0), loads(0.0, 0.1)


def answer(mesh, scale=1.0):
    branches, count, power, current, conductance = mesh
    scaled = {k: scale * x for k, x in current.items()}
    return solved(branches, count, power=power, current=scaled, conductance=conductance)


@settings(deadline=None)
@given(meshes())
def test_kirchhoff_and_power_balance_hold(mesh):
    branches, count, power, current, conductance = mesh
    node_v, branch_a, _, is_found = answer(mesh)
    if not is_found:
        assert np.isnan(node_v).all()
        return
    drawn_a = np.array([power[k] / node_v[k] + current[k] + conductance[k] * node_v[k] for k in range(count)])
    into_a = np.zeros(count)
    for (a, b, _), flow in zip(branches, branch_a, strict=True):
        into_a[a] -= flow
        into_a[b] += flow
    assert into_a[1:] == pytest.approx(drawn_a[1:], abs=1e-8)
    source_a = drawn_a[0] - into_a[0]
    lost_w = sum(ohm * flow**2 for (_, _, ohm), flow in zip(branches, branch_a, strict=True))
    assert source_a * SOURCE_V == pytest.approx((drawn_a * node_v).sum() + lost_w, rel=1e-9, abs=1e-7)


@settings(deadline=None)
@given(meshes(is_linear=True), st.floats(-2.0, 2.0))
def test_superposition_holds_for_linear_loads(mesh, scale):
    """Without constant powers the drop of scaled currents is the scaled drop, from the voltage of no current."""
    idle, one, scaled = (answer(mesh, factor)[0] for factor in (0.0, 1.0, scale))
    if np.isfinite(idle).all() and np.isfinite(one).all() and np.isfinite(scaled).all():
        assert scaled - idle == pytest.approx(scale * (one - idle), abs=1e-9)


@settings(deadline=None)
@given(meshes(is_linear=True), st.data())
def test_the_network_is_reciprocal(mesh, data):
    branches, count, *_ = mesh
    start, end, ohm = (np.array(column) for column in zip(*branches, strict=True))
    shunt = np.zeros(count)
    shunt[0] = 1.0 / 0.01
    transfer = transfer_ohm(conductance_matrix(start, end, ohm, count), shunt)
    a, b = data.draw(st.integers(0, count - 1)), data.draw(st.integers(0, count - 1))
    assert transfer[a, b] == pytest.approx(transfer[b, a], rel=1e-9)
    assert transfer[a, a] >= transfer[a, b] * (1.0 - 1e-9)


@settings(deadline=None)
@given(meshes(), st.integers(0, 15))
def test_more_load_never_raises_a_voltage(mesh, where):
    branches, count, power, current, conductance = mesh
    heavier = (branches, count, {**power, where % count: power[where % count] + 5.0}, current, conductance)
    before, after = answer(mesh), answer(heavier)
    if after[3]:
        assert before[3]
        assert (after[0] <= before[0] + 1e-9).all()


@settings(deadline=None)
@given(st.data())
def test_on_trees_it_is_the_sweep(data):
    count = data.draw(st.integers(2, 20))
    figure = st.floats(0.0, 1.0)
    parent = np.array([-1] + [data.draw(st.integers(0, k - 1)) for k in range(1, count)])
    ohm = np.array([0.0] + [0.0005 + 0.03 * data.draw(figure) for _ in range(1, count)])
    power, current, conductance = (
        np.array([high * data.draw(figure) for _ in range(count)]) for high in (8.0, 2.0, 0.1)
    )
    expected_v, expected_a, _, is_expected = tree_solution(parent, ohm, power, current, conductance, SOURCE_V)
    # any part of the tree that holds the root may be the core: the lower positions always hang together
    core = data.draw(st.integers(1, count))
    place = np.where(np.arange(count) < core, np.arange(count), -1)
    matrix = conductance_matrix(parent[1:core], np.arange(1, core), ohm[1:core], core)
    node_v, _, is_found = mesh_solution(parent, ohm, place, matrix, power, current, conductance, SOURCE_V)
    assert is_found == is_expected
    if is_found:
        np.testing.assert_allclose(node_v, expected_v, rtol=0.0, atol=1e-10)
        np.testing.assert_allclose(
            (node_v[parent[1:]] - node_v[1:]) / ohm[1:], expected_a[1:], rtol=1e-8, atol=1e-8
        )


def test_parallel_cables_share_by_conductance():
    _, branch_a, _, _ = solved([(0, 1, 0.01), (0, 1, 0.03), (0, 1, 0.06)], 2, current={1: 90.0})
    assert branch_a == pytest.approx([60.0, 20.0, 10.0])


def test_a_ring_is_its_two_ways():
    """Loads on a ring: each way carries the moment of the loads about its other end."""
    node_v, branch_a, _, _ = solved([(0, 1, 0.01), (1, 2, 0.02), (2, 0, 0.03)], 3, current={1: 12.0, 2: 24.0})
    first_a = (12.0 * (0.02 + 0.03) + 24.0 * 0.03) / 0.06
    assert branch_a == pytest.approx([first_a, first_a - 12.0, first_a - 36.0])
    assert node_v[1] == pytest.approx(12.0 - 0.01 * first_a)


def test_a_balanced_bridge_carries_nothing_across():
    branches = [(0, 1, 0.01), (0, 2, 0.02), (1, 3, 0.03), (2, 3, 0.06), (1, 2, 0.05)]
    _, branch_a, _, _ = solved(branches, 4, power={3: 200.0})
    assert branch_a[4] == pytest.approx(0.0, abs=1e-9)


def test_constant_power_through_two_ways_by_the_quadratic():
    node_v, _, _, is_found = solved([(0, 1, 0.2), (0, 1, 0.2)], 2, power={1: 300.0})
    assert is_found
    assert node_v[1] == pytest.approx((12.0 + math.sqrt(144.0 - 4.0 * 0.1 * 300.0)) / 2.0)


@pytest.mark.parametrize(("power_w", "expected"), [(359.999, True), (360.001, False)])
def test_maximum_power_transfer_through_two_ways(power_w, expected):
    """12 V behind 0.1 ohm gives at most 12²/(4·0.1) = 360 W."""
    node_v, _, iterations, is_found = solved([(0, 1, 0.2), (0, 1, 0.2)], 2, power={1: power_w})
    assert is_found is expected
    assert iterations < 50
    if is_found:
        assert node_v[1] >= 6.0


def test_a_chord_may_hold_up_what_the_tree_alone_could_not():
    chain = [(0, 1, 0.1), (1, 2, 0.1)]
    assert not solved(chain, 3, power={2: 250.0})[3]
    assert solved([*chain, (0, 2, 0.1)], 3, power={2: 250.0})[3]


def test_a_thicker_cable_does_not_lower_every_drop():
    """A common belief that is false: with a shared feed the sibling of a thickened heater's cable sinks lower.

    The heater draws more through its better cable, so the shared feed drops more and the lamp gets less.
    """

    def lamp_v(heater_ohm):
        branches = [(0, 1, 0.02), (1, 2, heater_ohm), (1, 3, 0.05)]
        return solved(branches, 4, conductance={2: 2.0}, current={3: 1.0})[0][3]

    assert lamp_v(0.01) < lamp_v(0.05)


def test_a_thicker_cable_lowers_the_drop_of_its_own_constant_power_load():
    """What is true: less resistance means less current for constant powers, so every voltage rises or stays."""
    thin, thick = (
        solved([(0, 1, 0.02), (1, 2, ohm), (1, 3, 0.05)], 4, power={2: 100.0, 3: 50.0})[0]
        for ohm in (0.05, 0.01)
    )
    assert (thick >= thin).all()


def test_a_source_without_voltage_has_no_answer():
    assert not solved([(0, 1, 0.1)], 2, source_v=0.0)[3]


def test_a_load_of_negative_resistance_is_refused():
    assert not solved([(0, 1, 0.1)], 2, conductance={1: -20.0})[3]


def test_a_current_that_turns_the_voltage_over_is_refused():
    assert not solved([(0, 1, 0.1), (0, 1, 0.1)], 2, current={1: 500.0})[3]


def test_constant_power_sources_raise_the_voltage():
    node_v, _, _, is_found = solved([(0, 1, 0.1), (0, 1, 0.1)], 2, power={1: -100.0})
    assert is_found
    assert node_v[1] == pytest.approx((12.0 + math.sqrt(144.0 + 4.0 * 0.05 * 100.0)) / 2.0)


def test_the_core_step_solves_or_refuses():
    matrix = np.array([[9.0, 9.0, 9.0], [9.0, 2.0, -1.0], [9.0, -1.0, 2.0]])
    wanted = np.array([0.0, 3.0, -3.0])
    assert core_step(matrix, np.zeros(3), wanted)
    assert wanted.tolist() == pytest.approx([0.0, 1.0, -1.0])
    assert not core_step(matrix, np.array([0.0, 0.0, -2.0]), np.ones(3))


def test_a_step_of_a_linear_network_is_its_answer():
    matrix = conductance_matrix(np.array([0, 0]), np.array([1, 1]), np.array([0.2, 0.2]), 2)
    v = np.array([12.0, 12.0, 12.0])
    parent, place = np.array([-1, 0, 1]), np.array([0, 1, -1])
    changed_v = mesh_step(
        parent, np.array([0.0, 0.0, 0.3]), place, matrix, np.array([0.0, 0.0, 5.0]), np.zeros(3), v
    )
    assert v.tolist() == pytest.approx([12.0, 11.5, 10.0])
    assert changed_v == pytest.approx(2.0)


def test_it_runs_the_same_without_compilation():
    args = (
        np.array([-1, 0, 1]), np.array([0.0, 0.0, 0.05]), np.array([0, 1, -1]),
        conductance_matrix(np.array([0, 0]), np.array([1, 1]), np.array([0.02, 0.06]), 2),
        np.array([0.0, 50.0, 30.0]), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 0.1]), 12.0,
    )  # fmt: skip
    script = (
        "import json, sys, numpy as np\n"
        "from ampwright.network.mesh.kernel import mesh_solution\n"
        "args = [np.array(x) if isinstance(x, list) else x for x in json.loads(sys.argv[1])]\n"
        "print(json.dumps(mesh_solution(*args)[0].tolist()))\n"
    )
    plain = json.dumps([x.tolist() if isinstance(x, np.ndarray) else x for x in args])
    done = subprocess.run(
        [sys.executable, "-c", script, plain], env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True, text=True, check=True, timeout=120,
    )  # fmt: skip
    assert json.loads(done.stdout) == pytest.approx(mesh_solution(*args)[0].tolist(), abs=1e-12)

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.network import kernel
from ampwright.network.kernel import folded_step, is_upper, residual_v, tree_solution

SINGLE = np.array([-1, 0])


def single(p_w=0.0, i_a=0.0, g_siemens=0.0, ohm=0.1, source_v=12.0):
    def at(x):
        return np.array([0.0, x])

    return tree_solution(SINGLE, at(ohm), at(p_w), at(i_a), at(g_siemens), source_v)


def plain_sweep(tree):
    """Classic current summation: an independent answer, slow near collapse."""
    parent, ohm, p_w, i_a, g_siemens, source_v = *(x.tolist() for x in tree[:5]), tree[5]
    v = [source_v] * len(parent)
    for _ in range(100_000):
        into = [p / u + i + g * u for p, i, g, u in zip(p_w, i_a, g_siemens, v, strict=True)]
        for k in range(len(parent) - 1, 0, -1):
            into[parent[k]] += into[k]
        new = [source_v]
        for k in range(1, len(parent)):
            new.append(new[parent[k]] - ohm[k] * into[k])
        change = max(abs(a - b) for a, b in zip(new, v, strict=True))
        v = new
        if change < 1e-13:
            return v, into
    return None


@st.composite
def trees(draw, *, lowest_w=0.0):
    n = draw(st.integers(2, 25))
    figure = st.floats(0.0, 1.0)
    parent = np.array([-1] + [draw(st.integers(0, k - 1)) for k in range(1, n)])
    ohm = np.array([0.0] + [0.03 * draw(figure) for _ in range(1, n)])

    def loads(low, high):
        return np.array([low + (high - low) * draw(figure) for _ in range(n)])

    return parent, ohm, loads(lowest_w, 8.0), loads(-2.0, 2.0), loads(0.0, 0.1), 12.0


def check_laws(tree, v, branch_a):
    parent, ohm, p_w, i_a, g, source_v = tree
    own = p_w / v + i_a + g * v
    assert v[0] == source_v
    for k in range(len(v)):
        children = branch_a[np.flatnonzero(parent == k)].sum()
        assert branch_a[k] == pytest.approx(own[k] + children, abs=1e-9)
        if k:
            assert v[parent[k]] - v[k] == pytest.approx(ohm[k] * branch_a[k], abs=1e-9)


@settings(deadline=None)
@given(trees())
def test_kirchhoff_and_energy_hold(tree):
    v, branch_a, _, is_found = tree_solution(*tree)
    if not is_found:
        assert np.isnan(v).all()
        assert np.isnan(branch_a).all()
        return
    check_laws(tree, v, branch_a)
    _, ohm, p_w, i_a, g, source_v = tree
    loads_w = (p_w + i_a * v + g * v * v).sum()
    lost_w = (ohm[1:] * branch_a[1:] ** 2).sum()
    assert source_v * branch_a[0] == pytest.approx(loads_w + lost_w, rel=1e-9, abs=1e-7)


@settings(deadline=None)
@given(trees())
def test_agrees_with_plain_current_summation(tree):
    reference = plain_sweep(tree)
    v, branch_a, _, is_found = tree_solution(*tree)
    assert is_found
    assert reference is not None
    np.testing.assert_allclose(v, reference[0], atol=1e-9)
    np.testing.assert_allclose(branch_a, reference[1], atol=1e-8)


@settings(deadline=None)
@given(trees(lowest_w=-20.0))
def test_constant_power_sources_are_allowed(tree):
    v, branch_a, _, is_found = tree_solution(*tree)
    assert is_found
    check_laws(tree, v, branch_a)


@settings(deadline=None)
@given(trees(), st.integers(0, 24), st.floats(0.01, 1.0))
def test_more_constant_current_lowers_every_voltage(tree, where, more_a):
    parent, ohm, p_w, i_a, g, source_v = tree
    v, _, _, is_found = tree_solution(*tree)
    heavier = i_a.copy()
    heavier[where % len(i_a)] += more_a
    lower, _, _, is_found_too = tree_solution(parent, ohm, p_w, heavier, g, source_v)
    assert is_found
    assert is_found_too
    assert (lower <= v + 1e-9).all()


@settings(deadline=None)
@given(trees(), st.randoms(use_true_random=False))
def test_order_of_nodes_does_not_matter(tree, random):
    parent, ohm, p_w, i_a, g, source_v = tree
    waiting, order = [0], []
    while waiting:
        node = waiting.pop(random.randrange(len(waiting)))
        order.append(node)
        waiting += np.flatnonzero(parent == node).tolist()
    place = {node: k for k, node in enumerate(order)} | {-1: -1}
    moved = np.array([place[int(parent[node])] for node in order])
    v, branch_a, _, _ = tree_solution(*tree)
    w, moved_a, _, _ = tree_solution(moved, ohm[order], p_w[order], i_a[order], g[order], source_v)
    np.testing.assert_allclose(w, v[order], atol=1e-9)
    np.testing.assert_allclose(moved_a, branch_a[order], atol=1e-7)


@settings(deadline=None)
@given(st.floats(0.001, 0.9999), st.floats(1e-4, 10.0), st.floats(1.0, 60.0))
def test_single_constant_power_has_its_closed_form(part, ohm, source_v):
    power_w = part * source_v**2 / (4.0 * ohm)
    v, branch_a, _, is_found = single(p_w=power_w, ohm=ohm, source_v=source_v)
    expected = (source_v + math.sqrt(source_v**2 - 4.0 * ohm * power_w)) / 2.0
    assert is_found
    assert v[1] == pytest.approx(expected, abs=1e-8 * source_v)
    assert branch_a[0] == pytest.approx(power_w / expected, rel=1e-6)


@pytest.mark.parametrize(("factor", "is_solvable"), [(1 - 1e-9, True), (1 + 1e-9, False), (1.5, False)])
def test_the_edge_of_maximum_power_transfer(factor, is_solvable):
    assert single(p_w=factor * 12.0**2 / 0.4)[3] is is_solvable


def test_two_loads_that_collapse_only_together():
    parent, ohm = np.array([-1, 0, 1, 1]), np.array([0.0, 0.1, 0.0, 0.0])
    zero = np.zeros(4)
    for each_w, is_solvable in ((179.9, True), (180.1, False)):
        power = np.array([0.0, 0.0, each_w, each_w])
        assert tree_solution(parent, ohm, power, zero, zero, 12.0)[3] is is_solvable


def test_linear_loads_by_ohms_law():
    assert single(i_a=10.0)[0][1] == pytest.approx(11.0)
    assert single(g_siemens=0.5)[0][1] == pytest.approx(12.0 / 1.05)
    assert single(i_a=-10.0)[0][1] == pytest.approx(13.0)


def test_a_current_the_cable_cannot_carry_is_no_answer():
    assert not single(i_a=121.0)[3]


def test_a_source_without_voltage_is_no_answer():
    assert not single(i_a=1.0, source_v=0.0)[3]


def test_convergence_is_quadratic_far_from_collapse_and_bounded_at_it():
    assert single(p_w=100.0)[2] <= 5
    assert single(p_w=(1 - 1e-12) * 360.0)[2] <= 60


def test_parts_of_the_step():
    ohm, v = np.array([0.0, 0.1]), np.empty(2)
    assert folded_step(SINGLE, ohm, np.array([0.0, 10.0]), np.array([0.0, 0.5]), 12.0, v)
    assert v[1] == pytest.approx((12.0 - 1.0) / 1.05)
    assert not folded_step(SINGLE, ohm, np.zeros(2), np.array([0.0, -10.0]), 12.0, v)
    assert is_upper(SINGLE, ohm, np.array([0.0, -9.9]))
    assert not is_upper(SINGLE, ohm, np.array([0.0, -10.1]))
    zero, branch_a = np.zeros(2), np.empty(2)
    left = residual_v(SINGLE, ohm, zero, np.array([0.0, 10.0]), zero, np.array([12.0, 10.5]), branch_a)
    assert left == pytest.approx(0.5)
    assert branch_a[0] == pytest.approx(10.0)


def chain_case():
    k = np.arange(30)
    parent = np.where(k == 0, -1, (k - 1) // 2)
    return parent, 0.002 * (1 + k % 3), 3.0 + k % 5, 0.1 * (k % 4) - 0.1, 0.01 * (k % 2), 12.8


PLAIN_RUN = """
import json, sys
import numpy as np
from ampwright.network.kernel import tree_solution
case = json.load(sys.stdin)
v, a, count, found = tree_solution(*(np.array(x) for x in case[:5]), case[5])
print(json.dumps([v.tolist(), a.tolist(), int(count), bool(found), hasattr(tree_solution, "py_func")]))
"""


def test_without_compilation_the_answer_is_the_same():
    case = chain_case()
    done = subprocess.run(
        [sys.executable, "-c", PLAIN_RUN],
        input=json.dumps([x.tolist() for x in case[:5]] + [case[5]]),
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    plain_v, plain_a, plain_count, plain_found, is_compiled = json.loads(done.stdout)
    v, branch_a, count, is_found = tree_solution(*case)
    assert not is_compiled
    assert is_found
    assert plain_found
    assert plain_count == count
    np.testing.assert_allclose(v, plain_v, rtol=1e-14)
    np.testing.assert_allclose(branch_a, plain_a, rtol=1e-13)


UNCACHED_RUN = """
import importlib.util, sys
spec = importlib.util.spec_from_file_location("kernel_copy", sys.argv[1])
kernel = importlib.util.module_from_spec(spec)
spec.loader.exec_module(kernel)
import numpy as np
zero = np.zeros(2)
found = kernel.tree_solution(np.array([-1, 0]), zero + 0.1, zero, zero + 10.0, zero, 12.0)
print(kernel.IS_CACHED, float(found[0][1]))
"""


@pytest.mark.parametrize("is_cached", [True, False])
def test_works_where_no_folder_for_compiled_code_can_be_written(tmp_path, is_cached):
    copy = tmp_path / "kernel_copy.py"
    copy.write_text(Path(kernel.__file__).read_text())
    (tmp_path / "__pycache__").write_text("a file in the way")
    environment = {"PATH": os.environ["PATH"], "HOME": "/dev/null"}
    if is_cached:
        environment["NUMBA_CACHE_DIR"] = str(tmp_path / "cache")
    done = subprocess.run(
        [sys.executable, "-B", "-c", UNCACHED_RUN, str(copy)],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    flag, lower_v = done.stdout.split()
    assert flag == str(is_cached)
    assert float(lower_v) == pytest.approx(11.0)
    assert bool(list(tmp_path.rglob("*.nbc"))) is is_cached

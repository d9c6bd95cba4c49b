"""Networks with loops against ngspice, the open-source circuit simulator (Debian package `ngspice`).

Random networks of 12 to 40 nodes with several loops, some branches without resistance (a 0 V source there), constant-
power, constant-current and resistive loads, operating point analysis. A constant-power load is the current
source P / max(v, 6); `.nodeset` starts ngspice at the source voltage, since it can otherwise settle on the
collapsed answer. A second battery is a voltage behind a resistor.
"""

import shutil
import subprocess

import numpy as np
import pytest

from ampwright.network.demand import Demand
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree

SOURCE_V = 12.6
OTHER_V, OTHER_OHM = 13.1, 0.012


def random_mesh(seed, count, chord_count):
    random = np.random.default_rng(seed)
    parent = np.array([-1] + [int(random.integers(max(0, k - 6), k)) for k in range(1, count)])
    chords = []
    while len(chords) < chord_count:
        a, b = sorted(random.choice(count, 2, replace=False).tolist())
        if parent[b] != a:
            chords.append((b, a))
    ohm = random.uniform(0.0005, 0.01, count - 1 + chord_count)
    ohm[[1, 4]] = 0.0
    direction = random.choice([-1.0, 1.0], count)
    direction[0] = 1.0
    kind = np.arange(count) % 3
    factor = 40 / count
    demand = Demand(
        power_w=np.where(kind == 0, factor * random.uniform(4.0, 50.0, count), 0.0),
        current_a=np.where(kind == 1, factor * random.uniform(-1.0, 4.0, count), 0.0),
        conductance_siemens=np.where(kind == 2, factor * random.uniform(0.01, 0.3, count), 0.0),
    )
    tree = Tree(
        root=0, nodes=np.arange(count), parent=parent, branch=np.arange(-1, count - 1), direction=direction,
        chords=np.arange(count - 1, ohm.size), chord_ends=np.array(chords), other_battery=-1, is_solvable=True,
    )  # fmt: skip
    return tree, ohm, demand


def netlist(tree, ohm, demand):
    count = tree.nodes.size
    lines = ["network with loops", f"V0 n0 0 {SOURCE_V!r}"]
    spanning = [(int(tree.parent[k]), k, int(tree.branch[k])) for k in range(1, count)]
    chords = [
        (a, b, branch) for (a, b), branch in zip(tree.chord_ends.tolist(), tree.chords.tolist(), strict=True)
    ]
    for a, b, branch in spanning + chords:
        value = float(ohm[branch])
        lines.append(f"R{branch} n{a} n{b} {value!r}" if value else f"VS{branch} n{a} n{b} 0")
    for k in range(count):
        power, current, conductance = (
            float(x[k]) for x in (demand.power_w, demand.current_a, demand.conductance_siemens)
        )
        lines += [f".nodeset v(n{k})={SOURCE_V!r}"] if k else []
        lines += [f"B{k} n{k} 0 I={power!r}/max(v(n{k}),6)"] if power else []
        lines += [f"I{k} n{k} 0 {current!r}"] if current else []
        lines += [f"RL{k} n{k} 0 {1.0 / conductance!r}"] if conductance else []
    return lines


def ngspice_figures(lines, wanted, folder):
    program = shutil.which("ngspice")
    if program is None:
        pytest.fail("ngspice is missing: install it, e.g. `apt-get update && apt-get install -y ngspice`")
    control = [
        ".options reltol=1e-10 abstol=1e-12 vntol=1e-10 numdgt=12", ".control", "set numdgt=12", "op",
        f"print {' '.join(wanted)}", "quit 0", ".endc", ".end",
    ]  # fmt: skip
    file = folder / "network.cir"
    file.write_text("\n".join(lines + control) + "\n")
    done = subprocess.run([program, "-b", str(file)], capture_output=True, text=True, check=True, timeout=60)
    pairs = [line.split("=") for line in done.stdout.splitlines() if line.count("=") == 1]
    found = {key.strip().lower(): value for key, value in pairs}
    return np.array([float(found[name]) for name in wanted])


@pytest.mark.parametrize(
    ("seed", "count", "chord_count"),
    [(1, 12, 2), (2, 20, 3), (3, 28, 6), (4, 34, 4), (5, 40, 10), (6, 40, 1)],
)
def test_ngspice_random_meshed_network(seed, count, chord_count, tmp_path):
    tree, ohm, demand = random_mesh(seed, count, chord_count)
    wanted = [f"v(n{k})" for k in range(count)]
    sources = ["i(v0)", "i(vs1)", "i(vs4)"]
    expected = ngspice_figures(netlist(tree, ohm, demand), wanted + sources, tmp_path)
    point = tree_point(tree, ohm, demand=demand, source_v=SOURCE_V)
    assert point.is_found
    assert point.node_v.min() < SOURCE_V - 0.2
    np.testing.assert_allclose(point.node_v, expected[:count], rtol=0.0, atol=1e-6)
    # branch b leads to position b + 1; a 0 V source of ngspice counts from its first node to its second
    own_a = [point.branch_a[0], -point.branch_a[2], -point.branch_a[5]]
    np.testing.assert_allclose(own_a, [-expected[count], *(-expected[count + 1 :])], rtol=0.0, atol=1e-3)


def test_ngspice_two_batteries(tmp_path):
    tree, ohm, demand = random_mesh(7, 30, 3)
    lines = [*netlist(tree, ohm, demand), f"V1 e 0 {OTHER_V!r}", f"RE e n29 {OTHER_OHM!r}"]
    expected_v = ngspice_figures(lines, [f"v(n{k})" for k in range(30)], tmp_path)
    current, conductance = demand.current_a.copy(), demand.conductance_siemens.copy()
    current[29] -= OTHER_V / OTHER_OHM
    conductance[29] += 1.0 / OTHER_OHM
    joined = Demand(power_w=demand.power_w, current_a=current, conductance_siemens=conductance)
    point = tree_point(tree, ohm, demand=joined, source_v=SOURCE_V)
    np.testing.assert_allclose(point.node_v, expected_v, rtol=0.0, atol=1e-6)

"""Radial network against ngspice, the open-source circuit simulator (Debian package `ngspice`).

A random tree of 40 nodes with constant-power, constant-current and resistive loads, operating point analysis.
A constant-power load is the current source P / max(v, 6); `.nodeset` starts ngspice at the source voltage, since
it can otherwise settle on the collapsed answer.
"""

import shutil
import subprocess

import numpy as np
import pytest

from ampwright.network.kernel import tree_solution

NODE_COUNT = 40
SOURCE_V = 12.6


def random_tree(seed):
    random = np.random.default_rng(seed)
    parent = np.array([-1] + [int(random.integers(max(0, k - 6), k)) for k in range(1, NODE_COUNT)])
    ohm = random.uniform(0.0005, 0.01, NODE_COUNT)
    kind = np.arange(NODE_COUNT) % 3
    power = np.where(kind == 0, random.uniform(2.0, 20.0, NODE_COUNT), 0.0)
    current = np.where(kind == 1, random.uniform(-1.0, 2.0, NODE_COUNT), 0.0)
    conductance = np.where(kind == 2, random.uniform(0.01, 0.1, NODE_COUNT), 0.0)
    return parent, ohm, power, current, conductance


def netlist(parent, ohm, power, current, conductance):
    lines = ["radial network", f"V0 n0 0 {SOURCE_V!r}"]
    for k in range(NODE_COUNT):
        if k:
            lines.append(f"R{k} n{parent[k]} n{k} {ohm[k]!r}")
            lines.append(f".nodeset v(n{k})={SOURCE_V!r}")
        if power[k]:
            lines.append(f"B{k} n{k} 0 I={power[k]!r}/max(v(n{k}),6)")
        if current[k]:
            lines.append(f"I{k} n{k} 0 {current[k]!r}")
        if conductance[k]:
            lines.append(f"RL{k} n{k} 0 {1.0 / conductance[k]!r}")
    printed = " ".join(f"v(n{k})" for k in range(NODE_COUNT))
    lines += [
        ".options reltol=1e-10 abstol=1e-12 vntol=1e-10 numdgt=12",
        ".control",
        "set numdgt=12",
        "op",
        f"print {printed}",
        "quit 0",
        ".endc",
        ".end",
    ]
    return "\n".join(lines) + "\n"


def ngspice_v(text, folder):
    program = shutil.which("ngspice")
    if program is None:
        pytest.fail("ngspice is missing: install it, e.g. `apt-get update && apt-get install -y ngspice`")
    file = folder / "network.cir"
    file.write_text(text)
    done = subprocess.run([program, "-b", str(file)], capture_output=True, text=True, check=True, timeout=60)
    found = dict(
        line.split("=") for line in done.stdout.splitlines() if line.startswith("v(n") and "=" in line
    )
    values = {key.strip(): float(value) for key, value in found.items()}
    return np.array([values[f"v(n{k})"] for k in range(NODE_COUNT)])


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_ngspice_random_radial_network(seed, tmp_path):
    tree = random_tree(seed)
    expected_v = ngspice_v(netlist(*(x.tolist() for x in tree)), tmp_path)
    node_v, _, _, is_found = tree_solution(*tree, SOURCE_V)
    assert is_found
    assert node_v.min() < SOURCE_V - 0.5
    np.testing.assert_allclose(node_v, expected_v, atol=1e-6)

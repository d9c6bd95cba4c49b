"""The radial network solution against the same sweep in plain C, compiled in the same run."""

from __future__ import annotations

import ctypes
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from bench.measure import Figure, call_ms, pairs_ratio
from numba import njit

from ampwright.network.kernel import tree_solution

NODE_COUNT = 40
REPEATS = 20_000
SOURCE_V = 12.8
RATIO_LIMIT = 1.5
DIFFERENCE_LIMIT_V = 1e-9
C_SOURCE = Path(__file__).with_name("tree_solution.c")


@njit
def _repeated(parent, ohm, p_w, i_a, g_siemens, source_v, repeats):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202, PLR0913, PLR0917
    v, _, _, is_found = tree_solution(parent, ohm, p_w, i_a, g_siemens, source_v)
    for _ in range(repeats - 1):
        v, _, _, is_found = tree_solution(parent, ohm, p_w, i_a, g_siemens, source_v)
    return v, is_found


def solver_figures() -> Iterator[Figure]:
    """Yield the ratio to C and the largest difference of voltages; a word where there is no compiler."""
    compiler = shutil.which("cc")
    if compiler is None:
        print("network against C: skipped, there is no C compiler `cc` here")
        return
    tree = _tree()
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / "tree_solution.so"
        flags = ["-O3", "-march=native", "-shared", "-fPIC", "-lm"]
        subprocess.run([compiler, str(C_SOURCE), "-o", str(library), *flags], check=True)
        c_v, solve_in_c = _c_call(library, tree)

        def solve() -> tuple[np.ndarray, bool]:
            return _repeated(*tree, SOURCE_V, REPEATS)  # type: ignore[no-any-return]

        if not (solve()[1] and solve_in_c()):
            message = "the tree of the bench has no steady voltage"
            raise ValueError(message)
        difference_v = float(np.max(np.abs(solve()[0] - c_v)))
        yield Figure(
            what=f"network of {NODE_COUNT} nodes",
            value=1e6 * call_ms(solve, runs=5) / REPEATS / 1000.0,
            unit="us",
        )
        yield Figure(
            what="  against plain C",
            value=pairs_ratio(solve, solve_in_c, runs=21),
            unit="x",
            limit=RATIO_LIMIT,
        )
        yield Figure(
            what="  largest difference to C",
            value=difference_v / DIFFERENCE_LIMIT_V,
            unit="nV",
            limit=1.0,
        )


def _tree() -> tuple[np.ndarray, ...]:
    """Return parents, resistances and loads of a tree with all three kinds of load."""
    random = np.random.default_rng(40)
    parent = np.array([-1, *(int(random.integers(max(0, k - 6), k)) for k in range(1, NODE_COUNT))])
    kind = random.integers(0, 3, NODE_COUNT)
    size_w = random.uniform(2.0, 20.0, NODE_COUNT)
    return (
        parent,
        random.uniform(0.0005, 0.006, NODE_COUNT),
        np.where(kind == 0, size_w, 0.0),
        np.where(kind == 1, size_w / SOURCE_V, 0.0),
        np.where(kind == 2, size_w / SOURCE_V**2, 0.0),
    )


def _c_call(library: Path, tree: tuple[np.ndarray, ...]) -> tuple[np.ndarray, Callable[[], int]]:
    """Return the voltages that C fills in, and the call that does it."""
    function = ctypes.CDLL(str(library)).solve
    out = [np.zeros(NODE_COUNT) for _ in range(4)]
    arguments = (
        ctypes.c_long(REPEATS),
        ctypes.c_long(NODE_COUNT),
        *(array.ctypes.data_as(ctypes.c_void_p) for array in tree),
        ctypes.c_double(SOURCE_V),
        *(array.ctypes.data_as(ctypes.c_void_p) for array in out),
    )
    return out[0], lambda: int(function(*arguments))

"""Nodal analysis of one island with loops: a dense symmetric core, and trees that hang on it.

The conductance matrix of a resistive network has no positive entry off its diagonal; where it is positive
definite as well its inverse has no negative entry, and Newton's method keeps above the highest solution.
"""

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

__all__ = ["conductance_matrix", "core_step", "mesh_solution", "mesh_step", "transfer_ohm"]

RESIDUAL_LIMIT_V = 1e-9
"""Largest change one more step would make to an accepted answer, as for trees."""
STOP_FRAC = 1e-13
"""Change of a step, as a fraction of the source voltage, at which the steps end."""
MOST_ITERATIONS = 100
"""Near collapse each step halves the error; 100 exceeds double precision."""


def probe() -> int:
    """Stand in for the functions below while a folder for compiled code is sought."""
    return 0


try:
    njit(cache=True)(probe)
    IS_CACHED = True
except RuntimeError:  # neither the package's folder, NUMBA_CACHE_DIR nor the user's can be written
    IS_CACHED = False


def conductance_matrix(start: Ints, end: Ints, resistance_ohm: Floats, count: int) -> Floats:
    """Return the node conductance matrix of the branches alone (count, count), in S.

    Parameters
    ----------
    start, end : (n_branches,) nodes of each branch
    resistance_ohm : (n_branches,) above zero
    """
    g = 1.0 / resistance_ohm
    matrix = np.zeros((count, count))
    np.add.at(matrix, (start, start), g)
    np.add.at(matrix, (end, end), g)
    np.add.at(matrix, (start, end), -g)
    np.add.at(matrix, (end, start), -g)
    return matrix


def transfer_ohm(matrix: Floats, shunt_siemens: Floats) -> Floats:
    """Return the voltage at each node for 1 A into each other, sources at zero (n, n), in ohm.

    Parameters
    ----------
    matrix : (n, n) conductance matrix of the branches
    shunt_siemens : (n,) conductance of each node to the reference: inverse internal resistance of its source
    """
    return np.asarray(np.linalg.inv(matrix + np.diag(shunt_siemens)), dtype=np.float64)


@njit(cache=IS_CACHED)
def core_step(matrix: Floats, y: Floats, residual_a: Floats) -> bool:
    """Turn the residual of nodes 1 and up into the step that removes it; False where that is not stable.

    Cholesky's method on the matrix without node 0, `y` added to its diagonal; it exists for positive definite ones.
    """
    n = residual_a.size
    low = np.zeros((n, n))
    for k in range(1, n):
        for j in range(1, k + 1):
            total = matrix[k, j]
            if j == k:
                total += y[k]
            for m in range(1, j):
                total -= low[k, m] * low[j, m]
            if j < k:
                low[k, j] = total / low[j, j]
            elif total > 0.0:
                low[k, k] = math.sqrt(total)
            else:
                return False
    for k in range(1, n):
        for j in range(1, k):
            residual_a[k] -= low[k, j] * residual_a[j]
        residual_a[k] /= low[k, k]
    for k in range(n - 1, 0, -1):
        for j in range(k + 1, n):
            residual_a[k] -= low[j, k] * residual_a[j]
        residual_a[k] /= low[k, k]
    return True


@njit(cache=IS_CACHED)
def mesh_step(
    parent: Ints, resistance_ohm: Floats, place: Ints, matrix: Floats, a: Floats, y: Floats, v: Floats
) -> float:
    """Solve the straightened network (current = a + y·v at each node) from `v`; return the largest change.

    What hangs on the core is folded into it, the core solved, the rest follows. -1 where that is not stable.
    """
    count = matrix.shape[0]
    core_v, core_y, left_a = np.zeros(count), np.zeros(count), np.zeros(count)
    for k in range(parent.size - 1, -1, -1):
        c = place[k]
        if c >= 0:
            core_v[c] = v[k]
            core_y[c] += y[k]
            left_a[c] += a[k] + y[k] * v[k]
            continue
        pivot = 1.0 + resistance_ohm[k] * y[k]
        if not pivot > 0.0:
            return -1.0
        a[parent[k]] += a[k] / pivot
        y[parent[k]] += y[k] / pivot
    for c in range(count):
        for other in range(count):
            # differences, not products of whole voltages, keep the rounding small
            left_a[c] += matrix[c, other] * (core_v[other] - core_v[c])
    if not core_step(matrix, core_y, left_a):
        return -1.0
    worst = 0.0
    for k in range(parent.size):
        c = place[k]
        if c == 0:
            new_v = v[k]
        elif c > 0:
            new_v = v[k] - left_a[c]
        else:
            new_v = (v[parent[k]] - resistance_ohm[k] * a[k]) / (1.0 + resistance_ohm[k] * y[k])
        if not new_v > 0.0:
            return -1.0
        worst = max(worst, math.fabs(new_v - v[k]))
        v[k] = new_v
    return worst


@njit(cache=IS_CACHED)
def mesh_solution(
    parent: Ints,
    resistance_ohm: Floats,
    place: Ints,
    matrix: Floats,
    p_w: Floats,
    i_a: Floats,
    g_siemens: Floats,
    source_v: float,
) -> tuple[Floats, int, bool]:
    """Return node voltages, iterations and whether the upper solution was found.

    Parameters
    ----------
    parent : (n,) position of each node's parent in a spanning tree, smaller than its own; -1 for the root
    resistance_ohm : (n,) resistance of the branch from the parent; used outside the core only
    place : (n,) node of the core each position belongs to, the root's 0; -1 for what hangs on it
    matrix : (n_core, n_core) conductance matrix of the core's branches
    p_w, i_a, g_siemens : (n,) loads of each node: constant power, current, conductance; negative = source
    source_v : voltage of the root

    Returns
    -------
    node_v : (n,), NaN unless found
    iterations : steps taken
    is_found : one more step changes less than 1e-9 V, and the answer is the high-voltage one

    Notes
    -----
    As for trees: started without constant powers, which lies above every solution, the steps fall
    monotonely to the highest one for loads, and a step that is not stable on the way proves that there is none.
    Positive pivots and a core with a Cholesky factor mean that the whole matrix is positive definite. With
    constant-power sources the same end is checked, though the way is not monotone.
    """
    n = parent.size
    v = np.full(n, source_v)
    a, y = np.empty(n), np.empty(n)
    change_v = -1.0
    if source_v > 0.0:
        for k in range(n):
            a[k] = i_a[k] + min(p_w[k], 0.0) / source_v
            y[k] = g_siemens[k]
        change_v = mesh_step(parent, resistance_ohm, place, matrix, a, y, v)
    iterations = 0
    last_v = math.inf
    # the last step starts from the answer it confirms: its stability is that of the answer
    while change_v >= 0.0 and iterations < MOST_ITERATIONS:
        iterations += 1
        for k in range(n):
            a[k] = i_a[k] + 2.0 * p_w[k] / v[k]
            y[k] = g_siemens[k] - p_w[k] / (v[k] * v[k])
        last_v = change_v
        change_v = mesh_step(parent, resistance_ohm, place, matrix, a, y, v)
        if change_v <= STOP_FRAC * source_v or last_v <= change_v <= RESIDUAL_LIMIT_V:
            break
    is_found = iterations > 0 and 0.0 <= change_v <= RESIDUAL_LIMIT_V
    if not is_found:
        v[:] = np.nan
    return v, iterations, is_found

"""Voltages and currents of one radial tree with constant-power, -current and -resistance loads.

Backward sweep: from the leaves each subtree is folded into a straight line (current = A + Y·V) at the
present voltages; forward sweep: the voltages follow from the root. Repeated, this is Newton's method at the
cost of a plain backward/forward sweep, quadratic up to the edge of collapse.
"""

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

__all__ = ["tree_solution"]

RESIDUAL_LIMIT_V = 1e-9
"""Largest voltage left over round any branch of an accepted answer."""
STOP_FRAC = 1e-12
"""Residual as a fraction of the source voltage at which the steps end, some thousand roundings."""
MOST_ITERATIONS = 100
"""Near collapse each iteration halves the error; 100 exceeds double precision."""


def probe() -> int:
    """Stand in for the functions below while a folder for compiled code is sought."""
    return 0


try:
    njit(cache=True)(probe)
    IS_CACHED = True
except RuntimeError:  # neither the package's folder, NUMBA_CACHE_DIR nor the user's can be written
    IS_CACHED = False


@njit(cache=IS_CACHED, error_model="numpy")
def folded_step(
    parent: Ints, resistance_ohm: Floats, a: Floats, y: Floats, source_v: float, v: Floats
) -> bool:
    """Solve the straightened tree: `a`, `y` per node (overwritten), voltages into `v`; False if not stable.

    All pivots 1 + R·Y above zero means the conductance matrix is positive definite.
    """
    n = parent.size
    for k in range(n - 1, 0, -1):
        pivot = 1.0 + resistance_ohm[k] * y[k]
        if not pivot > 0.0:
            return False
        a[parent[k]] += a[k] / pivot
        y[parent[k]] += y[k] / pivot
    v[0] = source_v
    for k in range(1, n):
        r = resistance_ohm[k]
        v[k] = (v[parent[k]] - r * a[k]) / (1.0 + r * y[k])
        if not v[k] > 0.0:
            return False
    return True


@njit(cache=IS_CACHED, error_model="numpy")
def residual_v(
    parent: Ints,
    resistance_ohm: Floats,
    p_w: Floats,
    i_a: Floats,
    g_siemens: Floats,
    v: Floats,
    branch_a: Floats,
) -> float:
    """Sum the node currents into `branch_a`; return the largest voltage left over round a branch."""
    n = parent.size
    worst = 0.0
    for k in range(n):
        branch_a[k] = p_w[k] / v[k] + i_a[k] + g_siemens[k] * v[k]
    for k in range(n - 1, 0, -1):
        branch_a[parent[k]] += branch_a[k]
        worst = max(worst, math.fabs(v[parent[k]] - v[k] - resistance_ohm[k] * branch_a[k]))
    return worst


@njit(cache=IS_CACHED, error_model="numpy")
def is_upper(parent: Ints, resistance_ohm: Floats, y: Floats) -> bool:
    """Tell whether the derivative of the equations is positive definite; `y` is overwritten."""
    for k in range(parent.size - 1, 0, -1):
        pivot = 1.0 + resistance_ohm[k] * y[k]
        if not pivot > 0.0:
            return False
        y[parent[k]] += y[k] / pivot
    return True


@njit(cache=IS_CACHED, error_model="numpy")
def tree_solution(
    parent: Ints, resistance_ohm: Floats, p_w: Floats, i_a: Floats, g_siemens: Floats, source_v: float
) -> tuple[Floats, Floats, int, bool]:
    """Return node voltages, branch currents, iterations and whether the upper solution was found.

    Parameters
    ----------
    parent : (n,) position of each node's parent, always smaller than its own; -1 for the root at 0
    resistance_ohm : (n,) resistance of the branch from the parent; entry 0 is not used
    p_w, i_a, g_siemens : (n,) loads of each node: constant power, current, conductance; negative = source
    source_v : voltage of the root

    Returns
    -------
    node_v : (n,), NaN unless found
    branch_a : (n,) current from the parent into each node's subtree, entry 0 what the source gives; NaN too
    iterations : steps taken
    is_found : the answer meets Kirchhoff's laws to 1e-9 V and is the high-voltage one

    Notes
    -----
    Started from the tree without its constant powers, which lies above every solution. For loads (power not
    negative) the equations are convex with a positive definite derivative, so the steps fall monotonely to
    the highest solution, and a step that is not stable proves that there is none. With constant-power
    sources the same end is checked (stable, 1e-9 V) though the way to it is no longer monotone.
    """
    n = parent.size
    v = np.empty(n)
    a = np.empty(n)
    y = np.empty(n)
    branch_a = np.empty(n)
    is_stable = source_v > 0.0
    if is_stable:
        for k in range(n):
            a[k] = i_a[k] + min(p_w[k], 0.0) / source_v
            y[k] = g_siemens[k]
        is_stable = folded_step(parent, resistance_ohm, a, y, source_v, v)
    iterations = 0
    left_v = math.inf
    while is_stable and iterations < MOST_ITERATIONS:
        iterations += 1
        for k in range(n):
            a[k] = i_a[k] + 2.0 * p_w[k] / v[k]
            y[k] = g_siemens[k] - p_w[k] / (v[k] * v[k])
        is_stable = folded_step(parent, resistance_ohm, a, y, source_v, v)
        if is_stable:
            left_v = residual_v(parent, resistance_ohm, p_w, i_a, g_siemens, v, branch_a)
        if left_v <= STOP_FRAC * source_v:
            break
    is_found = is_stable and left_v <= RESIDUAL_LIMIT_V
    if is_found:
        for k in range(n):
            a[k] = 0.0
            y[k] = g_siemens[k] - p_w[k] / (v[k] * v[k])
        is_found = is_upper(parent, resistance_ohm, y)
    if not is_found:
        v[:] = np.nan
        branch_a[:] = np.nan
    return v, branch_a, iterations, is_found

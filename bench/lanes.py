"""Trial: one step of a battery on its bus, written once, run for one design or for 32 at a time.

Not the program's physics, only its shape: open-circuit voltage as a hinge sum, constant-power load solved in
closed form, charging current limited by voltage, power and acceptance, a cut-off with its restart. See
docs/decisions/009-lanes-for-the-ensemble.md. Run: python -m bench.lanes
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np
from numba import njit

LANES = 32
HINGES = 8
STEPS = 96 * 30
ROUNDS = 15
OPTIONS = {"error_model": "numpy"}


@njit(forceinline=True, **OPTIONS)
def step(q, is_cut, load_w, panel_w, ohm, capacity, at, slope):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN201, PLR0913, PLR0917
    """One quarter of an hour; every branch is a choice between two values already calculated."""
    rest_v = at[0]
    for k in range(HINGES):
        rest_v += slope[k] * max(q - at[k + 1] * capacity, 0.0) / capacity
    wanted_w = load_w * (1.0 - is_cut)
    net_w = panel_w - wanted_w
    square = max(rest_v * rest_v + 4.0 * ohm * net_w, 0.0)
    bus_v = 0.5 * (rest_v + math.sqrt(square))
    amps = net_w / max(bus_v, 1.0)
    amps = min(amps, (14.2 - rest_v) / ohm)
    amps = min(amps, (capacity - q) / 0.25)
    after = min(max(q + 0.25 * amps, 0.0), capacity)
    bus_v = rest_v + amps * ohm
    falls = 1.0 if bus_v < 11.8 else 0.0
    stays = is_cut if bus_v < 12.8 else 0.0
    return after, max(falls, stays), bus_v


@njit(**OPTIONS)
def one(load_w, panel_w, ohm, capacity, at, slope, q, cut, low_v):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN201, PLR0913, PLR0917
    for lane in range(LANES):
        charge, is_cut, lowest = q[lane], cut[lane], 99.0
        for t in range(STEPS):
            charge, is_cut, v = step(
                charge, is_cut, load_w[t], panel_w[t * LANES + lane], ohm[lane], capacity[lane], at, slope
            )
            lowest = min(lowest, v)
        q[lane], cut[lane], low_v[lane] = charge, is_cut, lowest


@njit(**OPTIONS)
def lanes(load_w, panel_w, ohm, capacity, at, slope, q, cut, low_v):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN201, PLR0913, PLR0917
    for lane in range(LANES):
        low_v[lane] = 99.0
    for t in range(STEPS):
        load, base = load_w[t], t * LANES
        for lane in range(LANES):
            q[lane], cut[lane], v = step(
                q[lane], cut[lane], load, panel_w[base + lane], ohm[lane], capacity[lane], at, slope
            )
            low_v[lane] = min(low_v[lane], v)


def aligned(values: np.ndarray) -> np.ndarray:
    """Return a flat copy that begins at a multiple of 64 bytes."""
    space = np.empty(values.size + 8)
    begin = (-space.ctypes.data % 64) // 8
    copy = space[begin : begin + values.size]
    copy[:] = values
    return copy


def main() -> None:
    """Print ns per design and step of both, their ratio, and the largest difference of the answers."""
    random = np.random.default_rng(32)
    at = aligned(np.array([10.0, *np.linspace(0.0, 0.95, HINGES)]))
    slope = aligned(np.array([26.0, -20.0, -5.2, 0.1, 0.2, 0.3, 1.0, 2.0]))
    fixed = (
        aligned(random.uniform(20.0, 90.0, STEPS)),
        aligned(random.uniform(0.0, 300.0, STEPS * LANES) * random.integers(0, 2, STEPS * LANES)),
        aligned(random.uniform(0.005, 0.03, LANES)),
        aligned(random.uniform(80.0, 300.0, LANES)),
        at,
        slope,
    )
    results = {}

    def timed(run: Callable[..., None]) -> float:
        out = aligned(0.6 * fixed[3]), aligned(np.zeros(LANES)), aligned(np.zeros(LANES))
        began = time.process_time()
        run(*fixed, *out)
        results[run] = out
        return 1e9 * (time.process_time() - began) / (STEPS * LANES)

    timed(one), timed(lanes)
    pairs = [(timed(one), timed(lanes)) for _ in range(ROUNDS)]
    gap = max(float(np.max(np.abs(a - b))) for a, b in zip(results[one], results[lanes], strict=True))
    scalar_ns, lanes_ns = (float(np.median([pair[k] for pair in pairs])) for k in (0, 1))
    ratio = float(np.median([a / b for a, b in pairs]))
    wide = "zmm" in (code := "".join(lanes.inspect_asm().values())) or "ymm" in code
    print(f"one design at a time {scalar_ns:6.1f} ns, 32 lanes {lanes_ns:6.1f} ns, {ratio:.1f} x")
    print(f"largest difference {gap:.1e}; wide registers {'used' if wide else 'NOT used'}")


if __name__ == "__main__":
    main()

"""What the network study hands to the rules and documents: records only.

Arrays are indexed like the design's tuples. NaN = not known, never "nothing": a rule that meets one says
`not checked`.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.records import record

__all__ = [
    "AlonePoint",
    "Collapse",
    "DeviceFault",
    "FarFault",
    "FloatArray",
    "IntArray",
    "NetworkResult",
    "OperatingPoint",
]

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@record
class Collapse:
    """A feed that cannot carry its constant-power loads: no steady voltage exists."""

    node: int
    """Index of the node whose feed is most strained."""
    source_v: float
    """Voltage at the root of its tree."""
    loop_ohm: float
    """Resistance of the loop from the root to it."""
    available_w: float
    """Most power any load there could ever get: source_v squared over four times loop_ohm."""
    wanted_w: float
    """Constant power, and constant current at source_v, wanted at this node and beyond it."""
    bearable_frac: float
    """Largest common part of all constant-power loads of the tree that it could feed."""


@record
class OperatingPoint:
    """Steady voltages and currents at one corner."""

    corner: str
    """What is on and how the source stands, in words."""
    node_v: FloatArray
    """Voltage of each node (n_nodes,); NaN where this corner does not feed it or found no answer."""
    run_a: FloatArray
    """Current of each run from its start to its end (n_runs,); NaN likewise, 0 where it is detached."""
    link_a: FloatArray
    """Current of each link from its start to its end (n_links,); NaN likewise."""
    is_solved: bool
    """True when every tree of this corner has an answer."""
    collapse: tuple[Collapse, ...]
    """Trees of this corner without a steady voltage."""
    lasts_s: float = math.inf
    """How long this corner can last."""


@record
class DeviceFault:
    """Largest prospective fault current through one protective device."""

    run: int
    """Index of its run; -1 for the device of a parallel string."""
    part: int
    """Index of the part whose strings it protects; -1 for a device in a run."""
    device: str
    """Id of the device in the job; "part string" for the device of a string."""
    fault_a: float
    """Largest fault current; NaN where it could not be calculated."""
    explanation: str
    """How it comes about, with the figures."""


@record
class FarFault:
    """Smallest current through a fuse or breaker for a fault at the far end of a run that it should clear."""

    run: int
    """Index of the run with the fault at its far end."""
    device_run: int
    """Index of the run the device sits in; -1 for the device of a parallel string."""
    device: str
    """Id of the device in the job; "part string" for the device of a string."""
    fault_a: float
    """Its part of the fault current."""
    explanation: str
    """How it comes about, with the figures."""


@record
class AlonePoint:
    """One channel's loads, or one load, switched on alone: what a bench test should find."""

    node: int
    """Index of the channel's node, or of the load's."""
    link: int
    """Index of the channel's link; -1 for a load without a channel."""
    loads: tuple[int, ...]
    """Indices of the loads that come on together."""
    low_v: float
    """Voltage at that node, battery low; NaN = not known."""
    low_a: float
    """Current taken there, battery low."""
    high_v: float
    """Voltage at that node while charging, chargers at full output."""
    high_a: float
    """Current taken there while charging."""


@record
class NetworkResult:
    """Operating points at all corners, what is extreme over them, and fault currents."""

    points: tuple[OperatingPoint, ...]
    """One for each corner."""
    peak_a: FloatArray
    """Largest current of each run over the corners, without sign (n_runs,); NaN = not known."""
    link_peak_a: FloatArray
    """Largest current of each link likewise (n_links,)."""
    node_low_v: FloatArray
    """Lowest voltage of each node over the corners that feed it (n_nodes,); NaN = not known."""
    node_high_v: FloatArray
    """Highest voltage likewise (n_nodes,)."""
    path_ohm: FloatArray
    """Loop resistance from the root to each node at working temperature (n_nodes,); NaN = not known.

    In loops the effective resistance between the two."""
    root: IntArray
    """Index of the root of each node's tree (n_nodes,); -1 where nothing feeds it."""
    loops: tuple[int, ...]
    """Runs that join sources and could not be solved; their trees are not known."""
    unfed: tuple[int, ...]
    """Nodes that nothing feeds."""
    device_fault: tuple[DeviceFault, ...]
    """Largest fault current at every fuse and breaker."""
    run_fault_a: FloatArray
    """Largest fault current at the feeding end of each run (n_runs,); NaN = not known."""
    meshed: tuple[int, ...]
    """Runs that are part of a loop or lie between two joined batteries: current may flow either way in them."""
    run_far_fault_a: FloatArray
    """Smallest fault current at the far end of each run (n_runs,); NaN = not known or of no meaning."""
    far_fault: tuple[FarFault, ...]
    """What each device between source and far end sees of it; nothing for runs where it is NaN."""
    run_far_fault_note: tuple[str, ...]
    """For each run how its smallest fault current comes about, or why there is none (n_runs,)."""
    alone: tuple[AlonePoint, ...]
    """Each channel, and each load without one, switched on alone."""
    short_points: tuple[OperatingPoint, ...]
    """Corners that last for moments: inverters in overload, engine start; not in `points` or the extremes."""
    short_peak_a: FloatArray
    """Largest current of each run with an inverter in overload (n_runs,); NaN = no such corner, or not known."""
    short_low_v: FloatArray
    """Lowest voltage of each node with an inverter in overload (n_nodes,); NaN likewise."""
    crank_v: FloatArray
    """Lowest voltage of each node while the engine starts (n_nodes,); NaN where the starter battery feeds none."""
    joined_runs: tuple[int, ...] = ()
    """Runs between the two batteries while a relay joins them; empty without one."""

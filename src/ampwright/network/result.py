"""What the network study hands to the rules and documents: records only.

Arrays are indexed like the design's tuples. NaN = not known, never "nothing": a rule that meets one says
`not checked`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.records import record

__all__ = ["Collapse", "DeviceFault", "FloatArray", "IntArray", "NetworkResult", "OperatingPoint"]

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
    """Current of each run from its start to its end (n_runs,); NaN likewise."""
    link_a: FloatArray
    """Current of each link from its start to its end (n_links,); NaN likewise."""
    is_solved: bool
    """True when every tree of this corner has an answer."""
    collapse: tuple[Collapse, ...]
    """Trees of this corner without a steady voltage."""


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
    """Loop resistance from the root to each node at working temperature (n_nodes,); NaN = not known."""
    root: IntArray
    """Index of the root of each node's tree (n_nodes,); -1 where nothing feeds it."""
    loops: tuple[int, ...]
    """Runs left out because they close a loop or join two sources; their trees are not solved."""
    unfed: tuple[int, ...]
    """Nodes that nothing feeds."""
    device_fault: tuple[DeviceFault, ...]
    """Largest fault current at every fuse and breaker."""
    run_fault_a: FloatArray
    """Largest fault current at the feeding end of each run (n_runs,); NaN = not known."""

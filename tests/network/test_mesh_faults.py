import numpy as np
import pytest

from ampwright.network.mesh.fault_net import FaultSource
from ampwright.network.mesh_faults import (
    mesh_device_fault_a,
    mesh_explanation,
    mesh_feed,
    mesh_run_fault_a,
)
from ampwright.network.tree import forest_of

RING = """
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 5, joint_ohm = 0 },
  { id = "R2", start = "x", end = "b", cable = "wire", length_m = 10, joint_ohm = 0 },
]
"""
COLD_OHM = np.array([0.010, 0.020])


@pytest.fixture
def ring(make_design):
    design = make_design(RING)
    battery = FaultSource(node=design.node_of("b"), open_v=14.4, source_ohm=0.005)
    tree = forest_of(design).tree(battery.node)
    return design.runs, tree, battery


def test_a_device_sees_the_larger_side(ring):
    runs, tree, battery = ring
    feed = mesh_feed(tree, COLD_OHM, (battery,), 0.0)
    # 4 m along R1: 8 mohm straight, 2 + 20 mohm round
    total_a = 14.4 / (0.005 + 8.0 * 22.0 / 30.0 / 1000.0)
    expected_a = pytest.approx(total_a * 22.0 / 30.0)
    assert mesh_device_fault_a(feed, runs[0], 4.0, is_from=True) == expected_a
    assert mesh_device_fault_a(feed, runs[0], 1.0, is_from=False) == expected_a
    # R2 is written towards the battery: its start is the far bar
    assert mesh_device_fault_a(feed, runs[1], 0.0, is_from=False) == pytest.approx(14.4 / 0.005)


def test_the_worse_end_of_a_run_and_all_limited_sources_count(ring):
    runs, tree, battery = ring
    feed = mesh_feed(tree, COLD_OHM, (battery,), 30.0)
    assert mesh_run_fault_a(feed, runs[1]) == pytest.approx(14.4 / 0.005 + 30.0)
    assert mesh_explanation(feed) == (
        "the battery through all parallel ways of cold cable and at most 30 A from chargers, panels or alternator"
    )


def test_panels_alone_give_what_they_give(ring):
    runs, tree, _ = ring
    feed = mesh_feed(tree, COLD_OHM, (), 18.0)
    assert mesh_run_fault_a(feed, runs[0]) == 18.0
    assert mesh_explanation(feed).startswith("no battery")

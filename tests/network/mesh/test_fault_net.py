import numpy as np
import pytest

from ampwright.network.mesh.fault_net import FaultSource, fault_at_position, fault_in_branch, fault_net
from ampwright.network.tree import Tree

OHM = np.array([0.010, 0.030])
BATTERY = FaultSource(node=0, open_v=12.0, source_ohm=0.005)
OTHER = FaultSource(node=1, open_v=14.0, source_ohm=0.007)


def two_ways():
    return Tree(
        root=0, nodes=np.array([0, 1]), parent=np.array([-1, 0]), branch=np.array([-1, 0]),
        direction=np.array([1.0, 1.0]), chords=np.array([1]), chord_ends=np.array([[0, 1]]),
        other_battery=1, is_solvable=True,
    )  # fmt: skip


def test_a_fault_at_the_far_end_of_parallel_cables():
    total_a, branch_a = fault_at_position(fault_net(two_ways(), OHM, (BATTERY,)), 1)
    assert total_a == pytest.approx(12.0 / (0.005 + 0.0075))
    assert branch_a == pytest.approx([0.75 * total_a, 0.25 * total_a])


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9])
def test_a_fault_inside_a_cable_comes_from_both_ends(share):
    net = fault_net(two_ways(), OHM, (BATTERY,))
    straight, round_about = 0.010 * share, 0.010 * (1.0 - share) + 0.030
    total_a = 12.0 / (0.005 + 1.0 / (1.0 / straight + 1.0 / round_about))
    from_start_a = total_a * round_about / (straight + round_about)
    assert fault_in_branch(net, 0, share) == pytest.approx((from_start_a, total_a - from_start_a))


def test_at_an_end_everything_but_the_branch_counts_to_that_end():
    net = fault_net(two_ways(), OHM, (BATTERY,))
    assert fault_in_branch(net, 0, 0.0) == pytest.approx((12.0 / 0.005, 0.0), abs=1e-6)
    total_a = 12.0 / 0.0125
    assert fault_in_branch(net, 0, 1.0) == pytest.approx((0.75 * total_a, 0.25 * total_a))


def test_two_batteries_superpose():
    net = fault_net(two_ways(), OHM, (BATTERY, OTHER))
    total_a, branch_a = fault_at_position(net, 1)
    from_first_a = 12.0 / (0.005 + 0.0075)
    assert total_a == pytest.approx(from_first_a + 14.0 / 0.007)
    assert branch_a.sum() == pytest.approx(from_first_a)


def test_what_hangs_on_the_loop_adds_its_own_way():
    tree = Tree(
        root=0, nodes=np.arange(5), parent=np.array([-1, 0, 1, 2, 2]), branch=np.array([-1, 0, 2, 3, 4]),
        direction=np.array([1.0, 1.0, 1.0, -1.0, 1.0]), chords=np.array([1]), chord_ends=np.array([[0, 1]]),
        other_battery=-1, is_solvable=True,
    )  # fmt: skip
    net = fault_net(tree, np.array([0.010, 0.030, 0.020, 0.040, 0.0]), (BATTERY,))
    total_a, branch_a = fault_at_position(net, 3)
    assert total_a == pytest.approx(12.0 / (0.005 + 0.0075 + 0.020 + 0.040))
    expected = [0.75 * total_a, total_a, -total_a, np.nan, 0.25 * total_a]
    assert branch_a == pytest.approx(expected, nan_ok=True)
    assert net.transfer_ohm[3, 4] == pytest.approx(0.005 + 0.0075 + 0.020)
    # branch 3 is written towards the loop: everything comes from its end
    assert fault_in_branch(net, 2, 0.25) == pytest.approx((0.0, 12.0 / (0.0325 + 0.030)), abs=1e-6)

import pytest

from ampwright.network.resistance import CONDUCTOR_RISE_K, cold_copper_ohm, hot_ohm, working_ohm

TEXT = """
zone = [{ id = "hot", kind = "roof", ambient_max_degc = 55 }]
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "s", part = "shunt" }]
[[run]]
id = "R1"
start = "b"
end = "x"
cable = "wire"
length_m = 3
zones = ["hot"]
joint_ohm = 0.002
device = [{ id = "F1", part = "fuse", distance_m = 0.1 }]
"""


def test_copper_follows_temperature_and_the_rest_does_not(make_design):
    design = make_design(TEXT)
    copper = 2 * 3 * 0.001 * (1 + 0.00393 * (55 + CONDUCTOR_RISE_K - 20))
    assert working_ohm(design).tolist() == pytest.approx([copper + 0.002 + 0.003, 0.0001])


def test_cold_copper_leaves_out_joints_devices_and_channels(make_design):
    assert cold_copper_ohm(make_design(TEXT)).tolist() == pytest.approx([0.006, 0.0])


def test_a_chassis_return_has_only_one_conductor(make_design):
    design = make_design(TEXT.replace("length_m = 3", 'length_m = 3\nback = "chassis"'))
    assert cold_copper_ohm(design)[0] == pytest.approx(0.003)


def test_hot_copper_is_at_the_limit_of_its_insulation_and_all_else_counts(make_design):
    design = make_design(TEXT.replace("length_m = 3", 'length_m = 3\nback = "chassis"'))
    copper = 3 * 0.001 * (1 + 0.00393 * (105 - 20))
    assert hot_ohm(design).tolist() == pytest.approx([copper + 0.002 + 0.003 + 0.002, 0.0001])

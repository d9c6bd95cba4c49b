from ampwright.network.all_corners import all_corners
from ampwright.network.alone import alone_groups
from ampwright.network.resistance import working_ohm
from ampwright.network.situations import situations
from ampwright.network.tree import forest_of

TEXT = """
part = [{ id = "b", part = "bank" }, { id = "i", part = "inverter", part_of = "trailer" }]
run = [{ id = "R1", start = "b", end = "i", cable = "wire", length_m = 1, part_of = "trailer" }]
load = [{ id = "lamp", name = "l", power_w = 5, at = "b" }]
"""
USE = """use = { days = ["out", "home"] }
day = [{ id = "out", is_trailer_attached = true, otherwise = "road" }, { id = "home" }]
"""


def test_corners_by_what_they_decide(make_design):
    design = make_design(TEXT, use=USE)
    forest = forest_of(design)
    found = all_corners(design, situations(design, forest), alone_groups(design, forest), working_ohm(design))
    lasting = [(corner.name, "trailer" in corner.present) for corner in found.lasting]
    assert lasting == [
        ("battery low, loads of out 00:00", True),
        ("charging, engine running", True),
        ("charging, engine running, loads of out 00:00", True),
        ("charging, hooked up", True),
        ("engine running, alternator at its lowest voltage", True),
        ("engine running, alternator at its usual voltage", True),
        ("engine running, alternator at its highest voltage", True),
        ("battery low, loads of home 00:00, trailer detached", False),
        ("charging, engine running, trailer detached", False),
        ("charging, hooked up, trailer detached", False),
        ("engine running, alternator at its lowest voltage, trailer detached", False),
        ("engine running, alternator at its usual voltage, trailer detached", False),
        ("engine running, alternator at its highest voltage, trailer detached", False),
    ]
    assert [corner.name for corner in found.alone] == ["battery low, lamp alone", "charging, lamp alone"]
    assert [corner.name for corner in found.overload] == ["i in overload, loads of out 00:00"]
    assert [corner.name for corner in found.crank] == ["engine start", "engine start, trailer detached"]

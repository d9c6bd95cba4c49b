"""Tracing the wiring."""

import pytest

from ampwright.energy.sources_map import source_map

PARTS = """
[[part]]
id = "bank"
part = "lfp-100"
[[part]]
id = "left"
part = "panel-100"
[[part]]
id = "right"
part = "panel-100"
[[part]]
id = "loose"
part = "panel-50"
[[part]]
id = "sun"
part = "solar-mp-20"
[[part]]
id = "bar"
part = "bus-100"
[[part]]
id = "mains"
part = "mains-20"
"""
RUN = '[[run]]\nid = "{id}"\nstart = "{start}"\nend = "{end}"\ncable = "cable-6"\nlength_m = 2.0\n'
WIRES = [("a", "left", "sun.in"), ("b", "right", "sun.in"), ("c", "bar", "sun.out"), ("d", "bank", "bar")]


def wired(design_of, wires):
    return design_of(PARTS + "".join(RUN.format(id=i, start=s, end=e) for i, s, e in wires))


def ids(design, indices):
    return {design.parts[index].id for index in indices}


def test_panels_belong_to_the_controller_they_reach(design_of):
    design = wired(design_of, WIRES)
    found = source_map(design)
    ((controller, panels),) = found.panels
    assert design.parts[controller].id == "sun"
    assert ids(design, panels) == {"left", "right"}
    assert ids(design, found.unconnected) == {"loose", "mains"}


def test_controller_cut_from_the_battery_gives_nothing(design_of):
    design = wired(design_of, WIRES[:3])
    found = source_map(design)
    assert found.panels == ()
    assert "sun" in ids(design, found.unconnected)


def test_charger_at_the_battery(design_of):
    design = wired(design_of, [*WIRES, ("e", "bar", "mains.out")])
    found = source_map(design)
    assert ids(design, found.chargers) == {"mains"}


@pytest.mark.parametrize(("node", "other"), [(-1, 0), (0, -1)])
def test_missing_nodes_hang_with_nothing(design_of, node, other):
    assert not source_map(wired(design_of, WIRES)).is_together(node, other)

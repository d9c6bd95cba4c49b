import dataclasses
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.assessment.plate_layout import PlateItem, gap_mm, plate_layout, wanted_gap_mm
from ampwright.job.plate import OnPlate, Plate
from ampwright.parts.catalogue import shipped_catalogue


class Placed:
    def __init__(self, part_id):
        self.id = part_id
        self.part = shipped_catalogue().find(part_id)


def item(x, y, width, height, part="bus-100"):
    return PlateItem(
        placed=Placed(part),
        x_mm=x,
        y_mm=y,
        width_mm=width,
        height_mm=height,
        is_turned=False,
        is_proposed=False,
    )


@dataclasses.dataclass
class Parts:
    parts: tuple


@cache
def parts():
    return Parts(parts=tuple(Placed(name) for name in ("dcdc-12-20", "solar-mp-10", "bus-100", "shunt-300")))


def test_gap_beside_above_and_corner_to_corner():
    one = item(0, 0, 10, 10)
    assert gap_mm(one, item(15, 2, 4, 4)) == 5
    assert gap_mm(one, item(0, 30, 4, 4)) == 20
    assert gap_mm(one, item(13, 14, 4, 4)) == 5  # legs of 3 and 4
    assert gap_mm(one, item(8, 4, 10, 4)) == -2


sides = st.floats(0, 300)


@given(sides, sides, sides, sides)
def test_gap_is_the_same_from_both_sides(x, y, other_x, other_y):
    one, other = item(x, y, 20, 40), item(other_x, other_y, 50, 10)
    assert gap_mm(one, other) == gap_mm(other, one)


@given(
    st.floats(150, 600),
    st.floats(120, 500),
    st.permutations(["dcdc-12-20", "solar-mp-10", "bus-100", "shunt-300"]),
)
def test_a_proposed_place_never_breaks_what_it_keeps(width, height, names):
    plate = Plate(id="p", width_mm=width, height_mm=height, place=tuple(OnPlate(part=name) for name in names))
    layout = plate_layout(parts(), plate)
    assert len(layout.items) + len(layout.unplaced) == 4
    for number, one in enumerate(layout.items):
        assert one.is_proposed
        assert one.x_mm >= 10 - 1e-9
        assert one.y_mm >= 10 - 1e-9
        assert one.x_mm + one.width_mm <= width - 10 + 1e-6
        assert one.y_mm + one.height_mm <= height - 10 + 1e-6
        for other in layout.items[number + 1 :]:
            assert gap_mm(one, other) >= wanted_gap_mm(one, other) - 1e-6


def test_largest_goes_to_the_corner_and_a_small_plate_says_no():
    place = (OnPlate(part="bus-100"), OnPlate(part="dcdc-12-20"))
    layout = plate_layout(parts(), Plate(id="p", width_mm=400, height_mm=240, place=place))
    assert [(each.placed.id, each.x_mm, each.y_mm) for each in layout.items] == [
        ("bus-100", 210.0, 10.0),  # 10 + 170 + 30 of free air
        ("dcdc-12-20", 10.0, 10.0),
    ]
    small = plate_layout(parts(), Plate(id="p", width_mm=100, height_mm=100, place=place))
    assert small.unplaced == ("dcdc-12-20", "bus-100")


def test_turned_part_swaps_its_sides():
    turned = OnPlate(part="dcdc-12-20", x_mm=10, y_mm=10, is_turned=True)
    (only,) = plate_layout(parts(), Plate(id="p", width_mm=400, height_mm=240, place=(turned,))).items
    assert (only.width_mm, only.height_mm) == (100.0, 170.0)


def test_part_without_size_is_named():
    bare = dataclasses.replace(shipped_catalogue().find("bus-100"), length_mm=0.0, holes=())
    placed = Placed("bus-100")
    placed.part = bare
    layout = plate_layout(
        Parts(parts=(placed,)), Plate(id="p", width_mm=400, height_mm=240, place=(OnPlate(part="bus-100"),))
    )
    assert layout.unsized == ("bus-100",)
    with pytest.raises(StopIteration):
        next(iter(layout.items))

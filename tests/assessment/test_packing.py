"""Boxes in a room and rectangles on rectangles."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.assessment.packing import fits, has_shelf_packing, has_tiling, turned

ALL = (0, 1, 2)
side = st.integers(1, 6).map(float)
flat = st.tuples(side, side)


def test_a_box_that_may_lie_stands_six_ways_and_an_upright_one_two():
    assert len(turned((3.0, 2.0, 1.0), uprights=ALL)) == 6
    assert turned((3.0, 2.0, 1.0), uprights=(2,)) == ((3.0, 2.0, 1.0), (2.0, 3.0, 1.0))
    assert turned((2.0, 2.0, 2.0), uprights=ALL) == ((2.0, 2.0, 2.0),)


def test_eight_cubes_fill_a_cube_and_a_ninth_does_not():
    cube = turned((1.0, 1.0, 1.0), uprights=ALL)
    assert has_shelf_packing((cube,) * 8, (2.0, 2.0, 2.0))
    assert not has_shelf_packing((cube,) * 9, (2.0, 2.0, 2.0))


def test_a_tall_box_beside_flat_ones():
    tall, flat_one = turned((1.0, 1.0, 4.0), uprights=(2,)), turned((3.0, 1.0, 1.0), uprights=ALL)
    assert has_shelf_packing((tall, flat_one, flat_one), (2.0, 3.0, 4.0))
    assert not fits(tall, (9.0, 9.0, 3.0))


@given(st.lists(st.tuples(side, side, side), min_size=1, max_size=5), st.tuples(side, side, side))
def test_what_is_packed_fits_alone_and_by_volume(boxes, room):
    ways = tuple(turned(box, uprights=ALL) for box in boxes)
    if has_shelf_packing(ways, room):
        assert all(fits(each, room) for each in ways)
        assert sum(a * b * c for a, b, c in boxes) <= room[0] * room[1] * room[2]


@given(st.tuples(side, side, side))
def test_a_single_box_is_packed_when_it_fits(box):
    ways = turned(box, uprights=ALL)
    room = (4.0, 3.0, 5.0)
    assert has_shelf_packing((ways,), room) == fits(ways, room)


def test_pinwheel_of_four_sheets_round_a_hole():
    """Four sheets of 2 × 1 in 3 × 3 leave the middle free; no straight cut separates them."""
    assert has_tiling(((2.0, 1.0),) * 4, ((3.0, 3.0),))


def test_sheets_need_their_lengths_and_not_only_their_area():
    assert has_tiling(((2.0, 2.0), (2.0, 2.0)), ((3.0, 3.0),)) is False
    assert has_tiling(((2.0, 2.0), (2.0, 2.0)), ((3.0, 3.0), (2.0, 2.0))) is True


def test_too_many_arrangements_are_given_up():
    sheets = tuple((7.0 + 0.1 * i, 5.0 + 0.1 * i) for i in range(9))
    assert has_tiling(sheets, ((21.0, 17.9),)) is None


def _by_grid(sheets, room):
    """Try every whole position of whole sheets: a slow, separate answer."""
    if not sheets:
        return True
    (a, b), rest = sheets[0], sheets[1:]
    for width, depth in {(a, b), (b, a)}:
        for x in range(int(room.shape[0] - width) + 1):
            for y in range(int(room.shape[1] - depth) + 1):
                part = room[x : x + int(width), y : y + int(depth)]
                if not part.any():
                    part[:] = True
                    found = _by_grid(rest, room)
                    room[x : x + int(width), y : y + int(depth)] = False
                    if found:
                        return True
    return False


@settings(max_examples=60, deadline=None)
@given(st.lists(flat, min_size=1, max_size=4), st.tuples(st.integers(1, 6), st.integers(1, 6)))
def test_search_agrees_with_trying_every_whole_position(sheets, room):
    """For whole sizes an arrangement pushed together lies on whole positions."""
    import numpy as np  # noqa: PLC0415 - only here

    found = has_tiling(tuple(sheets), ((float(room[0]), float(room[1])),))
    assert found == _by_grid(sheets, np.zeros(room, dtype=bool))

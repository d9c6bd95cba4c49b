"""Limits of fuse families as shipped."""

import typing

import pytest

from ampwright.errors import TableError
from ampwright.parts.protection import Fuse
from ampwright.sources import Source
from ampwright.standards.iso_8820.limits import FAMILIES, OpeningPoint, opening_limits, shipped_points


@pytest.mark.parametrize(
    ("family", "breaking_a", "ratings_a", "factors"),
    [
        ("iso-8820-3-c", 1000.0, (0.0, 100.0), (1.1, 1.35, 2.0, 3.5, 6.0)),
        ("iso-8820-3-e", 1000.0, (0.0, 100.0), (1.0, 1.35, 2.0, 3.5, 6.0)),
        ("iso-8820-3-f", 1000.0, (0.0, 100.0), (1.1, 1.35, 2.0, 3.5, 6.0)),
        ("iso-8820-5-sf30", 2000.0, (30.0, 200.0), (2.0, 3.5, 6.0)),
        ("iso-8820-5-sf51", 2000.0, (60.0, 500.0), (1.35, 2.0, 3.5, 6.0)),
    ],
)
def test_scope_and_points(family, breaking_a, ratings_a, factors):
    found = opening_limits(family)
    assert found is not None
    assert (found.family, found.rated_dc_v, found.breaking_capacity_a) == (family, 32.0, breaking_a)
    assert (found.rating_min_a, found.rating_max_a) == ratings_a
    assert tuple(point.current_factor for point in found.points) == factors
    assert found.source.standing == "from memory"


@pytest.mark.parametrize(
    ("factor", "shortest_s", "longest_s", "standing"),
    [
        (1.0, 360_000.0, None, "second hand"),
        (1.35, 60.0, 1800.0, "second hand"),
        (2.0, 2.0, 60.0, "second hand"),
        (3.5, 0.2, 7.0, "second hand"),
        (6.0, 0.04, 1.0, "from memory"),
    ],
)
def test_type_e_as_in_din_72581_3(factor, shortest_s, longest_s, standing):
    (point,) = (p for p in opening_limits("iso-8820-3-e").points if p.current_factor == factor)
    assert (point.opening_min_s, point.opening_max_s, point.source.standing) == (
        shortest_s,
        longest_s,
        standing,
    )


# Second transcription of the rows that are not those of type E: multiple, shortest, longest, standing.
BLADE = [
    (1.1, 360_000.0, None, "from memory"),
    (1.35, 0.75, 1800.0, "second hand"),
    (2.0, 0.15, 5.0, "from memory"),
    (3.5, 0.08, 0.5, "from memory"),
    (6.0, 0.03, 0.1, "from memory"),
]
STRIP = [
    (2.0, 1.0, 15.0, "from memory"),
    (3.5, 0.3, 5.0, "from memory"),
    (6.0, 0.1, 1.0, "from memory"),
]
STRIP_51 = [(1.35, 120.0, 1800.0, "from memory"), *STRIP]


@pytest.mark.parametrize(
    ("family", "rows"),
    [
        ("iso-8820-3-c", BLADE),
        ("iso-8820-3-f", BLADE),
        ("iso-8820-5-sf30", STRIP),
        ("iso-8820-5-sf51", STRIP_51),
    ],
)
def test_transcription_of_blade_and_strip_fuses(family, rows):
    found = [
        (p.current_factor, p.opening_min_s, p.opening_max_s, p.source.standing)
        for p in opening_limits(family).points
    ]
    assert found == rows


@pytest.mark.parametrize("family", ["ul-248-15-t", "iec-60269-6-gpv"])
def test_family_without_a_table_is_none(family):
    assert opening_limits(family) is None


def test_unknown_family_is_an_error():
    with pytest.raises(TableError, match="use one of iso-8820-3-c"):
        opening_limits("glass")


def test_families_are_those_a_fuse_part_may_name():
    (names,) = (
        typing.get_args(hint) for name, hint in typing.get_type_hints(Fuse).items() if name == "family"
    )
    assert names == FAMILIES


@pytest.mark.parametrize("family", FAMILIES[:5])
def test_times_shorten_with_current_and_bands_do_not_cross(family):
    points = opening_limits(family).points
    longest = [point.opening_max_s for point in points if point.opening_max_s is not None]
    shortest = [point.opening_min_s for point in points]
    assert longest == sorted(longest, reverse=True)
    assert shortest == sorted(shortest, reverse=True)
    assert all(p.opening_max_s is None or p.opening_min_s < p.opening_max_s for p in points)


def test_points_given_by_the_caller_describe_a_family_without_scope():
    point = OpeningPoint(
        family="ul-248-15-t",
        current_factor=1.35,
        opening_min_s=None,
        opening_max_s=3600.0,
        rating_min_a=None,
        rating_max_a=60.0,
        source=Source(document="user file mine.csv", place="line 2"),
    )
    found = opening_limits("ul-248-15-t", points=(*shipped_points(), point))
    assert found.points == (point,)
    assert found.rated_dc_v is found.breaking_capacity_a is found.rating_min_a is found.rating_max_a is None
    assert found.source.document == "user file mine.csv"


def test_scope_stands_even_when_no_points_are_given():
    assert opening_limits("iso-8820-5-sf30", points=()).points == ()


@pytest.mark.parametrize(
    ("smallest_a", "largest_a", "holds"),
    [(None, None, True), (20.0, 80.0, True), (50.0, 50.0, True), (51.0, None, False), (None, 49.0, False)],
)
def test_point_holds_for_its_ratings(smallest_a, largest_a, holds):
    point = OpeningPoint(
        family="iso-8820-3-e",
        current_factor=2.0,
        opening_min_s=1.0,
        opening_max_s=2.0,
        rating_min_a=smallest_a,
        rating_max_a=largest_a,
        source=Source(document="test"),
    )
    assert point.holds_for(50.0) is holds

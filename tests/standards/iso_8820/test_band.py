"""Bounds on the time of opening."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.iso_8820.band import must_open_factor, opening_band
from ampwright.standards.iso_8820.limits import FAMILIES, opening_limits

HELD = st.sampled_from(FAMILIES[:5])


@pytest.mark.parametrize(
    ("current_a", "shortest_s", "longest_s"),
    [
        (50.0, 360_000.0, None),
        (60.0, 60.0, None),
        (67.5, 60.0, 1800.0),
        (99.0, 2.0, 1800.0),
        (100.0, 2.0, 60.0),
        (175.0, 0.2, 7.0),
        (300.0, 0.04, 1.0),
        (5000.0, 0.0, 1.0),
    ],
)
def test_band_of_type_e_50_a(current_a, shortest_s, longest_s):
    found = opening_band(opening_limits("iso-8820-3-e"), rating_a=50.0, current_a=current_a)
    assert (found.opening_min_s, found.opening_max_s) == (shortest_s, longest_s)


def test_standing_is_the_weaker_of_the_two_points_used():
    limits = opening_limits("iso-8820-3-e")
    assert opening_band(limits, rating_a=50.0, current_a=120.0).source.standing == "second hand"
    assert opening_band(limits, rating_a=50.0, current_a=200.0).source.standing == "from memory"


@pytest.mark.parametrize(
    ("family", "rating_a"),
    [
        ("iso-8820-3-e", 10.0),
        ("iso-8820-3-e", 100.0),
        ("iso-8820-3-c", 125.0),
        ("iso-8820-5-sf30", 20.0),
        ("iso-8820-5-sf51", 600.0),
    ],
)
def test_rating_outside_the_table_is_not_checked(family, rating_a):
    limits = opening_limits(family)
    assert opening_band(limits, rating_a=rating_a, current_a=1000.0) is None
    assert must_open_factor(limits, rating_a=rating_a) is None


def test_rating_must_be_above_zero():
    with pytest.raises(TableError, match="above 0"):
        opening_band(opening_limits("iso-8820-3-c"), rating_a=0.0, current_a=10.0)


@pytest.mark.parametrize(
    ("family", "factor"),
    [("iso-8820-3-c", 1.35), ("iso-8820-3-e", 1.35), ("iso-8820-5-sf30", 2.0), ("iso-8820-5-sf51", 1.35)],
)
def test_smallest_current_that_must_open(family, factor):
    assert must_open_factor(opening_limits(family), rating_a=60.0) == factor


@given(HELD, st.floats(0, 50), st.floats(0, 50))
def test_more_current_never_opens_later(family, one, other):
    few, many = (
        opening_band(opening_limits(family), rating_a=60.0, current_a=60.0 * factor)
        for factor in sorted((one, other))
    )
    assert many.opening_min_s <= few.opening_min_s
    assert (many.opening_max_s or math.inf) <= (few.opening_max_s or math.inf)
    assert many.opening_min_s <= (many.opening_max_s or math.inf)


def test_point_with_no_bound_on_either_side_keeps_its_source():
    limits = opening_limits("iso-8820-5-sf30")
    only_longest = type(limits)(
        family=limits.family,
        rated_dc_v=limits.rated_dc_v,
        breaking_capacity_a=limits.breaking_capacity_a,
        rating_min_a=None,
        rating_max_a=None,
        points=tuple(
            type(point)(
                family=point.family,
                current_factor=point.current_factor,
                opening_min_s=None,
                opening_max_s=point.opening_max_s,
                rating_min_a=None,
                rating_max_a=None,
                source=point.source,
            )
            for point in limits.points
        ),
        source=limits.source,
    )
    found = opening_band(only_longest, rating_a=100.0, current_a=100.0)
    assert (found.opening_min_s, found.opening_max_s) == (0.0, None)
    assert found.source == limits.points[0].source

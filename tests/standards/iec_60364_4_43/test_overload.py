"""The three conditions for load, overload device and cable."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.iec_60364_4_43.overload import overload_conditions


@pytest.mark.parametrize(
    ("load_a", "rating_a", "capacity_a", "factor", "holds"),
    [
        (18.0, 20.0, 25.0, 1.35, (True, True, True)),
        (20.0, 20.0, 20.0, 1.45, (True, True, True)),
        (21.0, 20.0, 25.0, 1.35, (False, True, True)),
        (18.0, 30.0, 29.0, 1.35, (True, False, True)),
        (18.0, 20.0, 25.0, 2.0, (True, True, False)),
        (40.0, 30.0, 20.0, 2.0, (False, False, False)),
    ],
)
def test_each_condition_by_itself(load_a, rating_a, capacity_a, factor, holds):
    found = overload_conditions(
        load_current_a=load_a, device_rating_a=rating_a, capacity_a=capacity_a, conventional_factor=factor
    )
    assert (found.is_load_carried, found.is_rating_within_cable, found.is_opening_within_cable) == holds
    assert found.is_met is all(holds)
    assert found.conventional_current_a == pytest.approx(factor * rating_a)
    assert found.conventional_limit_a == pytest.approx(1.45 * capacity_a)
    assert found.source.place == "433.1"


@given(st.floats(1, 500), st.floats(1, 500), st.floats(1, 500), st.floats(1, 2))
def test_more_copper_never_breaks_a_condition(load_a, rating_a, capacity_a, factor):
    thin, thick = (
        overload_conditions(
            load_current_a=load_a, device_rating_a=rating_a, capacity_a=capacity, conventional_factor=factor
        )
        for capacity in (capacity_a, capacity_a * 1.5)
    )
    assert thick.is_met or not thin.is_met


def test_factor_below_one_is_refused():
    with pytest.raises(TableError, match="give 1 or more"):
        overload_conditions(load_current_a=1.0, device_rating_a=2.0, capacity_a=3.0, conventional_factor=0.9)


def test_negative_current_is_refused():
    with pytest.raises(TableError, match="none may be negative"):
        overload_conditions(load_current_a=1.0, device_rating_a=2.0, capacity_a=-3.0, conventional_factor=1.3)

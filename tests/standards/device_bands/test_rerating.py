import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.device_bands import CONTINUOUS_FACTOR, DEVICE_CLASSES, continuous_limit, rerating
from ampwright.standards.device_bands.classes import reference_degc


@pytest.mark.parametrize(
    ("ambient_degc", "printed"),
    [(-20, 0.76), (-10, 0.84), (0, 0.92), (23, 1.0), (40, 1.08), (50, 1.16), (60, 1.24)],
)
def test_thermal_rating_is_the_reciprocal_of_the_printed_derating(ambient_degc, printed):
    assert 1.0 / rerating("thermal", ambient_degc=ambient_degc).rating_factor == pytest.approx(
        printed, abs=0.005
    )


def test_fuses_lose_their_rule_of_thumb_for_each_kelvin():
    assert rerating("iso-8820-3-c", ambient_degc=65.0).rating_factor == pytest.approx(1.0 - 0.002 * 40.0)
    assert rerating("ul-248-15-t", ambient_degc=65.0).rating_factor == pytest.approx(1.0 - 0.005 * 40.0)


@pytest.mark.parametrize("device_class", DEVICE_CLASSES)
def test_at_its_reference_temperature_a_device_carries_its_rating(device_class):
    found = rerating(device_class, ambient_degc=reference_degc(device_class))
    assert found.rating_factor == pytest.approx(1.0, abs=0.005)


@given(
    device_class=st.sampled_from(DEVICE_CLASSES),
    ambients=st.tuples(st.floats(-60.0, 130.0), st.floats(-60.0, 130.0)),
)
def test_hotter_air_never_lets_more_through(device_class, ambients):
    cool, warm = (rerating(device_class, ambient_degc=ambient) for ambient in sorted(ambients))
    if cool is not None and warm is not None:
        assert warm.rating_factor <= cool.rating_factor + 1e-12


def test_outside_its_table_there_is_no_answer():
    assert rerating("thermal", ambient_degc=61.0) is None
    assert rerating("thermal", ambient_degc=-21.0) is None
    assert continuous_limit("thermal", rating_a=20.0, ambient_degc=61.0) is None


def test_continuous_limit_is_eight_tenths_and_never_more_in_the_cold():
    assert CONTINUOUS_FACTOR == 0.8
    assert continuous_limit(
        "hydraulic-magnetic", rating_a=50.0, ambient_degc=60.0
    ).current_a == pytest.approx(40.0)
    assert continuous_limit("thermal", rating_a=20.0, ambient_degc=-10.0).current_a == pytest.approx(16.0)
    assert continuous_limit("thermal", rating_a=20.0, ambient_degc=60.0).current_a == pytest.approx(
        0.8 * 0.806 * 20.0
    )


def test_a_small_holder_sets_the_limit():
    limit = continuous_limit("iso-8820-3-c", rating_a=30.0, ambient_degc=25.0, holder_max_a=20.0)
    assert (limit.current_a, limit.is_holder, limit.source.document) == (20.0, True, "part data")


def test_bad_ratings_are_refused():
    with pytest.raises(TableError, match="above 0"):
        continuous_limit("thermal", rating_a=0.0, ambient_degc=25.0)
    with pytest.raises(TableError, match="above 0"):
        continuous_limit("iso-8820-3-c", rating_a=10.0, ambient_degc=25.0, holder_max_a=0.0)

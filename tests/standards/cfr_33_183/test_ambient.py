"""Factors for ambient, engine space and bundles."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.cfr_33_183.ambient import (
    ambient_correction,
    bundle_correction,
    engine_space_correction,
    heat_balance_factor,
)
from ampwright.standards.cfr_33_183.table_5 import TABLE_5_RATINGS_DEGC

RATINGS = st.sampled_from(TABLE_5_RATINGS_DEGC)
AMBIENTS = st.floats(-40, 220)


@pytest.mark.parametrize("ambient_degc", [-20.0, 0.0, 29.0, 30.0])
def test_cool_ambient_gives_no_bonus(ambient_degc):
    found = ambient_correction(90.0, ambient_degc=ambient_degc)
    assert (found.correction_factor, found.note) == (1.0, "")


def test_other_ambient_says_it_is_not_the_regulation():
    found = ambient_correction(90.0, ambient_degc=60.0)
    assert found.correction_factor == pytest.approx(0.7071, abs=1e-4)
    assert "not from the regulation" in found.note
    assert found.source.standing == "derived"


@pytest.mark.parametrize("ambient_degc", [75.0, 76.0, 200.0])
def test_ambient_at_or_above_the_rating_leaves_nothing(ambient_degc):
    found = ambient_correction(75.0, ambient_degc=ambient_degc)
    assert found.correction_factor == 0.0
    assert "at or above the insulation rating" in found.note


def test_heat_balance_needs_a_rating_above_its_base():
    with pytest.raises(TableError, match="not above the table's ambient"):
        heat_balance_factor(30.0, ambient_degc=20.0)


@given(RATINGS, AMBIENTS, AMBIENTS, st.booleans())
def test_factor_never_rises_with_ambient(rating_degc, one_degc, other_degc, is_engine_space):
    correction = engine_space_correction if is_engine_space else ambient_correction
    cool, hot = (
        correction(rating_degc, ambient_degc=t).correction_factor for t in sorted((one_degc, other_degc))
    )
    assert 0.0 <= hot <= cool <= 1.0


@given(RATINGS, AMBIENTS)
def test_engine_space_is_never_better_than_its_note(rating_degc, ambient_degc):
    note = engine_space_correction(rating_degc, ambient_degc=20.0).correction_factor
    assert engine_space_correction(rating_degc, ambient_degc=ambient_degc).correction_factor <= note


def test_engine_space_hotter_than_its_note_takes_the_heat_balance():
    found = engine_space_correction(105.0, ambient_degc=80.0)
    assert found.correction_factor == pytest.approx((25 / 75) ** 0.5)
    assert "heat balance" in found.note


def test_engine_space_factor_names_note_1_and_its_standing():
    found = engine_space_correction(80.0, ambient_degc=30.0)
    assert found.source.place == "Table 5, note 1"
    assert found.source.standing == "from memory"


def test_engine_space_knows_only_the_columns_of_the_table():
    with pytest.raises(TableError, match="note 1 holds 60, 75"):
        engine_space_correction(70.0, ambient_degc=50.0)


@pytest.mark.parametrize(
    ("count", "factor"),
    [(1, 1.0), (2, 1.0), (3, 0.7), (4, 0.6), (6, 0.6), (7, 0.5), (24, 0.5), (25, 0.4), (300, 0.4)],
)
def test_bundle_steps(count, factor):
    assert bundle_correction(count, system_v=12.0).correction_factor == factor


def test_bundle_note_says_whose_choice_it_is():
    assert "this project's choice" in bundle_correction(3, system_v=12.0).note
    assert "183.435(b) asks for it" in bundle_correction(3, system_v=50.0).note
    assert bundle_correction(2, system_v=12.0).note == ""


@given(st.integers(1, 60), st.integers(1, 60))
def test_bundle_factor_never_rises_with_count(one, other):
    few, many = (bundle_correction(count, system_v=24.0).correction_factor for count in sorted((one, other)))
    assert many <= few


def test_empty_bundle_is_refused():
    with pytest.raises(TableError, match="1 or more"):
        bundle_correction(0, system_v=12.0)

"""Table 5 and its factors taken together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.cfr_33_183.allowable_current import AllowableCurrent, allowable_current_a

AREAS_MM2 = st.floats(0.83, 107.0)


def allowed(area_mm2: float = 16.0, ambient_degc: float = 30.0, count: int = 1, **more) -> AllowableCurrent:
    """Return the allowable current with 105 degC insulation in a body unless said otherwise."""
    wishes = {"insulation_degc": 105.0, "is_engine_space": False, **more}
    return allowable_current_a(area_mm2, ambient_degc=ambient_degc, bundle_count=count, **wishes)


def test_plain_table_value_has_no_note_and_is_read():
    found = allowed(13.3)
    assert (found.current_a, found.table_current_a) == (120.0, 120.0)
    assert (found.ambient_factor, found.bundle_factor, found.note) == (1.0, 1.0, "")
    assert str(found.source) == "33 CFR 183.425, text in force, Table 5"


def test_everything_applied_is_told():
    found = allowed(16.0, 45.0, 4, insulation_degc=85.0)
    for words in (
        "85 degC read in the 80 degC column",
        "between 6 and 4 AWG",
        "ambient 45 degC",
        "4 conductors loaded together",
        "this project's choice",
    ):
        assert words in found.note
    assert found.source.standing == "derived"
    assert "Table 5, note 2" in found.source.place
    assert "NFPA 70" in found.source.place
    assert found.current_a == pytest.approx(found.table_current_a * found.ambient_factor * 0.6)


def test_engine_space_takes_note_1_and_its_standing():
    found = allowed(13.3, 40.0, is_engine_space=True, insulation_degc=125.0)
    assert found.current_a == pytest.approx(125 * 0.89)
    assert found.source.standing == "from memory"


def test_ambient_above_the_insulation_is_no_error():
    assert allowed(13.3, 110.0).current_a == 0.0


def test_system_voltage_changes_the_note_only():
    low, high = allowed(count=5), allowed(count=5, system_v=230.0)
    assert low.current_a == high.current_a
    assert low.note != high.note


@pytest.mark.parametrize("bad", [{"area_mm2": 0.5}, {"count": 0}, {"insulation_degc": 50.0}])
def test_outside_the_table_is_an_error(bad):
    with pytest.raises(TableError):
        allowed(**bad)


PAIRS = st.tuples(
    st.tuples(AREAS_MM2, AREAS_MM2),
    st.tuples(st.floats(-20, 120), st.floats(-20, 120)),
    st.tuples(st.integers(1, 30), st.integers(1, 30)),
)


@given(PAIRS)
def test_more_copper_cooler_and_fewer_never_carry_less(pairs):
    areas_mm2, ambients_degc, counts = pairs
    worse = allowed(min(areas_mm2), max(ambients_degc), max(counts))
    better = allowed(max(areas_mm2), min(ambients_degc), min(counts))
    assert better.current_a >= worse.current_a


@given(AREAS_MM2, st.floats(-20, 50), st.integers(1, 30))
def test_engine_space_never_carries_more(area_mm2, ambient_degc, count):
    inside = allowed(area_mm2, ambient_degc, count, is_engine_space=True)
    assert inside.current_a <= allowed(area_mm2, 30.0, count).current_a

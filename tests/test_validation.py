"""The validator's errors in plain words, at the right place."""

from typing import Annotated, Generic, Literal, TypeVar

import pytest
from annotated_types import Gt
from pydantic import ValidationError

from ampwright.field_types import field_hints, hint_at, number_words, one_of, options, record_by_kind, wanted
from ampwright.parts.kinds import KINDS
from ampwright.records import Count, Fraction, Positive, Temperature, record
from ampwright.validation import near_names, path_text, problems_from, validated, wrong_places

T = TypeVar("T")


@record
class Measured(Generic[T]):
    measured: T
    how: str


@record
class Unknown(Generic[T]):
    unknown: tuple[T, T]
    likely: T | None = None


Quantity = Positive | Measured[Positive] | Unknown[Positive]


@record
class Lamp:
    id: str
    power_w: Quantity
    kind: Literal["lamp", "strip"] = "lamp"
    note: str | None = None
    lamp_count: Count = 1
    is_dimmed: bool = False
    duty_frac: Fraction = 1.0


@record
class Plan:
    lamp: tuple[Lamp, ...] = ()
    ambient_degc: Temperature | None = None

    def __post_init__(self):
        if self.ambient_degc == 13.0:
            raise ValueError("thirteen is not a temperature here")


def problems(raw, **options_):
    with pytest.raises(ValidationError) as caught:
        validated(Plan, raw)
    return problems_from(caught.value, raw, kind=Plan, **options_)


def lamp(**fields):
    return {"lamp": [{"id": "fan", "power_w": 3.0, **fields}]}


@pytest.mark.parametrize(
    ("power_w", "place", "message"),
    [
        (-3, "power_w", "must be more than 0; you gave -3"),
        ("x", "power_w", "must be a number in W; you gave the text 'x'"),
        (True, "power_w", "must be a number in W; you gave true"),
        (float("nan"), "power_w", "must be a finite number; you gave nan"),
        ([1], "power_w", "must be a number in W; you gave a list"),
        ({"measured": -1, "how": "x"}, "power_w > measured", "must be more than 0; you gave -1"),
        ({"measured": 1}, "power_w > how", "missing; give a text in quotes"),
        (
            {"measurd": 1},
            "power_w",
            'give a number in W, or {measured = ..., how = "..."}, or {unknown = [low, high]}',
        ),
        ({"unknown": [1]}, "power_w > unknown number 2", "the list has the wrong length; give [low, high]"),
        ({"unknown": [1, 2, 3]}, "power_w > unknown", "the list has the wrong length; give [low, high]"),
        ({"unknown": [1, "a"]}, "power_w > unknown number 2", "must be a number in W; you gave the text 'a'"),
        ({"unknown": [1, 2], "likly": 3}, "power_w > likly", "unknown key 'likly'; did you mean 'likely'?"),
        ({"unknown": [1, 2], "likely": -3}, "power_w > likely", "must be more than 0; you gave -3"),
    ],
)
def test_quantity_complains_about_the_branch_that_was_meant(power_w, place, message):
    found = problems(lamp(power_w=power_w))
    assert [(each.path, each.message) for each in found] == [(f"lamp 'fan' > {place}", message)]


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"kind": "lmp"}, "must be one of 'lamp', 'strip'; you gave the text 'lmp'"),
        ({"note": 4}, "must be a text in quotes; you gave 4"),
        ({"lamp_count": 1.5}, "must be a whole number; you gave 1.5"),
        ({"lamp_count": True}, "must be a whole number; you gave true"),
        ({"lamp_count": 0}, "must be at least 1; you gave 0"),
        ({"is_dimmed": "yes"}, "must be true or false; you gave the text 'yes'"),
        ({"duty_frac": 40}, "must be at most 1; you gave 40; write 0.40 for 40 %"),
        ({"duty_frac": 1.5}, "must be at most 1; you gave 1.5"),
        ({"duty_frac": "40"}, "must be a number from 0 to 1; you gave the text '40'"),
        ({"powr_w": 4}, "unknown key 'powr_w'; did you mean 'power_w'?"),
    ],
)
def test_fields_complain_in_plain_words(fields, message):
    assert [each.message for each in problems(lamp(**fields))] == [message]


def test_all_problems_at_once_with_lines():
    text = 'ambient_degc = "hot"\n[[lamp]]\nidd = "x"\n\n[[lamp]]\nid = "b"\npower_w = 0\n'
    raw = {"ambient_degc": "hot", "lamp": [{"idd": "x"}, {"id": "b", "power_w": 0}]}
    assert [str(each) for each in problems(raw, text=text)] == [
        "line 2: lamp number 1 > power_w: missing; give a number in W",
        "line 3: lamp number 1 > idd: unknown key 'idd'; did you mean 'id'?",
        "line 7: lamp 'b' > power_w: must be more than 0; you gave 0",
        "line 1: ambient_degc: must be a number in °C; you gave the text 'hot'",
    ]


def test_wrong_shapes():
    assert (
        problems({"lamp": {}})[0].message
        == "must be a list of tables, each headed [[lamp]]; you gave a table"
    )
    assert problems({"lamp": [3]})[0].message == "must be a table of keys; you gave 3"
    assert problems([])[0].message == "must be a table of keys; you gave a list"


def test_own_complaint_of_a_record_is_kept():
    assert problems({"ambient_degc": 13.0})[0].message == "thirteen is not a temperature here"


def test_prefix_places_a_table_within_its_file():
    raw = {"id": "b", "power_w": 0}
    text = '[[lamp]]\nid = "a"\n[[lamp]]\nid = "b"\npower_w = 0\n'
    with pytest.raises(ValidationError) as caught:
        validated(Lamp, raw)
    (found,) = problems_from(caught.value, raw, kind=Lamp, text=text, prefix=("lamp", 1))
    assert str(found) == "line 5: lamp 'b' > power_w: must be more than 0; you gave 0"


def test_valid_tables_become_records_with_tuples():
    plan = validated(Plan, lamp(power_w={"unknown": [1, 2]}))
    assert plan.lamp[0].power_w == Unknown(unknown=(1.0, 2.0))
    assert isinstance(plan.lamp, tuple)


def test_path_text_without_ids():
    assert (
        path_text(("part", 0, "outputs", 1, "max_a"), {}, depth_count=2)
        == "part number 1 > outputs number 2 > max_a"
    )
    assert path_text((), {}) == ""


def test_near_names_name_the_unit_where_only_that_differs_and_overlook_capitals():
    assert near_names("length_ft", ["length_m", "zones"]) == "; did you mean 'length_m', in m?"
    assert near_names("POWER_W", ["power_w", "power_a"]) == "; did you mean 'power_w'?"
    assert near_names("lamp_cnt", ["lamp_count"]) == "; did you mean 'lamp_count'?"


def test_near_names_lists_what_is_known_when_nothing_is_near():
    assert near_names("zzzz", ["b", "a"]) == "; known: a, b"
    assert near_names("zzzz", []) == ""


def test_field_types():
    assert list(field_hints(Lamp))[:2] == ["id", "power_w"]
    assert wanted("power_w", field_hints(Lamp)["power_w"]) == "a number in W"
    assert wanted("kind", field_hints(Lamp)["kind"]) == "one of 'lamp', 'strip'"
    assert wanted("lamp", field_hints(Plan)["lamp"]) == "a list in [ ]"
    assert wanted("lamp", Lamp) == "a table of keys"
    assert number_words("x_factor") == "a number"
    assert one_of(["a", 1]) == "one of 'a', 1"
    assert one_of(["a"]) == "'a'"
    assert options(Annotated[float, Gt(0)] | None) == [float, type(None)]
    assert float in options(hint_at(Plan, ("lamp", 0, "power_w")))
    assert hint_at(Plan, ("nothing", 3)) is None


def test_record_by_kind_knows_every_part():
    found = record_by_kind(KINDS)
    assert len(found) == len(KINDS)
    assert found["battery"].__name__ == "Battery"


def test_a_misspelt_key_brings_no_missing_one():
    found = problems({"lamp": [{"id": "fan", "powr_w": 3.0}]})
    assert [each.message for each in found] == ["unknown key 'powr_w'; did you mean 'power_w'?"]
    found = problems({"lamp": [{"id": "fan", "colour": 3.0}]})
    assert sorted(each.message.partition(";")[0] for each in found) == ["missing", "unknown key 'colour'"]


def test_wrong_places_tell_what_kind_they_are():
    raw = {"lamp": [{"powr_w": 3.0, "power_w": {"guess": 1}, "lamp_count": 0}]}
    with pytest.raises(ValidationError) as caught:
        validated(Plan, raw)
    found = {each.path: (each.is_missing, each.is_unknown_key) for each in wrong_places(caught.value, raw)}
    assert found == {
        ("lamp", 0, "id"): (True, False),
        ("lamp", 0, "powr_w"): (False, True),
        ("lamp", 0, "power_w"): (False, False),
        ("lamp", 0, "lamp_count"): (False, False),
    }

"""One value or row of a job's text changes; every comment and everything else stays."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.errors import FileError
from ampwright.job.text_edit import value_at, with_row, with_value, without_row
from ampwright.job.toml_values import toml_value

START = (files("ampwright.job") / "starting_job.toml").read_text(encoding="utf-8")


def comments(text):
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


def test_a_value_changes_and_its_comment_stays():
    text = with_value(START, ("load", 2, "power_w"), 65)
    assert text.count("\n") == START.count("\n")
    assert tomllib.loads(text)["load"][2]["power_w"] == 65
    assert comments(text) == comments(START)


def test_a_value_inside_an_inline_table_changes():
    text = with_value(START, ("load", 1, "when", 0, "end"), "22:30")
    assert 'when = [{ start = "19:00", end = "22:30" }]' in text


def test_a_declared_figure_becomes_a_range():
    text = with_value(START, ("run", 0, "length_m"), {"unknown": [0.4, 0.8], "ask": "measure"})
    assert 'length_m = { unknown = [0.4, 0.8], ask = "measure" }\nzones' in text


def test_a_key_is_added_to_its_table_and_taken_away_again():
    added = with_value(START, ("load", 1, "zone"), "bench")
    assert tomllib.loads(added)["load"][1]["zone"] == "bench"
    assert with_value(added, ("load", 1, "zone"), None) == START


def test_a_key_in_an_inline_table_is_added_and_taken_away():
    added = with_value(START, ("load", 2, "when", 0, "uses"), 3)
    assert 'days = ["stay"], uses = 3 }' in added
    assert with_value(added, ("load", 2, "when", 0, "uses"), None) == START


def test_a_missing_table_is_written_at_the_end_and_goes_as_a_whole():
    added = with_value(START, ("doubt",), {"runs": 20})
    assert added.endswith("\n[doubt]\nruns = 20\n")
    assert tomllib.loads(with_value(added, ("doubt",), None)) == tomllib.loads(START)


def test_a_key_of_the_top_stands_before_the_first_table():
    assert tomllib.loads(with_value(START, ("parts_files",), ["own.toml"]))["parts_files"] == ["own.toml"]


def test_a_row_is_added_behind_its_kind_and_taken_away():
    row = {"id": "fan", "name": "Fan", "power_w": 12.0}
    added = with_row(START, ("load",), row)
    assert added.index('id = "fan"') < added.index("# Settings:")
    assert tomllib.loads(added)["load"][-1] == row
    assert without_row(added, ("load", 3)) == START


def test_a_row_of_a_kind_that_is_not_there():
    row = {"rule": "cable-capacity", "subject": "W1", "by": "A. Person"}
    added = with_row(START, ("override",), row)
    assert tomllib.loads(added)["override"] == [row]
    assert tomllib.loads(without_row(added, ("override", 0))) == tomllib.loads(START)


def test_rows_in_brackets():
    row = {"id": "X", "part": "fuse-t-100", "distance_m": 0.2}
    several_lines = with_row(START, ("run", 0, "device"), row)
    assert '    { id = "X", part = "fuse-t-100", distance_m = 0.2 },\n]' in several_lines
    assert comments(several_lines) == comments(START)
    assert without_row(several_lines, ("run", 0, "device", 2)) == START
    one_line = with_row(START, ("run", 1, "device"), row)
    assert len(tomllib.loads(one_line)["run"][1]["device"]) == 2
    assert without_row(one_line, ("run", 1, "device", 1)) == START
    new = with_row(START, ("load", 0, "when"), {"start": "08:00"})
    assert tomllib.loads(new)["load"][0]["when"] == [{"start": "08:00"}]


def test_removing_a_row_in_the_middle_keeps_the_others():
    raw = tomllib.loads(START)
    for index in range(len(raw["part"])):
        left = tomllib.loads(without_row(START, ("part", index)))["part"]
        assert left == [*raw["part"][:index], *raw["part"][index + 1 :]]


def test_what_cannot_be_changed_alone_is_refused():
    with pytest.raises(FileError, match="change it in the text"):
        with_value('vehicle.system_v = 12\n[job]\nid = "a"\n', ("vehicle",), {"system_v": 24, "x": {"y": 1}})


def leaves(raw, path=()):
    if isinstance(raw, dict):
        for key, value in raw.items():
            yield from leaves(value, (*path, key))
    elif isinstance(raw, list):
        for index, value in enumerate(raw):
            yield from leaves(value, (*path, index))
    else:
        yield path


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(sorted(leaves(tomllib.loads(START)), key=str)),
    st.one_of(
        st.text(st.characters(codec="utf-8"), max_size=30),
        st.booleans(),
        st.floats(allow_nan=False, allow_infinity=False),
    ),
)
def test_any_leaf_takes_any_value_and_nothing_else_moves(path, value):
    text = with_value(START, path, value)
    assert value_at(tomllib.loads(text), path) == value
    assert with_value(text, path, value_at(tomllib.loads(START), path)).count("#") >= START.count("#")
    assert tomllib.loads(f"a = {toml_value(value)}")["a"] == value

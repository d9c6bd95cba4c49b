"""A workshop's own parts: read from TOML and CSV, or refused with every reason at once."""

import dataclasses
import types
import typing

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import JobError, PartNotFound
from ampwright.parts.battery import Battery
from ampwright.parts.catalogue import Catalogue, catalogue_plus, catalogue_with, load_parts, shipped_catalogue
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.consistency import contradictions
from ampwright.parts.csv_tables import tables_from_csv
from ampwright.parts.kinds import KINDS
from ampwright.parts.switchgear import OutputGroup
from ampwright.parts.tables import PartTable, id_text, kinds, parts_from_tables, tables_from_toml
from ampwright.units import unit_suffix

BUS = 'id = "my-bus"\nkind = "bus-bar"\nname = "Bar"\nsource = "sheet 3"\nrating_a = 100\nrated_dc_v = 48\nstud_count = 4\nresistance_ohm = 0.0003\n'
BUS_HEAD = "id,name,source,rating_a,rated_dc_v,stud_count,resistance_ohm"


def own(tmp_path, name, text, base=None):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return catalogue_with(base or Catalogue(parts={}, origin={}), [path])


def complaints(tmp_path, name, text, base=None):
    with pytest.raises(JobError) as caught:
        own(tmp_path, name, text, base)
    assert caught.value.file.endswith(name)
    return [str(problem) for problem in caught.value.problems]


def test_own_part_joins_the_shipped_ones(tmp_path):
    catalogue = own(tmp_path, "own.toml", f"[[part]]\n{BUS}", shipped_catalogue())
    part = catalogue.find("my-bus")
    assert part.rating_a == 100.0
    assert isinstance(part.rating_a, float)
    assert catalogue.origin["my-bus"].endswith("own.toml")
    assert catalogue.origin["lfp-100"] == "shipped with ampwright"
    assert len(catalogue.parts) == len(shipped_catalogue().parts) + 1


def test_find_suggests_the_nearest_id():
    with pytest.raises(PartNotFound, match="did you mean 'lfp-100'"):
        shipped_catalogue().find("lfp-1000")
    with pytest.raises(PartNotFound, match=r"no part 'zzzzzz' in the catalogue$"):
        shipped_catalogue().find("zzzzzz")


def test_of_kind_gives_only_that_record():
    assert {type(part) for part in shipped_catalogue().of_kind(Battery)} == {Battery}


def test_taken_id_needs_overrides(tmp_path):
    text = f"[[part]]\n{BUS}".replace("my-bus", "bus-100")
    (said,) = complaints(tmp_path, "own.toml", text, shipped_catalogue())
    assert said.startswith("line 2: part 'bus-100' > id: this id is taken (shipped with ampwright)")
    catalogue = own(tmp_path, "own.toml", f"overrides = true\n{text}", shipped_catalogue())
    assert catalogue.find("bus-100").source == "sheet 3"
    assert len(catalogue.parts) == len(shipped_catalogue().parts)


def test_taken_id_in_a_sheet_needs_the_column(tmp_path):
    row = "bus-100,Bar,sheet,100,48,4,0"
    (said,) = complaints(tmp_path, "bus-bar.csv", f"{BUS_HEAD}\n{row}\n", shipped_catalogue())
    assert said.startswith("line 2: part 'bus-100' > id: this id is taken")
    catalogue = own(tmp_path, "bus-bar.csv", f"{BUS_HEAD},overrides\n{row},TRUE\n", shipped_catalogue())
    assert catalogue.find("bus-100").source == "sheet"


def test_overrides_never_hides_an_own_part(tmp_path):
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text(f"overrides = true\n[[part]]\n{BUS}", encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_parts([tmp_path / "a.toml", tmp_path / "b.toml"])
    (problem,) = caught.value.problems
    assert "b.toml" in problem.path
    assert "a.toml" in problem.message


def test_catalogue_plus_leaves_the_base_alone():
    base = shipped_catalogue()
    part = base.find("bus-100")
    same, problems = catalogue_plus(base, [part], origin="job")
    assert [problem.path for problem in problems] == ["part 'bus-100' > id"]
    assert same.origin["bus-100"] == "shipped with ampwright"
    other, problems = catalogue_plus(base, [part], origin="job", override_ids={"bus-100"})
    assert (problems, other.origin["bus-100"]) == ([], "job")
    assert base.origin["bus-100"] == "shipped with ampwright"


def test_every_problem_at_once_with_its_line(tmp_path):
    text = """overides = true
[[part]]
id = "my-fuse"
kind = "fuse"
name = "x"
source = "sheet"
family = "iso-8820-3-g"
rating_a = -3
rated_dc_v = nan
breaking_capacity_a = inf
resistence_ohm = 0.1
holder_max_a = "30"
[[part]]
id = "b1"
kind = "batery"
[[part]]
id = "p"
"""
    said = complaints(tmp_path, "own.toml", text)
    expected = [
        "line 1: overides: unknown key 'overides'; did you mean 'overrides'?",
        "line 7: part 'my-fuse' > family: must be one of 'iso-8820-3-c'",
        "line 8: part 'my-fuse' > rating_a: must be more than 0; you gave -3",
        "line 9: part 'my-fuse' > rated_dc_v: must be a finite number; you gave nan",
        "line 10: part 'my-fuse' > breaking_capacity_a: must be a finite number; you gave inf",
        "line 12: part 'my-fuse' > holder_max_a: must be a number in A; you gave the text '30'",
        "line 11: part 'my-fuse' > resistence_ohm: unknown key 'resistence_ohm'; did you mean 'resistance_ohm'?",
        "line 15: part 'b1' > kind: unknown kind 'batery'; did you mean 'battery'? The kinds are: alternator-charger",
        "line 16: part 'p' > kind: missing; give one of: alternator-charger",
    ]
    assert len(said) == len(expected)
    assert [line.startswith(start) for line, start in zip(said, expected, strict=True)] == [True] * len(
        expected
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("my-bus", "My_Bus"), "lower case"),
        (("my-bus", "a" * 61), "at most 60"),
        (('"my-bus"', "3"), "must be a text in quotes"),
        (("stud_count = 4", "stud_count = 4.5"), "must be a whole number"),
        (("rating_a = 100", "rating_a = 2024-01-01"), "must be a number in A"),
        (("rating_a = 100", "rating_a = true"), "must be a number in A"),
        (("rating_a = 100", "rating_a = [1]"), "must be a number in A"),
        (("rating_a = 100", "rating_a = 1e300"), "must be less than"),
        (("rating_a = 100", "rating_a = 100\nrating_a = 200"), "a value already"),
        (
            ("rating_a = 100", "rating_a = 100\nambient_min_degc = 80"),
            "must be at most ambient_max_degc (60)",
        ),
    ],
)
def test_one_wrong_thing_gives_one_problem(tmp_path, change, words):
    text = f"[[part]]\n{BUS}".replace(*change)
    (said,) = complaints(tmp_path, "own.toml", text)
    assert words in said
    assert said.startswith("line ")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("part = 3", "each headed [[part]]"),
        ("[part]\nid = 'x'", "each headed [[part]]"),
        ("part = [3]", "must be a table"),
        ("overrides = 'yes'", "true or false"),
        ("", "holds no part"),
        (f"[[part]]\n{BUS}[[part]]\n{BUS}", "this id stands twice, first in line 2"),
        ("a = " + "[" * 5000, "brackets nested"),
        ("x" * 2_000_001, "larger than 2 MB"),
        (b"a = '\xe4'", "UTF-8"),
        ("a = 1".encode("utf-16"), "UTF-16"),
    ],
)
def test_wrong_files_give_one_problem(tmp_path, text, words):
    (said,) = complaints(tmp_path, "own.toml", text)
    assert words in said


def test_several_files_report_together(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("x = ", encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_parts([tmp_path / "none.toml", tmp_path, bad, tmp_path / "none.csv"])
    words = ("no such file", "directory", "not valid TOML", "no such file")
    assert len(caught.value.problems) == len(words)
    assert all(word in problem.message for word, problem in zip(words, caught.value.problems, strict=True))
    assert all(str(tmp_path) in problem.path for problem in caught.value.problems)


CHARGER = {
    "id": "my-charger", "kind": "alternator-charger", "name": "Charger, 30 A", "source": "sheet; rev 2",
    "input_nominal_v": 12.0, "output_nominal_v": 12.0, "input_start_v": 13.2, "input_stop_v": 12.7,
    "input_max_v": 17.0, "output_max_a": 30.0, "charge_v": 14.4, "charge_v_min_v": 14.0, "charge_v_max_v": 14.8,
    "float_v": 13.5, "efficiency_frac": 0.91, "derate_start_degc": 45.0, "derate_end_degc": 75.0,
    "needs_run_signal": True, "chemistries": ("lfp", "agm"), "mass_kg": 1.25,
}  # fmt: skip


def csv_text(fields, delimiter, *, decimal=".", ends="\n"):
    def cell(value):
        if isinstance(value, bool):
            return "TRUE" if value else "FALSE"
        if isinstance(value, tuple):
            value = ";".join(value)
        text = str(value).replace(".", decimal) if isinstance(value, float) else value
        return f'"{text}"' if delimiter in text or ";" in text else text

    return (
        ends.join(delimiter.join(row) for row in (fields, [cell(value) for value in fields.values()])) + ends
    )


def toml_text(fields):
    def value(item):
        if isinstance(item, tuple):
            return "[" + ", ".join(f'"{each}"' for each in item) + "]"
        return (
            str(item).lower()
            if isinstance(item, bool)
            else (f'"{item}"' if isinstance(item, str) else str(item))
        )

    return "[[part]]\n" + "".join(f"{name} = {value(item)}\n" for name, item in fields.items())


@pytest.mark.parametrize(
    ("delimiter", "decimal", "ends", "mark"),
    [
        (",", ".", "\n", ""),
        (";", ",", "\r\n", "\ufeff"),
        ("\t", ",", "\r\n", ""),
        (";", ".", "\n", "sep=;\n"),
    ],
)
def test_sheet_and_toml_give_the_same_record(tmp_path, delimiter, decimal, ends, mark):
    expected = own(tmp_path, "own.toml", toml_text(CHARGER)).find("my-charger")
    assert expected == AlternatorCharger(**CHARGER)
    text = mark + csv_text(CHARGER, delimiter, decimal=decimal, ends=ends)
    found = own(tmp_path, "own.csv", text).find("my-charger")
    assert found == expected
    assert repr(found) == repr(expected)


def test_file_name_tells_the_kind_and_empty_cells_mean_the_default(tmp_path):
    found = own(
        tmp_path, "bus-bar.csv", f"{BUS_HEAD},mass_kg,ingress_code\nb,Bar,sheet,100,48,4.0,0,,\n\n,,,,,,,,\n"
    )
    part = found.find("b")
    assert (part.mass_kg, part.ingress_code, part.stud_count) == (0.0, "", 4)


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("parts.csv", f"{BUS_HEAD}\nb,n,s,1,1,1,0\n", "unknown kind 'parts'"),
        ("bus-bar.csv", f'{BUS_HEAD}\nb,n,s,"1,5",1,1,0\n', "decimal comma"),
        ("bus-bar.csv", f'{BUS_HEAD}\nb,n,s,"1,500",1,1,0\n', "thousands separator"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1 500,1,1,0\n", "thousands separator"),
        ("bus-bar.csv", f'{BUS_HEAD}\nb,n,s,"1,500.5",1,1,0\n', "thousands separator"),
        ("bus-bar.csv", f"{BUS_HEAD};\nb;n;s;1.500;1;1;0\n".replace(",", ";"), "no header"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1.500.000;1;1;0\n".replace(",", ";"), "thousands separator"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1.500;1;1;0\n".replace(",", ";"), "thousands separator"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,12 V,1,1,0\n", "you gave the text '12 V'"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,nan,1,1,0\n", "finite number; you gave nan"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,-1,1,1,0\n", "more than 0; you gave -1"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1,1,1.5,0\n", "whole number"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1,1,1,0,9\n", "8 cells under 7 headers"),
        (
            "bus-bar.csv",
            f"{BUS_HEAD},mas_kg\nb,n,s,1,1,1,0,\n",
            "unknown header 'mas_kg'; did you mean 'mass_kg'?",
        ),
        ("bus-bar.csv", f"{BUS_HEAD},id\nb,n,s,1,1,1,0,b\n", "stands twice"),
        ("bus-bar.csv", f"{BUS_HEAD},overrides\nb,n,s,1,1,1,0,maybe\n", "must be true or false"),
        ("bus-bar.csv", f"{BUS_HEAD},capacity_ah\nb,n,s,1,1,1,0,3\n", "unknown key 'capacity_ah'"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,n,s,1,1,1,0\nb,n,s,1,1,1,0\n", "stands twice, first in line 2"),
        ("bus-bar.csv", f"{BUS_HEAD}\n", "holds no part"),
        ("bus-bar.csv", "", "holds no part"),
        ("bus-bar.csv", f'{BUS_HEAD}\n"b', "not valid CSV"),
        ("bus-bar.csv", f"{BUS_HEAD}\n{'x' * 200_000}\n", "not valid CSV"),
        ("bus-bar.csv", f"{BUS_HEAD}\nb,\xe4,s,1,1,1,0\n".encode("latin-1"), "UTF-8"),
        ("bus-bar.csv", f"{BUS_HEAD}\n".encode("utf-16"), "UTF-16"),
        ("bus-bar.csv", "x" * 2_000_001, "larger than 2 MB"),
    ],
)
def test_wrong_sheets_are_refused_in_plain_words(tmp_path, name, text, words):
    said = complaints(tmp_path, name, text)
    assert any(words in line for line in said), said
    assert all("Traceback" not in line for line in said)


def test_a_mistake_in_a_cell_is_told_once_with_its_line(tmp_path):
    (said,) = complaints(
        tmp_path, "bus-bar.csv", f'{BUS_HEAD}\n\nb,"two\nlines",s,1,1,1,0\nc,n,s,"1,5",1,1,0\n'
    )
    assert said.startswith("line 5: part 'c' > rating_a: '1,5' has a decimal comma")


def test_output_groups_do_not_fit_a_cell(tmp_path):
    head = "kind,id,name,source,nominal_v,total_max_a,feed_fuse_max_a,outputs"
    (said,) = complaints(tmp_path, "own.csv", f"{head}\noutput-module,m,n,s,12,60,80,1-8\n")
    assert "TOML" in said


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("own.toml", f"[[part]]\n{BUS}" + "".join(f"k{n} = 1\n" for n in range(100_000))),
        ("own.toml", "".join(f"k{n} = 1\n" for n in range(100_000))),
        ("own.toml", "[[part]]\n" * 200_000),
        ("own.toml", f"[[part]]\nkind = 'bus-bar'\nid = '{'x' * 1_900_000}'\n"),
        ("own.toml", f"[[part]]\n{BUS}{'y' * 1_900_000} = 1\n"),
        ("bus-bar.csv", ",".join(f"h{n}" for n in range(200_000)) + "\n1\n"),
        ("bus-bar.csv", f"{BUS_HEAD}\n" + 'b,n,s,"1,5",1,1,0\n' * 90_000),
        ("bus-bar.csv", f"{BUS_HEAD}\n" + ",".join(["x" * 100_000] * 7) + "\n"),
    ],
    ids=range(8),
)
def test_floods_of_mistakes_are_cut_short(tmp_path, name, text):
    said = complaints(tmp_path, name, text)
    assert 1 <= len(said) <= 2 * 201
    assert max(map(len, said)) < 1000


@given(text=st.text(max_size=120), headed=st.booleans())
def test_any_text_as_a_sheet_gives_parts_or_problems(text, headed):
    sheet = tables_from_csv(f"{BUS_HEAD}\n{text}" if headed else text, file_stem="bus-bar")
    _, problems = parts_from_tables(sheet.tables)
    assert all(problem.message for problem in [*sheet.problems, *problems])
    assert sheet.tables or sheet.problems


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=6,
)


@given(
    kind=st.sampled_from(sorted(kinds())), field=st.sampled_from(["outputs", "rating_a", "id"]), value=VALUES
)
def test_any_value_in_a_table_gives_a_part_or_problems(kind, field, value):
    raw = {"kind": kind, "name": "n", "source": "s", field: value}
    parts, problems = parts_from_tables([PartTable(raw=raw, place=("part", 0), line=1)])
    assert (len(parts) == 0) == (len(problems) > 0)
    assert all(problem.line == 1 for problem in problems)


def test_csv_overrides_are_told_by_id():
    sheet = tables_from_csv(
        f"{BUS_HEAD},overrides\nb,n,s,1,1,1,0,true\nc,n,s,1,1,1,0,false\n", file_stem="bus-bar"
    )
    assert sheet.override_ids == {"b"}
    assert [table.line for table in sheet.tables] == [2, 3]


def test_parts_of_a_job_file_are_read_from_their_tables():
    raw = {"id": "b", "kind": "bus-bar", "name": "n", "source": "s", "rating_a": 0}
    text = 'site = "x"\n[[part]]\nid = "b"\nkind = "bus-bar"\nname = "n"\nsource = "s"\nrating_a = 0\n'
    parts, problems = parts_from_tables([PartTable(raw=raw, place=("part", 0))], text=text)
    assert parts == []
    assert str(problems[0]) == "line 7: part 'b' > rating_a: must be more than 0; you gave 0"
    tables, overrides, head = tables_from_toml({"part": [raw]}, text)
    assert (tables, overrides, head) == ([PartTable(raw=raw, place=("part", 0))], False, [])
    assert (id_text(raw), id_text(3)) == ("b", "")


def test_contradictions_of_a_module_and_a_panel():
    catalogue = shipped_catalogue()
    module = dataclasses.replace(
        catalogue.find("out-8"),
        outputs=(OutputGroup(first=1, last=4, max_a=1.0), OutputGroup(first=4, last=6, max_a=1.0)),
    )
    assert list(contradictions(module)) == [("outputs", "channel 4 stands in two groups")]
    module = dataclasses.replace(module, outputs=(OutputGroup(first=4, last=1, max_a=1.0),))
    assert [message for _, message in contradictions(module)] == [
        "first must be at most last (1); you gave 4"
    ]
    assert [name for name, _ in contradictions(dataclasses.replace(module, outputs=()))] == ["outputs"]
    panel = dataclasses.replace(catalogue.find("panel-100"), power_w=120.0)
    assert [name for name, _ in contradictions(panel)] == ["power_w"]
    inverter = dataclasses.replace(catalogue.find("inv-300"), efficiency_30_frac=1.2)
    assert [name for name, _ in contradictions(inverter)] == ["efficiency_30_frac"]


def float_fields(kind):
    hints = typing.get_type_hints(kind)
    for name, hint in hints.items():
        members = typing.get_args(hint) if isinstance(hint, types.UnionType) else (hint,)
        if float in members or int in members:
            yield name


@pytest.mark.parametrize("kind", [*KINDS, OutputGroup], ids=lambda kind: kind.__name__)
def test_every_number_says_its_unit(kind):
    named = set(float_fields(kind)) - {"first", "last"}
    assert named
    assert {name for name in named if unit_suffix(name) is None} == set()


def test_kinds_are_named_by_their_records():
    assert kinds()["battery"] is Battery
    assert len(kinds()) == len(KINDS)


def test_torque_is_for_what_is_tightened():
    catalogue = shipped_catalogue()
    bar = dataclasses.replace(catalogue.find("bus-250"), terminal_nm=12.0)
    assert list(contradictions(bar)) == []
    blade = dataclasses.replace(catalogue.find("fuse-f-5"), terminal_nm=12.0)
    assert list(contradictions(blade)) == [
        ("terminal_nm", "is for studs and clamps; you gave terminal = 'lead'")
    ]

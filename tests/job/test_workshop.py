"""A workshop's own parts and module revisions are named by jobs as shipped ones are."""

import pytest
from job_files import put, starting, toml_text, van

from ampwright import api
from ampwright.errors import FileError, JobError
from ampwright.job.definitions import shipped_definition
from ampwright.job.load import job_from_text
from ampwright.job.workshop import load_workshop

BAR = """[[part]]
id = "workshop-bus-200"
kind = "bus-bar"
name = "Bus bar 200 A"
source = "data sheet, revision 3"
rating_a = 200
rated_dc_v = 48
stud_count = 4
resistance_ohm = 0.00015
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "bar.toml").write_text(BAR, encoding="utf-8")
    return tmp_path


def with_bar():
    raw = starting()
    index = next(at for at, part in enumerate(raw["part"]) if part["id"] == "bar")
    return put(raw, "part", index, "part", "workshop-bus-200")


def module_text(revision, **exchanged):
    from importlib.resources import files  # noqa: PLC0415 - only here

    text = (files("ampwright.job") / "modules" / "touring-12v.toml").read_text(encoding="utf-8")
    text = text.replace('revision = "B"', f'revision = "{revision}"', 1)
    for old, new in exchanged.get("put", ()):
        assert old in text
        text = text.replace(old, new, 1)
    return text


def with_module(revision):
    raw = van()
    raw["module"]["revision"] = revision
    return toml_text(raw)


def test_a_job_names_a_part_of_the_workshop(folder, tmp_path):
    workshop = load_workshop(folder)
    assert workshop.own_ids == {"workshop-bus-200"}
    text = toml_text(with_bar())
    design = api.load_text(text, tmp_path / "job.toml", workshop=workshop).design
    assert next(part for part in design.parts if part.id == "bar").part.rating_a == 200
    with pytest.raises(JobError) as caught:
        api.load_text(text, tmp_path / "job.toml")
    assert "no part 'workshop-bus-200'" in caught.value.problems[0].message


def test_a_job_that_is_wrong_elsewhere_is_not_said_to_name_a_missing_part(folder, tmp_path):
    raw = put(with_bar(), "season", "month", 13)
    with pytest.raises(JobError) as caught:
        job_from_text(toml_text(raw), tmp_path / "job.toml", workshop=load_workshop(folder))
    assert [each.path for each in caught.value.problems] == ["season > month"]


def test_every_problem_of_every_file_is_told_with_its_file(folder):
    (folder / "parts" / "bad.toml").write_text(
        BAR.replace("rating_a = 200", 'rating_a = "much"'), encoding="utf-8"
    )
    with pytest.raises(JobError) as caught:
        load_workshop(folder)
    assert any("bad.toml" in each.path and "rating_a" in each.path for each in caught.value.problems)


def test_a_shipped_id_is_taken_unless_the_file_says_that_it_overrides(folder):
    text = BAR.replace("workshop-bus-200", "bus-100")
    (folder / "parts" / "more.toml").write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_workshop(folder)
    assert "overrides = true" in caught.value.problems[0].message
    (folder / "parts" / "more.toml").write_text(f"overrides = true\n{text}", encoding="utf-8")
    assert load_workshop(folder).own_ids == {"bus-100", "workshop-bus-200"}


def test_each_revision_of_a_module_is_found_beside_the_shipped_one(tmp_path):
    (tmp_path / "modules").mkdir()
    for revision, fuse in (("C", "fuse-t-150"), ("D", "fuse-t-200")):
        text = module_text(revision, put=[("fuse-t-150", fuse)])
        (tmp_path / "modules" / f"touring-12v-{revision}.toml").write_text(text, encoding="utf-8")
    workshop = load_workshop(tmp_path)
    for revision, fuse in (("B", "fuse-t-150"), ("C", "fuse-t-150"), ("D", "fuse-t-200")):
        loaded = api.load_text(with_module(revision), tmp_path / "job.toml", workshop=workshop)
        assert loaded.definition.revision == revision
        assert loaded.definition.run[0].device[0].part == fuse
    with pytest.raises(JobError) as caught:
        api.load_text(with_module("E"), tmp_path / "job.toml", workshop=workshop)
    assert "there are B, C, D" in caught.value.problems[0].message


def test_one_revision_in_two_files_is_refused(tmp_path):
    (tmp_path / "modules").mkdir()
    for name in ("a", "b"):
        (tmp_path / "modules" / f"{name}.toml").write_text(module_text("C"), encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_workshop(tmp_path)
    assert "stands in two files" in caught.value.problems[0].message


def test_a_folder_that_is_not_there_is_refused_and_an_empty_one_is_not(tmp_path):
    with pytest.raises(FileError, match="no such folder"):
        load_workshop(tmp_path / "nowhere")
    assert load_workshop(tmp_path).own_ids == frozenset()


def test_the_shipped_module_is_what_it_was():
    assert shipped_definition("touring-12v").revision == "B"

"""Own parts named by a job."""

import pytest
from job_files import design_of, put, saved, starting

from ampwright.errors import JobError

BAR = """
[[part]]
id = "workshop-bus-200"
kind = "bus-bar"
name = "Bus bar 200 A"
source = "data sheet, revision 3"
rating_a = 200
rated_dc_v = 48
stud_count = 4
resistance_ohm = 0.00015
"""


def job_with(folder, text, name="own.toml"):
    (folder / name).write_text(text, encoding="utf-8")
    raw = put(starting(), "part", 1, "part", "workshop-bus-200")
    return saved(folder, {"parts_files": [name], **raw})


def test_an_own_part_is_used(tmp_path):
    design = design_of(job_with(tmp_path, BAR))
    part = next(part for part in design.parts if part.id == "bar").part
    assert (part.rating_a, part.source) == (200, "data sheet, revision 3")


def test_the_path_is_relative_to_the_job_file(tmp_path, monkeypatch):
    path = job_with(tmp_path, BAR)
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    assert design_of(path).nodes


def test_parts_of_a_spreadsheet_are_used(tmp_path):
    text = "id,name,source,rating_a,rated_dc_v,stud_count,resistance_ohm\nworkshop-bus-200,Bar,sheet,200,48,4,0.00015\n"
    assert design_of(job_with(tmp_path, text, "bus-bar.csv")).nodes


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (BAR.replace("rating_a", "ratng_a"), "did you mean 'rating_a'"),
        (BAR.replace("200\nrated", "-200\nrated"), "must be more than 0"),
        (BAR.replace("workshop-bus-200", "bus-100"), "overrides"),
        (BAR + "= 3", "not valid TOML"),
    ],
)
def test_what_is_wrong_in_a_parts_file_is_told_with_its_line(tmp_path, text, words):
    path = job_with(tmp_path, text)
    with pytest.raises(JobError) as caught:
        design_of(path)
    told = [problem for problem in caught.value.problems if words in problem.message]
    assert told
    assert told[0].line
    assert caught.value.file.endswith("own.toml")


def test_a_lost_parts_file(tmp_path):
    path = job_with(tmp_path, BAR)
    (tmp_path / "own.toml").unlink()
    with pytest.raises(JobError) as caught:
        design_of(path)
    assert "no such file" in caught.value.problems[0].message
    assert caught.value.file.endswith("own.toml")

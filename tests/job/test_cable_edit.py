"""Other cables in the text of a job: only their names change."""

import tomllib

import pytest
from job_files import saved, starting, starting_text, toml_text, toml_value

from ampwright.errors import FileError
from ampwright.job.cable_edit import relative_files, with_cables
from ampwright.job.load import load_job


def test_only_the_names_change_and_comments_stay(tmp_path):
    text = starting_text().replace(
        'cable = "cable-25"\nlength_m = 4.5',
        'cable = "cable-25"   # as "cable-25" is in stock\nback_cable = \'cable-25\'\nlength_m = 4.5',
    )
    edited = with_cables(load_job(saved(tmp_path, text)), {"W2": "cable-16"})
    lines = [(a, b) for a, b in zip(text.split("\n"), edited.split("\n"), strict=True) if a != b]
    assert lines == [
        (
            'cable = "cable-25"   # as "cable-25" is in stock',
            'cable = "cable-16"   # as "cable-25" is in stock',
        ),
        ("back_cable = 'cable-25'", "back_cable = 'cable-16'"),
    ]


def test_runs_on_one_line_each_are_edited_too(tmp_path):
    raw = starting()
    runs = raw.pop("run")
    text = "run = [\n" + ",\n".join(map(toml_value, runs)) + "\n]\n" + toml_text(raw)
    edited = with_cables(load_job(saved(tmp_path, text)), {"W7": "cable-4"})
    cables = {run["id"]: run["cable"] for run in tomllib.loads(edited)["run"]}
    assert cables == {**{run["id"]: run["cable"] for run in runs}, "W7": "cable-4"}


def test_two_runs_on_one_line_are_refused_with_the_line(tmp_path):
    raw = starting()
    text = f"run = {toml_value(raw.pop('run'))}\n" + toml_text(raw)
    with pytest.raises(FileError, match="line 1: cable of run 'W1' cannot be told apart there"):
        with_cables(load_job(saved(tmp_path, text)), {"W1": "cable-16"})


def test_files_named_beside_the_job_are_told():
    raw = {"parts_files": ["a.toml"], "tables": {"current_capacity_file": "b.csv"}, "place": {"site": "x"}}
    assert list(relative_files(raw)) == ["a.toml", "b.csv"]

"""The job's own tables: read beside the job, problems of both files together, names looked up."""

from pathlib import Path

import pytest

from ampwright import api
from ampwright.errors import JobError
from ampwright.job.load import load_job

BASE = Path(__file__).parents[1] / "cases" / "base-12v" / "job.toml"
HEAD = "# document: Book\n# page: 3\n# by: A. Example\n"
CURRENTS = HEAD + "area_mm2,insulation_degc,ambient_degc,conductors_loaded,current_a\n4,90,30,2,40\n"
TIMES = HEAD + "device,current_factor,current_a,shortest_s,longest_s\n"


def _job(folder, *, currents=None, times=None):
    lines = ["[tables]"]
    if currents is not None:
        (folder / "currents.csv").write_text(currents, encoding="utf-8")
        lines.append('current_capacity_file = "currents.csv"')
    if times is not None:
        (folder / "times.csv").write_text(times, encoding="utf-8")
        lines.append('opening_times_file = "times.csv"')
    text = BASE.read_text(encoding="utf-8")
    path = folder / "job.toml"
    path.write_text(text.replace("[job]", "\n".join([*lines, "", "[job]"]), 1), encoding="utf-8")
    return path


def test_both_tables_reach_the_design(tmp_path):
    design = api.load(_job(tmp_path, currents=CURRENTS, times=TIMES + "fuse-t-150,2,,1,15\n")).design
    assert design.tables.capacity is not None
    assert design.tables.capacity.source.document == "Book"
    fuses = {device.part.id: device.part for run in design.runs for device in run.devices}
    assert design.tables.points_of(fuses["fuse-t-150"]) is not None
    assert design.tables.points_of(fuses["fuse-t-100"]) is None


def test_no_tables_leave_the_shipped_ones():
    assert load_job(BASE).tables.capacity is None
    assert load_job(BASE).tables.opening == ()


def test_problems_of_both_files_come_together(tmp_path):
    path = _job(tmp_path, currents=CURRENTS + "4,90,30,2,41\n", times=TIMES + "thermal,2,,,\n")
    with pytest.raises(JobError) as caught:
        load_job(path)
    assert "currents.csv" in caught.value.file
    assert "times.csv" in caught.value.file
    assert [problem.line for problem in caught.value.problems] == [6, 5]


def test_a_file_that_is_not_there(tmp_path):
    path = _job(tmp_path, currents=CURRENTS)
    (tmp_path / "currents.csv").unlink()
    with pytest.raises(JobError, match=r"currents\.csv"):
        load_job(path)


def test_a_device_that_no_catalogue_holds_is_told_at_its_line(tmp_path):
    path = _job(tmp_path, times=TIMES + "fuse-t-15,2,,1,15\n")
    with pytest.raises(JobError) as caught:
        api.load(path)
    (problem,) = caught.value.problems
    assert problem.path == "tables > opening_times_file"
    assert "line 5 names 'fuse-t-15'" in problem.message
    assert "did you mean 'fuse-t-150'" in problem.message
    assert problem.line is not None

"""`ampwright measure` as a user runs it."""

import json

import pytest
from typer.testing import CliRunner

from ampwright.cli.main import app

RUN = CliRunner()


@pytest.fixture
def job(tmp_path):
    target = tmp_path / "job.toml"
    assert RUN.invoke(app, ["new", str(target)]).exit_code == 0
    return target


def test_the_procedure_names_place_reading_and_line(job):
    done = RUN.invoke(app, ["measure", str(job)])
    assert done.exit_code == 0, done.output
    for word in (
        "hot_idle_a = { measured = 0.0",
        "vehicle.alternator.hot_idle_a",
        "Expect:",
        "charger.in",
        "Exhaust",
    ):
        assert word in done.output


def test_json_holds_the_same_steps(job):
    done = RUN.invoke(app, ["measure", str(job), "--json"])
    plan = json.loads(done.output)
    assert plan["job"] == "my-van"
    assert any(step["field"] == "vehicle.alternator.hot_road_a" for step in plan["steps"])


def test_a_bad_job_is_refused(tmp_path):
    target = tmp_path / "bad.toml"
    target.write_text("format = 1\n", encoding="utf-8")
    done = RUN.invoke(app, ["measure", str(target)])
    assert done.exit_code == 2


def test_the_sheet_to_fill_in_is_written(job, tmp_path):
    target = tmp_path / "sheet.pdf"
    done = RUN.invoke(app, ["measure", str(job), "--pdf", str(target)])
    assert done.exit_code == 0, done.output
    assert target.read_bytes().startswith(b"%PDF")
    assert "sheet.pdf" in done.output.replace("\n", "")


def test_a_name_that_is_no_pdf_is_refused(job, tmp_path):
    done = RUN.invoke(app, ["measure", str(job), "--pdf", str(tmp_path / "sheet.txt")])
    assert done.exit_code == 2
    assert ".pdf" in done.output

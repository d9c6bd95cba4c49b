"""`ampwright cables` as a user runs it."""

import json
import re

import pytest
from job_files import saved, starting_text
from small_jobs import two_loads_on_a_feed
from typer.testing import CliRunner

from ampwright.cli.main import app
from ampwright.job.load import load_job

RUN = CliRunner()


@pytest.fixture
def job(tmp_path):
    return saved(tmp_path, two_loads_on_a_feed(min_v=11.35))


def test_the_screen_has_80_columns_and_says_what_binds(job):
    done = RUN.invoke(app, ["cables", str(job)])
    assert done.exit_code == 4, done.output
    assert max(map(len, done.stdout.split("\n"))) <= 80
    assert re.search(r"^W1 +cable-6 +cable-4 +3\.00 +2\.12 ", done.stdout, re.MULTILINE)
    assert "not cable-2-5: lowest-voltage of lights" in done.stdout
    assert "Proved the cheapest" in done.stdout
    assert "A wrong cable can burn" in done.stdout


def test_json_says_the_same(job):
    done = RUN.invoke(app, ["cables", str(job), "--by", "mass", "--json"])
    said = json.loads(done.stdout)
    assert (said["by"], said["proof"], said["worse"]) == ("mass", "least", [])
    assert [run["new_cable"] for run in said["runs"]] == ["cable-4", "cable-4", "cable-2-5"]
    assert said["new_mass_kg"] < said["old_mass_kg"]
    assert said["wiring_after"] == "not fully checked"


def test_the_edited_job_is_written_beside_and_has_the_cables(tmp_path):
    job = saved(tmp_path, starting_text())
    target = tmp_path / "cheap.toml"
    done = RUN.invoke(app, ["cables", str(job), "--write", str(target)])
    assert f"Wrote {target}".replace("\n", "") in done.stdout.replace("\n", "")
    assert job.read_text(encoding="utf-8") == starting_text()
    written = target.read_text(encoding="utf-8")
    assert written.count("#") == starting_text().count("#")
    said = json.loads(RUN.invoke(app, ["cables", str(job), "--json"]).stdout)
    assert {run.id: run.cable for run in load_job(target).job.run} == {
        run["run"]: run["new_cable"] for run in said["runs"]
    }
    again = json.loads(RUN.invoke(app, ["cables", str(target), "--json"]).stdout)
    assert again["new_price_eur"] == pytest.approx(said["new_price_eur"])


def test_no_file_is_written_over(job):
    text = job.read_text(encoding="utf-8")
    done = RUN.invoke(app, ["cables", str(job), "--write", str(job)])
    assert done.exit_code == 2
    assert "exists already" in done.stderr
    assert job.read_text(encoding="utf-8") == text


def test_a_job_with_files_beside_it_stays_in_its_folder(tmp_path):
    (tmp_path / "own.toml").write_text("", encoding="utf-8")
    job = saved(tmp_path, {"parts_files": ["own.toml"], **two_loads_on_a_feed()})
    (tmp_path / "other").mkdir()
    done = RUN.invoke(app, ["cables", str(job), "--write", str(tmp_path / "other" / "new.toml")])
    assert done.exit_code == 2
    assert "own.toml" in done.stderr


def test_a_bad_job_is_refused(tmp_path):
    done = RUN.invoke(app, ["cables", str(saved(tmp_path, "format = 1\n"))])
    assert done.exit_code == 2
    assert not done.stdout

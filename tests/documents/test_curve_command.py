import os
from importlib.resources import as_file, files

import pytest
from typer.testing import CliRunner

from ampwright.cli.main import app

RUN = CliRunner()


@pytest.fixture
def job(tmp_path):
    with as_file(files("ampwright") / "examples" / "vaccine-outreach.toml") as path:
        target = tmp_path / "job.toml"
        target.write_bytes(path.read_bytes())
    return target


def test_curves_writes_a_pdf(job, tmp_path):
    target = tmp_path / "curves.pdf"
    result = RUN.invoke(app, ["curves", str(job), "--to", str(target)])
    assert result.exit_code == 0, result.output
    assert str(target) in result.output.replace("\n", "")
    assert target.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(("name", "word"), [("curves.txt", ".pdf"), ("nowhere/curves.pdf", "folder")])
def test_curves_refuses_a_place_that_cannot_be(job, tmp_path, name, word):
    result = RUN.invoke(app, ["curves", str(job), "--to", str(tmp_path / name)])
    assert result.exit_code == 2
    assert word in result.output


def test_curves_reports_a_bad_job(job, tmp_path):
    job.write_text("format = 1\n", encoding="utf-8")
    result = RUN.invoke(app, ["curves", str(job), "--to", str(tmp_path / "curves.pdf")])
    assert result.exit_code == 2
    assert "problem" in result.output


def test_curves_reports_a_file_that_cannot_be_written(job, tmp_path):
    target = tmp_path / "curves.pdf"
    os.mkdir(target)  # noqa: PTH102 - a folder where the file should be
    result = RUN.invoke(app, ["curves", str(job), "--to", str(target)])
    assert result.exit_code == 2
    assert "cannot be written" in result.output

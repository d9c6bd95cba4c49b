"""`ampwright channels` as a user runs it, on a shipped example whose lamps sit on a channel that cannot dim."""

import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from ampwright.cli.main import app
from ampwright.job.load import load_job

RUN = CliRunner()
MORE = """
[[load]]
id = "roof-lamp"
name = "Roof lamp"
power_w = 30
dimmed_frac = 0.5

[[load]]
id = "winch"
name = "Winch"
power_w = 900
"""


@pytest.fixture
def job(tmp_path):
    text = files("ampwright.examples").joinpath("night-survey-van.toml").read_text(encoding="utf-8")
    text = text.replace('"pm.outputs.9"', '"pm.outputs.1"').replace(
        'module = "pm.outputs"\nnumber = 9\n', 'module = "pm.outputs"\nnumber = 1\n'
    )
    path = tmp_path / "van.toml"
    path.write_text(text + MORE, encoding="utf-8")
    return path


def test_the_screen_has_80_columns_and_says_what_lacks(job):
    done = RUN.invoke(app, ["channels", str(job)])
    assert done.exit_code == 1, done.output
    assert max(map(len, done.stdout.split("\n"))) <= 80
    assert "NO CHANNEL for Winch: it asks for 88.2 A" in done.stdout  # 900 W at 0.85 of 12 V
    assert "stays on" in done.stdout


def test_json_says_the_same(job):
    said = json.loads(RUN.invoke(app, ["channels", str(job), "--json"]).stdout)
    by_name = {one["name"]: one for one in said["circuits"]}
    assert by_name["White lamps"]["is_moved"]
    assert not by_name["Fridge"]["is_moved"]
    assert (by_name["Winch"]["channel"], by_name["Winch"]["lack"]) == (None, "current")
    assert not by_name["Roof lamp"]["is_wired"]
    chosen = {one["channel"] for one in said["circuits"] if one["is_dimmed"]}
    assert chosen <= {f"pm.outputs.{number}" for number in range(5, 13)}  # the dimming channels of the part


def test_the_written_job_has_nothing_left_to_move(job, tmp_path):
    target = tmp_path / "better.toml"
    done = RUN.invoke(app, ["channels", str(job), "--write", str(target)])
    assert "Now run: ampwright check" in done.stdout.replace("\n", " ")
    before, after = load_job(job).job, load_job(target).job
    assert after.channel != before.channel
    old, new = ({name for each in one.button for name in each.channels} for one in (before, after))
    assert "pm.outputs.1" in old
    assert "pm.outputs.1" not in new  # buttons follow their channels
    said = json.loads(RUN.invoke(app, ["channels", str(target), "--json"]).stdout)
    assert not any(one["is_moved"] for one in said["circuits"])


def test_channels_are_kept_free_on_request(job):
    said = json.loads(RUN.invoke(app, ["channels", str(job), "--spare", "8", "--json"]).stdout)
    assert len(said["modules"][0]["free"]) == 8


def test_a_job_without_output_module_says_so(tmp_path):
    text = files("ampwright.examples").joinpath("vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path / "none.toml"
    path.write_text(text, encoding="utf-8")
    done = RUN.invoke(app, ["channels", str(path)])
    assert done.exit_code == 0
    assert "no output module" in done.stdout


def test_no_file_is_written_over(job):
    text = job.read_text(encoding="utf-8")
    done = RUN.invoke(app, ["channels", str(job), "--write", str(job)])
    assert done.exit_code == 2
    assert job.read_text(encoding="utf-8") == text

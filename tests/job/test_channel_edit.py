"""Channels exchanged in the text of a job: all that names them, nothing else."""

import tomllib

import pytest
from job_files import saved, starting_text

from ampwright.job.channel_edit import with_channels
from ampwright.job.load import load_job

JOB = """
# the lamps
[[run]]
id = "W1"
start = "box.1" # white
end = "lamps"
cable = "cable-4"
length_m = 2

[[run]]
id = "W2"
start = "pump"
end = "box.2"
cable = "cable-4"
length_m = 2

[[channel]]
module = "box"
number = 1
name = "Lamps"

[[channel]]
module = "box"
number = 2
name = "Pump at box.1"
"""


@pytest.fixture
def loaded(tmp_path):
    return load_job(saved(tmp_path, starting_text() + JOB))


def test_two_channels_change_places(loaded):
    text = with_channels(loaded, {"box.1": "box.2", "box.2": "box.1"})
    raw = tomllib.loads(text)
    ends = {run["id"]: (run["start"], run["end"]) for run in raw["run"]}
    assert (ends["W1"], ends["W2"]) == (("box.2", "lamps"), ("pump", "box.1"))
    assert [(one["number"], one["name"]) for one in raw["channel"]] == [(2, "Lamps"), (1, "Pump at box.1")]
    assert 'start = "box.2" # white' in text
    assert "# the lamps" in text


def test_to_another_module(loaded):
    raw = tomllib.loads(with_channels(loaded, {"box.2": "pm.out.9"}))
    assert raw["channel"][1]["module"] == "pm.out"
    assert raw["channel"][1]["number"] == 9
    assert raw["run"][-1]["end"] == "pm.out.9"


def test_nothing_moves_nothing_changes(loaded):
    assert with_channels(loaded, {}) == loaded.text

"""A part is put for another wherever a job names one to be built in, and nowhere else."""

import tomllib

import pytest
from job_files import example_text, starting_text

from ampwright.errors import FileError
from ampwright.job.substitute import part_places, place_words, with_other_part


def test_every_place_of_a_cable_is_found_and_said():
    raw = tomllib.loads(starting_text())
    places = part_places(raw, "cable-25")
    named = [index for index, run in enumerate(raw["run"]) if run["cable"] == "cable-25"]
    bonds = [index for index, bond in enumerate(raw["bond"]) if bond["cable"] == "cable-25"]
    assert places == (
        *(("run", each, "cable") for each in named),
        *(("bond", each, "cable") for each in bonds),
    )
    assert len(places) >= 2
    assert place_words(raw, places[0]) == f"run '{raw['run'][named[0]]['id']}' cable"


def test_devices_and_plugs_are_found_in_their_runs():
    raw = {
        "run": [{"id": "W1", "cable": "c", "device": [{"id": "F1", "part": "f"}], "plugs": ["p", "p"]}],
        "part": [{"id": "bank", "part": "b", "string_device": "f"}],
        "bond": [{"at": "bar", "cable": "c"}],
    }
    assert part_places(raw, "f") == (("part", 0, "string_device"), ("run", 0, "device", 0, "part"))
    assert part_places(raw, "p") == (("run", 0, "plugs", 0), ("run", 0, "plugs", 1))
    assert part_places(raw, "c") == (("run", 0, "cable"), ("bond", 0, "cable"))
    assert place_words(raw, ("run", 0, "device", 0, "part")) == "run 'W1' device 'F1' part"


def test_what_speaks_of_a_part_without_building_it_in_stays():
    raw = {
        "setting": [{"part": "x"}],
        "quote": {"price": [{"part": "x"}]},
        "mains": {"certificate": {"inverter": "x"}},
        "plate": [{"part": [{"part": "x"}]}],
    }
    assert part_places(raw, "x") == ()


@pytest.mark.parametrize("name", ["bicycle-repair-truck", "night-survey-van", "vaccine-outreach"])
def test_only_the_names_change_and_every_comment_stays(name):
    text = example_text(name)
    raw = tomllib.loads(text)
    old = raw["run"][0]["cable"]
    changed = with_other_part(text, old, "cable-0")
    assert changed.replace('"cable-0"', f'"{old}"') == text
    assert part_places(tomllib.loads(changed), old) == ()
    assert len(part_places(tomllib.loads(changed), "cable-0")) == len(part_places(raw, old))


def test_a_part_that_is_not_named_is_refused():
    with pytest.raises(FileError, match="names no part 'nothing'"):
        with_other_part(starting_text(), "nothing", "bus-100")

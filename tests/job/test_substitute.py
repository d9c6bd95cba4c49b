"""A part is put for another wherever a job names one to be built in, and nowhere else."""

import tomllib
from dataclasses import is_dataclass
from typing import get_args

import pytest
from job_files import EXAMPLES, example_text, starting_text

from ampwright.errors import FileError
from ampwright.field_types import field_hints, field_meanings, options
from ampwright.job.module import ModuleDefinition
from ampwright.job.records import Job
from ampwright.job.substitute import ANY, PLACES, part_places, place_words, with_other_part


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


STAYS = {
    ("mains", "certificate", "inverter"),
    ("mains", "certificate", "inlet"),
    ("quote", "price", ANY, "part"),
}
"""What says something of the very part, not what is built in."""


def named_places(kind, path=()):
    """Yield the paths of a record's fields that say of themselves that they hold the id of a part."""
    hints, meanings = field_hints(kind), field_meanings(kind)
    for name, hint in hints.items():
        is_list = any(getattr(each, "__origin__", None) is tuple for each in options(hint))
        place = (*path, name, ANY) if is_list else (*path, name)
        if meanings[name].startswith("Catalogue id"):
            yield place
        for each in options(hint):
            for inner in (each, *(one for item in get_args(each) for one in options(item))):
                if is_dataclass(inner) and isinstance(inner, type):
                    yield from named_places(inner, place)


@pytest.mark.parametrize(
    ("kind", "left_out"), [(Job, {"option"}), (ModuleDefinition, {"module", "load", "bond"})]
)
def test_no_field_that_holds_the_id_of_a_part_is_forgotten(kind, left_out):
    known = {place for place in PLACES if place[0] not in left_out}
    assert set(named_places(kind)) - STAYS == known


def test_what_speaks_of_a_part_without_building_it_in_stays():
    raw = {
        "setting": [{"part": "x"}],
        "quote": {"price": [{"part": "x"}]},
        "mains": {"certificate": {"inverter": "x"}},
        "plate": [{"part": [{"part": "x"}]}],
    }
    assert part_places(raw, "x") == ()


@pytest.mark.parametrize("name", EXAMPLES)
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

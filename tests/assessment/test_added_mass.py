"""Mass, centre of gravity and axle loads by the lever law."""

from __future__ import annotations

import pytest
from base_jobs import base, design

from ampwright.assessment.added_mass import added_mass, lumps, mass_line, mass_sentence


def test_base_job_by_hand():
    """Summed by hand from part masses, lengths × kg/m × 2 and devices; lever law with w = 3300 mm."""
    found = added_mass(base("base-12v").design)
    assert found.added_kg == pytest.approx(69.2086)
    assert found.front_kg == pytest.approx(1246.568, abs=0.001)
    assert found.rear_kg == pytest.approx(1122.641, abs=0.001)
    assert found.gross_kg == pytest.approx(2369.209, abs=0.001)


def test_axles_carry_everything_and_the_centre_agrees():
    found = base("base-module").mass
    assert found.front_kg + found.rear_kg == pytest.approx(found.gross_kg)
    each = lumps(base("base-module").design)
    moment = sum(lump.mass_kg * lump.from_front_axle_mm for lump in each)
    assert found.centre_from_front_axle_mm == pytest.approx(moment / found.added_kg)


def test_module_counts_once_with_its_own_mass():
    each = {lump.id: lump.mass_kg for lump in lumps(base("base-module").design)}
    assert each["pm"] == 29.0
    assert not any(name.startswith("pm.") for name in each)


def test_a_mass_over_the_rear_axle_leaves_the_front_one_alone():
    before = added_mass(design())
    change = {"vehicle/mass/carried": [{"what": "crate", "mass_kg": 100, "from_front_axle_mm": 3300}]}
    none = added_mass(design(change={"vehicle/mass/carried": []}))
    after = added_mass(design(change=change))
    assert after.front_kg == pytest.approx(none.front_kg)
    assert after.rear_kg == pytest.approx(none.rear_kg + 100.0)
    assert before.added_kg == after.added_kg


def test_what_the_vehicle_had_and_what_the_trailer_carries_is_left_out():
    all_of_it = added_mass(design()).added_kg
    assert added_mass(design(change={"part/battery/owner": "vehicle"})).added_kg == pytest.approx(
        all_of_it - 22.5
    )
    assert added_mass(design(change={"part/battery/part_of": "trailer"})).added_kg == pytest.approx(
        all_of_it - 22.5
    )


def test_an_unsaid_place_is_named_and_leaves_the_axles_open():
    given = design(remove=["zone/floor/from_front_axle_mm"])
    found = added_mass(given)
    assert found.without_place == ("floor", "bench")
    assert (found.front_kg, found.rear_kg, found.centre_from_front_axle_mm) == (None, None, None)
    assert found.gross_kg == pytest.approx(2369.209, abs=0.001)
    assert mass_sentence(given, found).startswith("adds 69 kg")


def test_sentence_gives_axles_with_their_limits():
    found = base("base-12v")
    assert mass_sentence(found.design, found.mass) == (
        "adds 69 kg; centre 2,510 mm behind the front axle; 1,105 mm above the ground; "
        "front axle 1,247 kg of 1,750 kg; rear axle 1,123 kg of 1,850 kg"
    )


def test_short_line_names_the_axle_nearest_to_its_limit():
    """1247/1750 = 71 % in front, 1123/1850 = 61 % at the rear."""
    found = base("base-12v")
    assert mass_line(found.design, found.mass) == "adds 69 kg; front axle 1,247 kg of 1,750 kg"
    bare = design(remove=["vehicle/mass"])
    assert mass_line(bare, added_mass(bare)) == "adds 69 kg"

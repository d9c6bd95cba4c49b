import dataclasses

import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.installation.installation import installation_pack


def sections(name):
    return {section.title: section for section in installation_pack(material(name)).sections}


def position(steps, word):
    return next(number for number, step in enumerate(steps) if word in step)


def test_battery_fuse_is_the_last_in_after_the_readings():
    steps = sections("base-12v")["Order of work"].steps
    assert position(steps, "Take the readings") < position(steps, "put in F1")
    assert position(steps, "put in F1") < position(steps, "put in F2")
    assert position(steps, "put in F2") < position(steps, "Panels last")


def test_module_is_joined_by_its_isolator_and_stays_closed():
    found = sections("base-module")
    assert "pm.S1 is closed last and opened first" in found["Order of work"].text[0]
    assert "work ends at its ports" in found["Do not open"].notes[0]
    assert not any("pm.F1" in step or "plus lead" in step for step in found["Order of work"].steps)


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_readings_have_limits_and_go_or_stop(name):
    (title,) = [title for title in sections(name) if title.startswith("Readings before")]
    rows = sections(name)[title].table.rows
    assert len(rows) >= 6
    for row in rows:
        assert all(row[:5]), row
        assert row[-3:] == ("____", "[ ]", "[ ]")


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_hold_points_say_go_and_stop(name):
    rows = sections(name)["Hold points"].table.rows
    assert [row[0] for row in rows] == list("ABCDE")
    assert all(row[2] and row[3] for row in rows)


def test_every_cable_outside_the_module_is_listed_with_its_device():
    rows = {row[0]: row for row in sections("night-survey-van")["Cables: routes and joints"].table.rows}
    assert set(rows) == {"W10", "W11", "W12", "W13", "W14", "W15", "W16", "W17"}
    assert rows["W10"][5].startswith("F10: fuse 100 A")
    assert rows["W12"][5] == "none: limited by pm.outputs.5, 10 A"
    assert "underfloor" in rows["W10"][4]


def test_torque_is_the_part_s_or_its_manual_s():
    found = material("base-12v")
    rows = sections("base-12v")["Cables: routes and joints"].table.rows
    assert "10\u00a0N·m" in rows[0][1]
    design = found.design
    parts = tuple(
        dataclasses.replace(placed, part=dataclasses.replace(placed.part, terminal_nm=0.0))
        if placed.id == "battery"
        else placed
        for placed in design.parts
    )
    silent = dataclasses.replace(
        found.answer,
        assessment=dataclasses.replace(found.found, design=dataclasses.replace(design, parts=parts)),
    )
    pack = installation_pack(dataclasses.replace(found, answer=silent))
    cables = next(section for section in pack.sections if section.title.startswith("Cables"))
    assert "torque: see its manual" in cables.table.rows[0][1]


def test_mains_belongs_to_the_electrician():
    owners = sections("base-mains")["What belongs to whom"].table.rows
    assert any("nobody else" in whose and "mains voltage" in what for whose, what in owners)
    assert sections("base-mains")["What can hurt"].cautions

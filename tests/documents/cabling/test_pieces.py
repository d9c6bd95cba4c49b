import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials import BASES, EXAMPLES, material

from ampwright.documents.cabling.fittings import fitting_counts, fitting_text, sleeve_counts, torque_text
from ampwright.documents.cabling.pieces import cabling_figures, cut_length_m, pieces
from ampwright.documents.words.words import english
from ampwright.job.cabling import Cabling


def design_of(name, **cabling):
    design = material(name).design
    job = dataclasses.replace(design.job, cabling=Cabling(**cabling))
    return dataclasses.replace(design, job=job)


def by_id(design):
    return {piece.id: piece for piece in pieces(design)}


def test_run_is_cut_at_its_devices():
    found = by_id(design_of("bicycle-repair-truck"))
    lengths = [found[f"W1.{n}+"].length_m for n in (1, 2, 3)]
    assert lengths == pytest.approx([0.12, 0.18, 0.10])
    assert found["W1\u2212"].length_m == pytest.approx(0.4)
    assert [found["W1.1+"].end.place, found["W1.2+"].start.place] == ["F1 (battery)", "F1 (S1)"]


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_lengths_of_a_run_add_up_to_it(name):
    design = design_of(name)
    for run in design.runs:
        for pole, length_m in (("plus", run.length_m), ("minus", run.back_length_m)):
            parts = [p for p in pieces(design) if p.run == run.id and p.pole == pole]
            if parts:
                assert math.fsum(p.length_m for p in parts) == pytest.approx(length_m, abs=0.006)


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_labels_are_told_apart(name):
    labels = [piece.id for piece in pieces(design_of(name))]
    assert len(labels) == len(set(labels))


def test_cut_length_by_hand():
    figures = cabling_figures(design_of("base-12v"))
    # 2 m x 1.05 + 2 x 0.05 m = 2.20 m; 0.06 m x 1.05 + 0.10 m = 0.163 m, up to 0.20 m
    assert [cut_length_m(length, figures) for length in (2.0, 0.06)] == [2.2, 0.2]


@given(st.floats(0.01, 60.0))
def test_cut_is_never_shorter_than_the_way(length_m):
    figures = cabling_figures(design_of("base-12v"))
    cut_m = cut_length_m(length_m, figures)
    assert length_m + 0.1 <= cut_m <= 1.05 * length_m + 0.151


def test_job_changes_colours_and_slack():
    design = design_of("base-12v", negative_colour="yellow", slack_end_m=0.0, slack_frac=0.0)
    found = pieces(design)
    assert {p.colour for p in found if p.pole == "minus"} == {"yellow"}
    assert {p.colour for p in found if p.pole == "plus"} == {"red"}
    assert all(p.cut_m - p.length_m < 0.0501 for p in found if p.length_m is not None)


def test_bond_is_measured_on_the_vehicle():
    bond = by_id(design_of("bicycle-repair-truck"))["B1"]
    assert (bond.length_m, bond.cut_m, bond.colour) == (None, None, "green")


def test_negative_has_no_terminal_at_a_shunt():
    piece = by_id(design_of("bicycle-repair-truck"))["W1\u2212"]
    assert piece.end.form == "through"
    assert dict(fitting_counts([piece], english())) == {"lug 70\u00a0mm², hole M8": 1}


def test_port_is_named_instead_of_what_lies_behind_it():
    piece = by_id(design_of("night-survey-van"))["W10\u2212"]
    assert piece.end.place == "pm.starter-feed"


def test_torque_is_the_parts_or_its_manuals():
    found = by_id(design_of("bicycle-repair-truck"))
    texts = [torque_text(terminal, english()) for terminal in (found["W1.1+"].start, found["W1.3+"].end)]
    assert texts == ["10\u00a0N·m", "see its manual"]


def test_us_torque_has_pound_feet_beside_it():
    terminal = by_id(design_of("bicycle-repair-truck"))["W1.1+"].start
    # 10 N·m / (0.45359237 kg x 9.80665 m/s2 x 0.3048 m) = 7.376 lbf·ft
    assert torque_text(terminal, english(), units="us").endswith("(7.38\u00a0lbf·ft)")


def test_no_usual_lug_is_said():
    piece = by_id(design_of("bicycle-repair-truck"))["W1.1+"]
    small = dataclasses.replace(piece.start, stud_mm=5.0)
    assert fitting_text(small, piece.cable, english()).startswith("no usual lug")


def test_sleeves_are_counted_for_lugs_and_joints_only():
    found = by_id(design_of("bicycle-repair-truck"))
    # W6: a joint at the panel, a ferrule at its controller
    assert [count for _, _, count in sleeve_counts([found["W6+"]])] == [1]


def test_run_through_metal_has_no_negative():
    design = design_of("base-12v")
    runs = tuple(dataclasses.replace(run, back_cable=None, back_length_m=0.0) for run in design.runs)
    found = pieces(dataclasses.replace(design, runs=runs))
    assert {piece.pole for piece in found} <= {"plus", "metal"}


def test_cable_of_two_cores_is_cut_once():
    design = design_of("base-12v")
    cable = dataclasses.replace(design.runs[0].cable, core_count=2)
    runs = (dataclasses.replace(design.runs[0], cable=cable, back_cable=cable),)
    found = [p for p in pieces(dataclasses.replace(design, runs=runs)) if p.run]
    assert {piece.pole for piece in found} == {"both"}
    ends = sum(count for _, count in fitting_counts(found, english()))
    assert ends == 2 * 2 * len(found)


def test_device_on_the_terminal_itself_leaves_no_length():
    design = design_of("bicycle-repair-truck")
    run = next(run for run in design.runs if len(run.devices) == 1)
    device = dataclasses.replace(run.devices[0], distance_m=0.0)
    changed = tuple(
        dataclasses.replace(each, devices=(device,)) if each.id == run.id else each for each in design.runs
    )
    found = [
        p for p in pieces(dataclasses.replace(design, runs=changed)) if p.run == run.id and p.pole == "plus"
    ]
    assert [piece.id for piece in found] == [f"{run.id}+"]
    assert found[0].start.place.startswith(f"{device.id} (")


def test_torque_of_a_modules_feed_is_not_that_of_its_channels():
    design = design_of("bicycle-repair-truck")
    parts = tuple(
        dataclasses.replace(
            p, part=dataclasses.replace(p.part, terminal="clamp", stud_mm=0.0, terminal_nm=4.0)
        )
        if p.id == "outputs"
        else p
        for p in design.parts
    )
    found = {piece.id: piece for piece in pieces(dataclasses.replace(design, parts=parts))}
    assert (found["W8.2+"].end.torque_nm, found["W9+"].start.torque_nm) == (4.0, 0.0)

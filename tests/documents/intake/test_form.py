"""The form: every field of the story is asked, in the reader's language, and the file needs nothing else."""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Literal, get_args, get_origin

import pytest

from ampwright.climate.sources import shipped_sites
from ampwright.documents.intake.form import fitting_questions, intake_form
from ampwright.documents.intake.questions import APPLIANCE_QUESTIONS, STEPS, bounds
from ampwright.documents.words.words import load_words
from ampwright.field_types import field_hints
from ampwright.job.intake.story import (
    APPLIANCE_KINDS,
    Story,
    StoryAppliance,
    StoryStay,
    StoryTrip,
    StoryVehicle,
)
from ampwright.job.intake.usual import usual_appliances, usual_vehicles


def asked(kind):
    return {question.field for step in STEPS if step.kind is kind for question in step.questions}


def test_every_field_of_the_story_is_asked():
    for kind in (StoryVehicle, StoryStay, StoryTrip):
        assert asked(kind) == {field.name for field in fields(kind)}, kind
    assert asked(StoryAppliance) == {field.name for field in fields(StoryAppliance)} - {"kind"}
    own = {"form", "language", "vehicle", "appliance", "stay", "trip"}
    assert asked(Story) == {field.name for field in fields(Story)} - own


def literals(hint):
    return {
        str(value)
        for part in (hint, *get_args(hint))
        if get_origin(part) is Literal
        for value in get_args(part)
    }


def test_the_choices_are_those_of_the_record():
    compared = 0
    for step in STEPS:
        for question in step.questions:
            wanted = literals(field_hints(step.kind)[question.field])
            if wanted:
                assert {value for value, _ in question.options} == wanted, question.field
                compared += 1
    assert compared == 6
    assert [value for value, _ in STEPS[0].questions[0].options] == list(usual_vehicles())


def test_bounds_come_from_the_records():
    assert bounds(StoryAppliance, "use_minutes") == (0.1, 240)
    assert bounds(StoryTrip, "hook_up") is None


def test_an_appliance_is_asked_what_fits_it():
    kettle = {each.field for each in fitting_questions(APPLIANCE_QUESTIONS, usual_appliances()["kettle"])}
    assert {"uses", "use_minutes", "power_w"} <= kettle
    assert "day_h" not in kettle
    fridge = {each.field for each in fitting_questions(APPLIANCE_QUESTIONS, usual_appliances()["fridge"])}
    assert fridge == {"count", "is_essential", "name"}


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_file_is_whole_and_names_every_appliance_and_place(language):
    page = intake_form(load_words(language))
    assert f'<html lang="{language}">' in page
    assert page.count('data-tick="') == len(APPLIANCE_KINDS)
    assert all(f'value="{site}"' in page for site in shipped_sites())
    without_script = page.partition("<script>")[0]
    assert not re.findall(r"https?://|src=|@import|url\(", without_script)
    assert len(page.encode()) < 200_000
    assert ("Was fahren Sie?" in page) == (language == "de")

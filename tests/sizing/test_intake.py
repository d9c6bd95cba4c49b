"""First jobs: parts grow from the smallest for as long as the rules ask for it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from ampwright import api
from ampwright.findings import Group
from ampwright.job.intake.story import Story, StoryAppliance, StoryStay, StoryTrip, StoryVehicle
from ampwright.job.intake.write import starting_text
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.changes import troubles
from ampwright.sizing.sureness import SURE_FRAC

ON = dt.date(2026, 6, 1)
APPLIANCE = StoryAppliance


def told(kind="medium-van", *appliances, site="potsdam-de", month=7, panel_count=2, **trip):
    return Story(
        vehicle=StoryVehicle(kind=kind, panel_count=panel_count),
        appliance=tuple(APPLIANCE(kind=each) for each in appliances),
        stay=StoryStay(site=site, month=month),
        trip=StoryTrip(**trip),
    )


def assessed(text):
    loaded = api.load_text(text, Path("first.toml"))
    bench = api.bench_of(loaded)
    return loaded.source.job, bench.assessed_design(bench.design)


def capacity_ah(text):
    job, found = assessed(text)
    return found.design.battery_part().capacity_ah * job.part[0].strings


STORIES = {
    "camping": told("medium-van", "fridge", "lights", "phone", "laptop"),
    "kettle": told("large-van", "fridge-box", "kettle", drive_h=3, still_days=1),
    "truck": told("truck", "fridge", "tool-charger", "work-light", site="dalby-airport-au", drive_h=2),
    "trailer": told("trailer", "lights", "water-pump", hook_up="every-night"),
    "american": told("off-road", "fridge-box", "power-tool", site="boulder-broomfield-us", month=5),
    "post": told("off-road", "vaccine-fridge", site="addis-ababa-et", trip_days=15, still_days=11, drive_h=4),
}


@pytest.mark.parametrize("name", STORIES)
def test_a_first_job_loads_and_is_assessed_and_no_worse_than_its_beginning(name):
    story = STORIES[name]
    job, found = assessed(api.first_job(story, on=ON))
    _, before = assessed(starting_text(story, on=ON, catalogue=shipped_catalogue()))
    failed = {(each.rule, each.subject) for each in troubles(found) if each.is_failure}
    assert failed <= {(each.rule, each.subject) for each in troubles(before) if each.is_failure}
    assert [each for each in troubles(found) if each.is_failure and each.group == Group.WIRING] == []
    assert len(job.load) == len(story.appliance)


@pytest.mark.parametrize("name", ["camping", "post"])
def test_a_first_job_holds_in_enough_runs_of_weather_and_doubt(name):
    answer = api.answer(api.load_text(api.first_job(STORIES[name], on=ON), Path("first.toml")))
    assert answer.chance.run_count == 50
    assert answer.chance.held_count >= SURE_FRAC * answer.chance.run_count
    assert answer.use_verdict != "does not suit"


def test_what_runs_longer_gets_a_larger_battery_and_the_same_story_the_same_job():
    small = api.first_job(told("medium-van", "phone"), on=ON)
    large = api.first_job(told("medium-van", "fridge", "freezer", "laptop"), on=ON)
    assert capacity_ah(small) < capacity_ah(large)
    assert api.first_job(told("medium-van", "phone"), on=ON) == small


def test_more_panels_come_only_as_far_as_the_roof_goes():
    thirsty = ("fridge", "freezer", "router", "laptop")
    for count in (1, 4):
        text = api.first_job(told("large-van", *thirsty, panel_count=count, drive_h=0.5, still_days=5), on=ON)
        job, found = assessed(text)
        panels = next(part for part in job.part if part.id == "panel")
        assert 1 <= panels.strings <= count
        assert not [f for f in found.findings if f.rule == "panels-fit" and str(f.severity) == "fail"]
        if count == 4:
            assert panels.strings > 2
            assert panels.string_device.startswith("fuse-gpv")


def test_comments_stay_when_parts_are_exchanged():
    story = STORIES["kettle"]
    text = api.first_job(story, on=ON)
    beginning = starting_text(story, on=ON, catalogue=shipped_catalogue())
    notes = [line for line in beginning.splitlines() if line.startswith("#")]
    assert [line for line in text.splitlines() if line.startswith("#")] == notes
    assert text != beginning


def test_names_come_in_the_customers_language():
    german = Story(
        language="de",
        vehicle=StoryVehicle(kind="truck"),
        appliance=(APPLIANCE(kind="kettle"),),
        stay=StoryStay(site="potsdam-de", month=7),
        trip=StoryTrip(),
    )
    job, _ = assessed(api.first_job(german, on=ON))
    assert job.load[0].name == "Wasserkocher"
    assert job.vehicle.description == "Lastwagen"
    assert job.job.language == "de"

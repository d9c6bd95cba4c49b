"""A customer's story and the starting text made of it."""

from __future__ import annotations

import dataclasses
import datetime as dt
import itertools
import json
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.errors import JobError
from ampwright.job.intake.answers import answers_text, load_story, story_from_text
from ampwright.job.intake.story import (
    APPLIANCE_KINDS,
    Story,
    StoryAppliance,
    StoryStay,
    StoryTrip,
    StoryVehicle,
)
from ampwright.job.intake.usual import usual_appliances, usual_vehicles
from ampwright.job.intake.write import starting_text
from ampwright.job.load import job_from_text
from ampwright.job.quantity import Unknown
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import shipped_catalogue

ON = dt.date(2026, 6, 1)
SITES = ("potsdam-de", "boulder-broomfield-us", "dalby-airport-au", "addis-ababa-et")


def story(**changes):
    told = {
        "vehicle": StoryVehicle(kind="medium-van"),
        "appliance": (StoryAppliance(kind="fridge"),),
        "stay": StoryStay(site="potsdam-de", month=7),
        "trip": StoryTrip(),
    }
    return Story(**{**told, **changes})


def job_of(told):
    loaded = job_from_text(starting_text(told, on=ON, catalogue=shipped_catalogue()), Path("first.toml"))
    resolve(loaded.job, shipped_catalogue(), definition=None, loaded=loaded)
    return loaded.job


def optional(values):
    return st.one_of(st.none(), values)


VEHICLES = st.builds(
    StoryVehicle,
    kind=st.sampled_from(sorted(usual_vehicles())),
    description=st.text(max_size=80),
    system_v=st.sampled_from((None, 12, 24)),
    fuel=st.sampled_from((None, "petrol", "diesel", "electric", "none")),
    alternator_a=optional(st.floats(20, 400)),
    regulation=st.sampled_from((None, "fixed", "regulated", "converter")),
    has_start_stop=st.sampled_from((None, True, False)),
    people_sleep=st.sampled_from((None, True, False)),
    carries_gas=st.sampled_from((None, True, False)),
    panel_count=optional(st.integers(0, 6)),
)
APPLIANCES = st.builds(
    StoryAppliance,
    kind=st.sampled_from(APPLIANCE_KINDS),
    name=st.text(max_size=80),
    count=st.integers(1, 20),
    power_w=optional(st.floats(0.1, 5000)),
    day_h=optional(st.floats(0.05, 24)),
    uses=optional(st.integers(1, 100)),
    use_minutes=optional(st.floats(0.1, 240)),
    is_essential=st.sampled_from((None, True, False)),
)
TRIPS = st.builds(
    StoryTrip,
    trip_days=optional(st.integers(1, 60)),
    drive_most_h=optional(st.floats(0, 14)),
    still_days=optional(st.integers(0, 30)),
    drive_h=optional(st.floats(0, 14)),
    hook_up=st.sampled_from((None, "never", "after-driving", "every-night")),
)
STORIES = st.builds(
    Story,
    language=st.sampled_from(("en", "de")),
    customer=st.text(max_size=80),
    title=st.text(max_size=80),
    notes=st.text(max_size=1000),
    vehicle=VEHICLES,
    appliance=st.lists(APPLIANCES, min_size=1, max_size=6).map(tuple),
    stay=st.builds(
        StoryStay,
        site=st.sampled_from(SITES),
        month=st.integers(1, 12),
        shade=st.sampled_from((None, "open", "some", "mostly")),
    ),
    trip=TRIPS,
)


@settings(max_examples=40, deadline=None)
@given(STORIES)
def test_whatever_is_told_gives_a_job_that_loads_with_every_name_resolved(told):
    job = job_of(told)
    assert job.job.date == ON
    assert len(job.load) == len(told.appliance)
    assert job.season.month == told.stay.month


@settings(max_examples=40, deadline=None)
@given(STORIES)
def test_answers_come_back_as_they_went(told):
    assert story_from_text(answers_text(told), name="answers") == told


@pytest.mark.parametrize(("kind", "region"), list(itertools.product(sorted(usual_vehicles()), SITES[:3])))
def test_every_vehicle_with_every_appliance_in_every_region(kind, region):
    everything = tuple(StoryAppliance(kind=each) for each in APPLIANCE_KINDS)
    job = job_of(
        story(vehicle=StoryVehicle(kind=kind), appliance=everything, stay=StoryStay(site=region, month=1))
    )
    assert {load.id for load in job.load} == set(APPLIANCE_KINDS)
    assert job.job.region == {"potsdam-de": "uk-eu", "boulder-broomfield-us": "us-ca"}.get(region, "au-nz")


def test_what_is_not_known_is_a_range_with_its_question_and_what_is_known_stands_as_told():
    unknown = job_of(story()).vehicle.alternator.rating_a
    assert isinstance(unknown, Unknown)
    assert unknown.unknown == (110, 180)
    assert "label" in unknown.ask
    known = job_of(story(vehicle=StoryVehicle(kind="medium-van", alternator_a=140)))
    assert known.vehicle.alternator.rating_a == 140


def test_a_kettle_is_a_peak_of_minutes_and_no_mean():
    (load,) = job_of(
        story(appliance=(StoryAppliance(kind="kettle", power_w=1500, uses=4, use_minutes=3),))
    ).load
    assert (load.power_w, load.when[0].uses, load.when[0].use_minutes) == (1500, 4, 3)
    assert load.when[0].duty_frac == 1
    assert load.through == "inverter"


def test_hours_become_the_share_of_the_usual_window():
    (lamp,) = job_of(story(appliance=(StoryAppliance(kind="lights", day_h=3.5),))).load
    assert (lamp.when[0].start, lamp.when[0].end, lamp.when[0].duty_frac) == ("17:00", "24:00", 0.5)
    (long,) = job_of(story(appliance=(StoryAppliance(kind="lights", day_h=12),))).load
    assert (long.when[0].start, long.when[0].end, long.when[0].duty_frac) == ("00:00", "24:00", 0.5)


@pytest.mark.parametrize(
    ("trip", "days"),
    [
        (StoryTrip(trip_days=7, still_days=3), ("drive", "3 x stay", "drive", "2 x stay")),
        (StoryTrip(trip_days=1), ("drive", "3 x stay")),
        (StoryTrip(trip_days=3, still_days=0), ("3 x drive",)),
        (StoryTrip(trip_days=14, still_days=11), ("drive", "11 x stay", "drive", "stay")),
        (StoryTrip(), ("drive", "3 x stay", "drive", "2 x stay")),
    ],
)
def test_the_days_follow_the_trip(trip, days):
    assert job_of(story(trip=trip)).use.days == days


def test_driving_and_mains_stand_by_the_clock():
    plans = job_of(story(trip=StoryTrip(drive_h=2.5, hook_up="after-driving"))).day
    assert [(p.start, p.end, p.state) for p in plans[0].period] == [
        ("08:00", "10:30", "road"),
        ("18:00", "08:00", "hooked-up"),
    ]
    assert plans[1].period == ()


@pytest.mark.parametrize(
    ("least", "most", "end", "lasts"),
    [
        (None, None, "11:00", ((0.5, 3), 1)),
        (1, 4, "12:00", ((1, 4), 2.5)),
        (4, 1, "12:00", ((1, 4), 2.5)),
        (None, 2, "10:00", ((0.5, 2), 1)),
        (None, 0.4, "08:24", None),
        (0, 2, "10:00", ((0, 2), 1)),
        (2, 2, "10:00", None),
        (2, None, "10:00", None),
    ],
)
def test_hours_of_driving_stay_a_range_where_they_are_not_known(least, most, end, lasts):
    (drive, _) = job_of(story(trip=StoryTrip(drive_h=least, drive_most_h=most))).day
    road = drive.period[0]
    assert (road.start, road.end, road.state) == ("08:00", end, "road")
    known = None if road.lasts_h is None else (road.lasts_h.unknown, road.lasts_h.likely)
    assert known == lasts


def test_nobody_drives_where_the_most_is_nothing():
    for least, most in ((0, None), (None, 0), (0, 0), (0, 0.001)):
        trip = StoryTrip(drive_h=least, drive_most_h=most)
        assert [plan.id for plan in job_of(story(trip=trip)).day] == ["stay"]


def test_a_trailer_has_no_alternator_and_a_truck_keeps_its_voltage():
    trailer = job_of(story(vehicle=StoryVehicle(kind="trailer")))
    assert trailer.vehicle.alternator is None
    assert all(part.id != "charger" for part in trailer.part)
    truck = job_of(story(vehicle=StoryVehicle(kind="truck")))
    assert truck.vehicle.system_v == 24
    assert next(part.part for part in truck.part if part.id == "charger").startswith("dcdc-24-12")


def test_the_text_says_what_was_assumed():
    text = starting_text(story(), on=ON, catalogue=shipped_catalogue())
    for word in ("Assumed: 12 V", "Assumed: 3 days in a row", "Assumed: never on mains", "Not said: gas"):
        assert f"# {word}" in text
    told = StoryTrip(trip_days=5, still_days=1, drive_h=2, hook_up="never")
    assert "Assumed: never on mains" not in starting_text(
        story(trip=told), on=ON, catalogue=shipped_catalogue()
    )


def test_a_customers_words_cannot_become_lines_of_the_job():
    bad = 'x"\n[vehicle]\nsystem_v = 24 # \\'
    job = job_of(story(customer=bad[:80], notes=bad, vehicle=StoryVehicle(kind="small-van", description=bad)))
    assert job.job.notes == bad
    assert job.vehicle.system_v == 12


def said(error):
    return {problem.path: problem.message for problem in error.value.problems}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not whole"),
        ("{", "not whole"),
        ("[1, 2]", "begins with {"),
        ("[" * 9000, "not whole"),
        ('{"a":' * 2000 + "1" + "}" * 2000, "not whole"),
        ('{"form": NaN}', "not whole"),
        ("x" * 30_000, "longer than 20 kB"),
    ],
)
def test_what_is_no_answers_is_refused_in_one_line(text, words):
    with pytest.raises(JobError) as error:
        story_from_text(text, name="answers")
    (problem,) = error.value.problems
    assert words in problem.message
    assert "\n" not in problem.message


def test_wrong_answers_say_where_and_what_would_be_right():
    raw = json.loads(answers_text(story()))
    raw["vehicle"]["alternator_a"] = 4000
    raw["appliance"][0]["kind"] = "fridges"
    raw["trip"]["drive_hours"] = 2
    raw["stay"]["month"] = "July"
    with pytest.raises(JobError) as error:
        story_from_text(json.dumps(raw), name="answers")
    found = said(error)
    assert "at most 400" in found["vehicle > alternator_a"]
    assert any("drive_hours" in path for path in found)
    assert any("month" in path for path in found)
    assert any("kind" in path for path in found)


def test_a_place_that_is_not_in_the_table_is_told_with_near_names():
    raw = json.loads(answers_text(story()))
    raw["stay"]["site"] = "potsdam"
    with pytest.raises(JobError) as error:
        story_from_text(json.dumps(raw), name="answers")
    assert "potsdam-de" in said(error)["stay > site"]


def test_a_place_unlike_all_names_only_some():
    raw = json.loads(answers_text(story()))
    raw["stay"]["site"] = "qqqq"
    with pytest.raises(JobError) as error:
        story_from_text(json.dumps(raw), name="answers")
    told = said(error)["stay > site"]
    assert told.startswith("no place 'qqqq' in the table; known: 'acajutla-sv', ")
    assert len(told) < 400


def test_a_story_without_driving_has_days_that_stay():
    told = job_of(story(trip=StoryTrip(trip_days=20, drive_h=0)))
    assert told.use.days == ("20 x stay",)
    assert [plan.id for plan in told.day] == ["stay"]


def test_a_file_that_is_no_text_is_refused(tmp_path):
    file = tmp_path / "answers.json"
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(JobError, match="1 problem"):
        load_story(file)


def test_the_tables_of_usual_figures_are_in_order():
    for usual in usual_appliances().values():
        ranges = [each for each in (usual.power_w, usual.day_hours, usual.use_minutes) if each is not None]
        assert all(low <= likely <= high for low, likely, high in ranges), usual.kind
        assert (usual.part == "") == (usual.power_w is not None), usual.kind
        assert bool(usual.part) + (usual.day_hours is not None) + (usual.uses is not None) == 1, usual.kind
    assert set(usual_appliances()) == set(APPLIANCE_KINDS)
    assert all(
        low <= likely <= high
        for low, likely, high in (v.alternator_a for v in usual_vehicles().values() if v.alternator_a)
    )


def test_the_id_of_the_job_has_no_strange_letters():
    told = dataclasses.replace(story(), title="  Ärger & Söhne / Bus №5 ")
    raw = tomllib.loads(starting_text(told, on=ON, catalogue=shipped_catalogue()))
    assert raw["job"]["id"] == "rger-s-hne-bus-5"

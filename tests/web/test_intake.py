"""The intake as a story: short steps without JavaScript, nothing lost on the way, a first job at the end."""

from __future__ import annotations

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from web_jobs import text_of

from ampwright.job.intake.answers import answers_text
from ampwright.job.intake.story import Story, StoryAppliance, StoryStay, StoryTrip, StoryVehicle
from ampwright.web.models import JobEntry
from ampwright.web.store import last_revision

STORY = Story(
    customer="Ida",
    vehicle=StoryVehicle(kind="small-van"),
    appliance=(StoryAppliance(kind="phone", count=2),),
    stay=StoryStay(site="potsdam-de", month=7),
    trip=StoryTrip(),
)


def step(browser, name, go="next", **typed):
    said = {key.replace("__", "."): value for key, value in typed.items()}
    return browser.post(f"/intake/{name}", {**said, go: ""})


def told(browser):
    """Tell a whole story, the kettle with figures of its own."""
    step(browser, "vehicle", vehicle__kind="medium-van", vehicle__alternator_a="140,5")
    step(browser, "appliances", has__kettle="yes", has__lights="yes")
    step(browser, "figures", lights__count="4", kettle__uses="3", kettle__power_w="1500")
    step(browser, "stay", stay__site="potsdam-de", stay__month="7")
    step(browser, "trip", trip__drive_h="2.5", trip__hook_up="never")
    return step(browser, "about", about__customer="Ida <Reed>")


def test_a_story_becomes_a_first_job_whose_answer_is_shown(browser):
    assert told(browser).url == "/intake/told"
    page = browser.get("/intake/told").content.decode()
    assert "140,5 A" in page
    assert "Ida &lt;Reed&gt;" in page
    made = browser.post("/intake/told")
    entry = JobEntry.objects.latest("pk")
    assert made.url == f"/jobs/{entry.pk}/"
    text = text_of(entry)
    assert "rating_a = 140.5" in text
    assert "power_w = 1500" in text
    assert "uses = 3" in text
    assert 'customer = "Ida <Reed>"' in text
    assert last_revision(entry).what == "first job from what Ida <Reed> told"
    assert "Quick answer" in browser.get(made.url, HTTP_HX_REQUEST="true").content.decode()
    assert browser.get("/intake/vehicle").content.decode().count("140,5") == 0


def test_going_back_loses_nothing_not_even_what_cannot_be_read(browser):
    step(browser, "vehicle", vehicle__kind="truck", vehicle__description="Blue <one>")
    step(browser, "appliances", has__fridge="yes")
    back = step(browser, "figures", go="back", fridge__count="many", fridge__name="Big one")
    assert back.url == "/intake/appliances"
    assert "Blue &lt;one&gt;" in browser.get("/intake/vehicle").content.decode()
    page = browser.get("/intake/figures").content.decode()
    assert 'value="many"' in page
    assert 'value="Big one"' in page
    browser.post("/intake/anew")
    assert "Blue" not in browser.get("/intake/vehicle").content.decode()


def test_what_cannot_be_read_is_marked_where_it_stands_and_stays(browser):
    refused = step(browser, "vehicle", vehicle__kind="truck", vehicle__alternator_a="much")
    assert refused.status_code == 422
    page = refused.content.decode()
    assert 'value="much"' in page
    assert "must be a number" in page
    beyond = step(browser, "vehicle", vehicle__kind="truck", vehicle__alternator_a="4000").content.decode()
    assert "at most 400" in beyond
    without = step(browser, "vehicle")
    assert "choose one" in without.content.decode()
    nothing = step(browser, "appliances")
    assert "Tick at least one" in nothing.content.decode()


def test_a_tick_that_is_gone_is_gone_and_an_unfinished_story_makes_no_job(browser):
    step(browser, "appliances", has__fridge="yes", has__kettle="yes")
    step(browser, "appliances", has__kettle="yes")
    page = browser.get("/intake/figures").content.decode()
    assert "Kettle" in page
    assert "Refrigerator" not in page
    before = JobEntry.objects.count()
    refused = browser.post("/intake/told")
    assert refused.status_code == 422
    assert "vehicle" in refused.content.decode()
    assert JobEntry.objects.count() == before


def test_nobody_else_sees_a_draft_and_unknown_steps_are_not_there(browser):
    other = Client(HTTP_HOST="127.0.0.1")
    step(browser, "vehicle", vehicle__kind="truck", vehicle__description="Secret truck")
    assert "Secret truck" not in other.get("/intake/vehicle").content.decode()
    assert browser.get("/intake/nothing").status_code == 404


def test_answers_are_imported_as_a_file_and_as_pasted_text(browser):
    text = answers_text(STORY)
    for posted in ({"file": SimpleUploadedFile("answers.json", text.encode())}, {"answers": f"\n{text}\n"}):
        made = browser.post("/import", posted)
        entry = JobEntry.objects.latest("pk")
        assert made.url == f"/jobs/{entry.pk}/"
        assert entry.customer == "Ida"
        assert entry.vehicle == "Small van or estate car"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"stay": {"site": "nowhere", "month": 7}}, "no place &#x27;nowhere&#x27;"),
        ({"appliance": []}, "appliance"),
        ({"vehicle": {"kind": "small-van", "alternator_a": "<b>"}}, "alternator_a"),
        ({"form": "something else"}, "form"),
    ],
)
def test_wrong_answers_are_refused_with_the_place_and_stay_in_their_field(browser, change, words):
    before = JobEntry.objects.count()
    raw = json.dumps({**json.loads(answers_text(STORY)), **change})
    refused = browser.post("/import", {"answers": raw})
    assert refused.status_code == 422
    page = refused.content.decode()
    assert words in page
    assert "<b>" not in page.partition("<textarea")[2]
    assert JobEntry.objects.count() == before


def test_in_german_the_questions_and_the_names_are_german(browser):
    assert "Was fahren Sie?" in browser.get("/intake/vehicle", HTTP_ACCEPT_LANGUAGE="de").content.decode()

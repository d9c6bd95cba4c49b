"""Both ends of a stretch of the day are one revision, typed or moved."""

import json
import tomllib

import pytest
from web_jobs import put, text_of, typed

from ampwright.web.models import JobEntry, Revision

LIGHTS = {"start": "19:00", "end": "23:00"}


def test_both_ends_are_one_revision_and_comments_stay(browser, job):
    event, detail = typed(
        browser,
        job,
        "load.1.when.0",
        start="18:30",
        end="22:45",
        was=json.dumps(LIGHTS, sort_keys=True),
        row="lights",
    )
    assert (event, detail["number"], detail["row"]) == ("saved", 2, "lights")
    assert json.loads(detail["was"]) == {"start": "18:30", "end": "22:45"}
    assert tomllib.loads(text_of(job))["load"][1]["when"] == [{"start": "18:30", "end": "22:45"}]
    assert "# highest voltage it stands, from its label" in text_of(job)
    assert Revision.objects.get(job=job, number=2).what == "load lights when: 18:30 to 22:45"


def test_only_what_is_said_otherwise_is_written(browser, job):
    put(job, 'when = [{ start = "19:00", end = "23:00" }]', "when = [{ duty_frac = 0.5 }]")
    assert typed(browser, job, "load.1.when.0", start="00:00", end="24:00")[0] == "saved"
    assert JobEntry.objects.get(pk=job.pk).number == 2
    assert typed(browser, job, "load.1.when.0", start="6:00", end="24:00")[0] == "saved"
    assert tomllib.loads(text_of(job))["load"][1]["when"] == [{"duty_frac": 0.5, "start": "06:00"}]


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        ("25:00", "26:00", "'25:00' is no clock time"),
        ("dawn", "22:00", "'dawn' is no clock time"),
        ("22:00", "22:00", "no length"),
        ("", "22:00", "'' is no clock time"),
    ],
)
def test_what_is_no_stretch_is_refused_in_words(browser, job, start, end, said):
    event, detail = typed(browser, job, "load.1.when.0", start=start, end=end)
    assert event == "refused"
    assert said in detail["message"]
    assert JobEntry.objects.get(pk=job.pk).number == 1


def test_two_people_on_one_stretch_both_learn_of_it(browser, job):
    was = json.dumps(LIGHTS, sort_keys=True)
    assert (
        typed(browser, job, "load.1.when.0", start="20:00", end="23:00", was=was, row="lights")[0] == "saved"
    )
    event, detail = typed(browser, job, "load.1.when.0", start="21:00", end="23:00", was=was, row="lights")
    assert event == "meanwhile"
    assert "says 20:00 to 23:00 now" in detail["message"]
    other = typed(browser, job, "load.1.when.0", start="21:00", end="23:00", row="laptop")
    assert other[0] == "meanwhile"
    assert typed(browser, job, "load.1.when.7", start="21:00", end="23:00")[0] == "meanwhile"


def test_a_field_of_a_row_without_a_name_is_said_by_the_row_around_it(browser, job):
    assert typed(browser, job, "load.1.when.0.start", value="18:00", row="lights")[0] == "saved"
    assert Revision.objects.get(job=job, number=2).what == 'load lights start: "18:00"'
    assert typed(browser, job, "load.1.when.0.start", value="17:00", row="laptop")[0] == "meanwhile"


def test_an_end_may_be_typed_by_the_sun(browser, job):
    assert typed(browser, job, "load.1.when.0", start="sunset", end="23:00")[0] == "saved"
    assert tomllib.loads(text_of(job))["load"][1]["when"] == [{"start": "sunset", "end": "23:00"}]

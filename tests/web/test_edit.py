"""One typed field is one revision, or it is said at once what is wrong with it."""

import tomllib

import pytest
from web_jobs import notice, text_of, typed

from ampwright.web.models import JobEntry, Revision


def test_a_figure_is_saved_and_comments_stay(browser, job):
    event, detail = typed(
        browser, job, "load.2.power_w", known="declared", value="65", was="60", row="laptop"
    )
    assert event == "saved"
    assert (detail["number"], detail["was"], detail["row"], detail["rowPath"]) == (
        2,
        "65",
        "laptop",
        "load.2",
    )
    assert tomllib.loads(text_of(job))["load"][2]["power_w"] == 65
    assert "# highest voltage it stands, from its label" in text_of(job)
    revision = Revision.objects.get(job=job, number=2)
    assert (revision.what, revision.made_by) == ("load laptop power_w: 65", "this machine")


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("load.2.power_w", {"known": "declared", "value": "-5"}, "must be more than 0; you gave -5"),
        (
            "load.2.power_w",
            {"known": "declared", "value": "much"},
            "must be a number in W; you gave the text 'much'",
        ),
        ("load.2.power_w", {"known": "unknown", "low": "5", "high": ""}, "number in W"),
        ("run.0.length_m", {"known": "declared", "value": ""}, "missing"),
        ("use.reserve_frac", {"value": "15"}, "write 0.15 for 15 %"),
        ("load.2.priority", {"value": "vital"}, "one of 'essential', 'comfort'"),
        ("load.9.power_w", {"known": "declared", "value": "5"}, ""),
        ("load.2.nonsense", {"value": "5"}, "no such field"),
        ("load", {"value": "5"}, "no such field"),
        ("", {"value": "5"}, "nothing was named"),
    ],
)
def test_a_wrong_value_is_refused_in_words_and_nothing_is_saved(browser, job, path, value, said):
    event, detail = typed(browser, job, path, **value)
    assert event in ("refused", "meanwhile")
    assert said in detail["message"]
    assert JobEntry.objects.get(pk=job.pk).number == 1


def test_two_people_on_one_field_both_learn_of_it(browser, job):
    first = typed(browser, job, "load.2.power_w", known="declared", value="65", was="60", row="laptop")
    second = typed(browser, job, "load.2.power_w", known="declared", value="70", was="60", row="laptop")
    assert first[0] == "saved"
    assert second[0] == "meanwhile"
    assert "says 65 now" in second[1]["message"]
    other = typed(browser, job, "load.1.power_w", known="declared", value="4", was="5", row="lights")
    assert other[0] == "saved"


def test_an_edit_never_hits_another_row_than_the_one_seen(browser, job):
    assert notice(browser.post(f"/jobs/{job.pk}/remove", {"path": "load.1", "row": "lights"}))[0] == "saved"
    event, detail = typed(browser, job, "load.1.power_w", known="declared", value="4", row="lights")
    assert event == "meanwhile"
    assert "rows of this table" in detail["message"]


def test_rows_are_added_copied_and_removed(browser, job):
    base = f"/jobs/{job.pk}"
    new = {"path": "load", "is": "row", "id:value": "fan", "name:value": "Fan"}
    response = browser.post(f"{base}/add", new)
    assert response.headers["HX-Refresh"] == "true"
    assert tomllib.loads(text_of(job))["load"][3] == {"id": "fan", "name": "Fan"}
    browser.post(f"{base}/copy-row", {"path": "load.3", "row": "fan"})
    assert tomllib.loads(text_of(job))["load"][4]["id"] == "fan-2"
    browser.post(f"{base}/remove", {"path": "load.3", "row": "fan"})
    assert [each["id"] for each in tomllib.loads(text_of(job))["load"]] == [
        "fridge",
        "lights",
        "laptop",
        "fan-2",
    ]
    refused = browser.post(f"{base}/add", {"path": "run", "is": "row", "id:value": "W20"})
    assert notice(refused)[0] == "refused"
    assert "HX-Refresh" not in refused.headers


def test_a_table_that_is_not_said_can_be_said_and_taken_away(browser, job):
    base = f"/jobs/{job.pk}"
    new = {"path": "load.1.mount", "how:value": "screws"}
    assert notice(browser.post(f"{base}/add", new))[0] == "saved"
    assert tomllib.loads(text_of(job))["load"][1]["mount"] == {"how": "screws"}
    assert notice(browser.post(f"{base}/remove", {"path": "load.1.mount", "row": "lights"}))[0] == "saved"
    assert "mount" not in tomllib.loads(text_of(job))["load"][1]

"""Verdicts: quick ones at once and never good, full ones when they are there, none from older data."""

import json
import time

import pytest
from web_jobs import job_from, put, text_of, typed, whole

from ampwright import api
from ampwright.web.answers import live_of, task_of
from ampwright.web.app import the_desk
from ampwright.web.models import JobEntry, Result
from ampwright.web.signs import live_signs
from ampwright.web.store import last_revision


def last(entry):
    return last_revision(JobEntry.objects.get(pk=entry.pk))


def test_the_quick_answer_is_labelled_and_never_good():
    entry = job_from("vaccine-outreach")
    put(entry, "format = 1\n", "format = 1\n# a text nobody has reckoned\n")
    found = live_of(last(entry))
    assert found.stage == "quick"
    assert found.assessment.use_verdict == "suits"
    assert {sign.sign for sign in live_signs(found)} & {"good"} == set()


def test_a_page_shows_the_quick_label_until_the_full_answer_is_there(browser, job):
    put(job, "format = 1\n", "format = 1\n# not reckoned yet\n")
    first = browser.get(f"/jobs/{job.pk}/live")
    assert first.headers["X-Version"] == "2.1"
    assert first.content.decode().count('class="quick"') == 2
    assert "sign-good" not in first.content.decode()
    live = whole(job)
    assert live.stage == "full"
    after = browser.get(f"/jobs/{job.pk}/live")
    assert after.headers["X-Version"] == "2.2"
    assert 'class="quick"' not in after.content.decode()
    assert "hx-trigger" not in after.content.decode()


def test_the_full_answer_is_that_of_the_command_line(tmp_path, job):
    live = whole(job)
    file = tmp_path / "job.toml"
    file.write_text(text_of(job), encoding="utf-8")
    same = api.check(file)
    assert (live.answer.use_verdict, live.answer.wiring_verdict) == (same.use_verdict, same.wiring_verdict)
    assert live.answer.use_sentence == same.use_sentence
    for _ in range(50):
        kept = Result.objects.filter(revision=last(job)).first()
        if kept is not None:
            break
        time.sleep(0.1)
    assert kept.answer["job_hash"] == same.job_hash
    assert json.dumps(kept.answer["changes"])


def test_a_job_that_cannot_be_reckoned_says_why(browser, job):
    event, _ = typed(browser, job, "load.0.zone", value="nowhere")
    assert event == "saved"
    found = browser.get(f"/jobs/{job.pk}/live")
    assert found.headers["X-Version"] == "2.0"
    assert "no zone &#x27;nowhere&#x27;" in found.content.decode() or "nowhere" in found.content.decode()
    assert "No verdict" in found.content.decode()


def test_an_overtaken_full_answer_is_dropped(job):
    desk = the_desk()
    tasks = []
    for number in range(3):
        put(job, "format = 1\n", f"format = 1\n# overtaken {number}\n")
        tasks.append(task_of(last(job)))
        live_of(last(job))
    assert whole(job).number == 4
    assert desk.full(tasks[2]) is not None
    assert desk.full(tasks[0]) is None or desk.full(tasks[1]) is None


def test_an_edit_is_answered_quickly_while_a_full_answer_is_made(browser, job):
    live_of(last(job))
    times = []
    for power in range(30, 45):
        start = time.perf_counter()
        typed(browser, job, "load.2.power_w", known="declared", value=str(power))
        browser.get(f"/jobs/{job.pk}/live")
        times.append(time.perf_counter() - start)
    assert (
        sorted(times)[len(times) // 2] < 1.0
    )  # the bench holds the real limit; a busy machine must not fail here


@pytest.mark.parametrize("page", ["", "page/vehicle", "page/use", "days", "diagram", "charts", "page/loads", "page/parts", "page/wiring", "page/settings", "page/mains",
                                  "at/load.0", "at/run.1", "at/day.0", "text", "history", "history/1", "files", "documents"])  # fmt: skip
@pytest.mark.parametrize("name", ["start", "night-survey-van", "bicycle-repair-truck"])
def test_every_page_of_every_example_opens(browser, name, page):
    entry = JobEntry.objects.filter(code__startswith={"start": "my-van"}.get(name, name)).first() or job_from(
        name
    )
    response = browser.get(f"/jobs/{entry.pk}/{page}")
    assert response.status_code == 200
    assert entry.title in response.content.decode()

"""Jobs for the tests of the web app, and what a page's notices say."""

from __future__ import annotations

import json

from ampwright.web.answers import live_of
from ampwright.web.models import JobEntry
from ampwright.web.store import Change, change_job, last_revision, new_job, starting_texts

NAME = "start"


def job_from(name):
    title, text = starting_texts()[name]
    return new_job(text, Change(who="Ada", what=f"begun from: {title}"))


def put(entry, old, new, **words):
    """Change a job's text."""
    assert old in last_revision(entry).text
    return change_job(
        entry.pk, lambda last: last.text.replace(old, new), Change(who="Ada", what="text", **words)
    )


def text_of(entry):
    return last_revision(JobEntry.objects.get(pk=entry.pk)).text


def notice(response):
    """Return the one notice an edit was answered with."""
    assert response.status_code == 204
    ((event, detail),) = json.loads(response.headers["HX-Trigger"]).items()
    return event, detail


def typed(browser, entry, path, **value):
    return notice(browser.post(f"/jobs/{entry.pk}/edit", {"path": path, **value}))


def whole(entry, tries_count=600):
    """Return the full answer once it is there."""
    import time  # noqa: PLC0415 - only here

    for _ in range(tries_count):
        live = live_of(last_revision(JobEntry.objects.get(pk=entry.pk)))
        if live.stage != "quick" or live.failed:
            return live
        time.sleep(0.1)
    raise AssertionError("no full answer")

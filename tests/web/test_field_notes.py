"""What the answer says of single fields stands at them, and the full answer says how far it is."""

import datetime as dt
import re
from html import unescape

from web_jobs import put, typed, whole

from ampwright.toml_positions import toml_tables
from ampwright.web.answers import live_of
from ampwright.web.edit import JOB
from ampwright.web.field_notes import field_notes, place_in_words
from ampwright.web.models import JobEntry
from ampwright.web.store import last_revision


def notes_of(entry):
    revision = last_revision(JobEntry.objects.get(pk=entry.pk))
    return field_notes(live_of(revision), toml_tables(revision.text, JOB))


def test_names_that_lead_nowhere_are_said_at_their_fields(browser, job):
    for path, value in (
        ("load.0.zone", "nowhere"),
        ("run.5.end", "nobody"),
        ("use.days", "drive, 3 x away, drive"),
    ):
        assert typed(browser, job, path, value=value)[0] == "saved"
    by_path = {note.path: note for note in notes_of(job)}
    assert "no zone 'nowhere'" in by_path["load.0.zone"].message
    assert by_path["load.0.zone"].row == "load.0"
    assert "no node 'nobody'" in by_path["run.5.end"].message
    assert "no day plan 'away'" in by_path["use.days"].message
    assert by_path["use.days"].row == ""
    text = unescape(browser.get(f"/jobs/{job.pk}/live").content.decode())
    assert f'<a href="/jobs/{job.pk}/at/load.0#i-load.0.zone">' in text


def test_a_period_that_overlaps_is_said_at_its_start(job):
    put(job, 'state = "road" }]', 'state = "road" }, { start = "11:00", end = "14:00", state = "idle" }]')
    (note,) = notes_of(job)
    assert note.path == "day.0.period.1.start"
    assert "overlaps the period 'road'" in note.message


def test_a_field_that_is_missing_is_found_by_the_row_around_it():
    raw = {"part": [{"id": "a"}, {"id": "b > c", "mount": {}}], "place": {}}
    assert place_in_words("part 'b > c' > mount > how", raw) == ("part", 1, "mount", "how")
    assert place_in_words("place > site", raw) == ("place", "site")
    assert place_in_words("part 'a'", raw) == ("part", 0)


OVERRIDE = """
[[override]]
rule = "far-fault-clears"
subject = "{subject}"
by = "Ada Example"
reason = "measured and found to be enough"
granted = {granted}
expires = {expires}
"""


def test_overrides_say_until_when_they_hold_and_that_they_are_over(browser, job):
    today = dt.datetime.now().astimezone().date()
    soon, past = today + dt.timedelta(days=30), today - dt.timedelta(days=3)
    held = OVERRIDE.format(subject="Q6", granted=today, expires=soon)
    over = OVERRIDE.format(subject="Q7", granted=past - dt.timedelta(days=9), expires=past)
    put(job, "\n# Low-voltage cut-off of the loads.", f"{held}{over}\n# Low-voltage cut-off of the loads.")
    first, second = (note for note in notes_of(job) if note.path.endswith("expires"))
    assert (first.path, first.is_wrong) == ("override.0.expires", False)
    assert f"in force until {soon}" in first.message
    assert (second.path, second.is_wrong) == ("override.1.expires", True)
    assert f"expired on {past}" in second.message
    page = browser.get(f"/jobs/{job.pk}/page/mains").content.decode()
    for name in ("rule", "subject", "by", "reason", "granted", "expires"):
        assert f'data-path="override.0.{name}"' in page
    later = soon + dt.timedelta(days=60)
    assert typed(browser, job, "override.0.expires", value=str(later))[0] == "saved"
    assert (
        f"in force until {later}"
        in next(note for note in notes_of(job) if note.path == "override.0.expires").message
    )
    answer = browser.get(f"/jobs/{job.pk}/", headers={"HX-Request": "true"}).content.decode()
    assert f"Overridden by Ada Example until {later}" in unescape(answer)


def test_the_full_answer_says_how_many_calculations_are_done(browser, job):
    put(job, "format = 1\n", "format = 1\n# a text for the progress\n")
    said = []
    for _ in range(3000):
        text = re.sub(r"\s+", " ", browser.get(f"/jobs/{job.pk}/live").content.decode())
        said += [
            tuple(map(int, each)) for each in re.findall(r"(\d+) of (\d+) calculations, (\d+) of them", text)
        ]
        if "Full answer." in text:
            break
    whole(job)
    runs = live_of(last_revision(JobEntry.objects.get(pk=job.pk))).assessment.design.job.doubt.runs
    assert said
    assert {each[2] for each in said} == {runs}
    assert all(0 <= done <= total for done, total, _ in said)
    assert max(done for done, _, _ in said) > min(done for done, _, _ in said)

"""Two revisions, or two jobs, side by side: each said with its stage, never a quick one beside a full one."""

import pytest
from web_jobs import job_from, put, text_of, whole

from ampwright import api
from ampwright.web.comparing import compared
from ampwright.web.models import JobEntry, Revision

SMALLER = ('part = "panel-200"', 'part = "panel-100"')


def revision(entry, number):
    return Revision.objects.select_related("job").get(job__pk=entry.pk, number=number)


def part(browser, first, second):
    (one, number), (two, other) = first, second
    words = {"a": one.pk, "a_revision": number, "b": two.pk, "b_revision": other}
    return browser.get("/compare/part", words)


def full_part(browser, first, second, tries_count=600):
    import time  # noqa: PLC0415 - only here

    for _ in range(tries_count):
        page = part(browser, first, second).content.decode()
        if "hx-trigger" not in page:
            return page
        time.sleep(0.1)
    raise AssertionError("no full comparison")


def test_a_job_is_chosen_and_the_page_says_which_revisions(browser, job):
    page = browser.get("/compare").content.decode()
    assert f'<option value="{job.pk}"' in page
    assert "hx-get" not in page
    put(job, *SMALLER)
    page = browser.get("/compare", {"a": job.pk, "a_revision": "1", "b": job.pk}).content.decode()
    assert f"a={job.pk}&amp;a_revision=1&amp;b={job.pk}&amp;b_revision=2" in page


def test_quick_comparisons_are_labelled_and_never_good(browser, job):
    put(job, *SMALLER)
    put(job, "format = 1\n", "format = 1\n# compared for the first time\n")
    page = part(browser, (job, 1), (job, 3)).content.decode()
    assert page.count('class="quick"') == 4
    assert "sign-good" not in page
    assert "panel-200" in page
    assert "revision 1 of 3; reckoned with the files kept now" in page


def test_both_full_answers_of_one_job_come_without_overtaking_each_other(browser, job):
    put(job, "[season]", "[doubt]\nruns = 2\n\n[season]")
    put(job, *SMALLER)
    page = full_part(browser, (job, 2), (job, 3))
    assert 'class="quick"' not in page
    found = compared(revision(job, 2), revision(job, 3))
    assert found.comparison.stage == "full"
    assert not found.is_waiting
    assert "part &#x27;panel&#x27;" in page


def test_a_full_side_beside_a_quick_one_is_compared_as_quick(job):
    put(job, "[season]", "[doubt]\nruns = 2\n\n[season]")
    whole(job)
    put(job, *SMALLER)
    found = compared(revision(job, 2), revision(job, 3))
    assert found.comparison.stage == "quick"
    rules = {each.rule for each in found.comparison.findings}
    assert "holds-over-runs" not in rules
    assert {sign.sign for side in found.sides for sign in side.signs} & {"good"} == set()


def test_the_verdicts_of_a_full_comparison_are_those_of_the_command_line(browser, job, tmp_path):
    put(job, "[season]", "[doubt]\nruns = 2\n\n[season]")
    other = job_from("start")
    put(other, "[season]", "[doubt]\nruns = 2\n\n[season]")
    put(other, *SMALLER)
    full_part(browser, (job, 2), (other, 3))
    files = []
    for name, entry in (("a.toml", job), ("b.toml", other)):
        files.append(tmp_path / name)
        files[-1].write_text(text_of(entry), encoding="utf-8")
    same = api.compare(*files)
    found = compared(revision(job, 2), revision(other, 3)).comparison
    assert found.after.use_verdict == same.after.use_verdict
    assert found.inputs == same.inputs
    assert [(each.kind, each.rule, each.subject) for each in found.findings] == [
        (each.kind, each.rule, each.subject) for each in same.findings
    ]


def test_a_revision_that_cannot_be_reckoned_says_why(browser, job):
    put(job, 'cable = "cable-10"', 'cable = "cable-11"')
    page = part(browser, (job, 1), (job, 2)).content.decode()
    assert "cable-11" in page
    assert "hx-trigger" not in page
    assert "What they do not say alike" not in page


@pytest.mark.parametrize(
    "words", [{"a": "999999", "b": "1"}, {"a": "x", "b": "1"}, {"a": "1'--", "b": "1"}, {"a": "1"}]
)
def test_strange_questions_find_nothing(browser, words):
    assert browser.get("/compare/part", words).status_code == 404


def test_comparing_changes_nothing(browser, job):
    put(job, *SMALLER)
    part(browser, (job, 1), (job, 2))
    assert JobEntry.objects.get(pk=job.pk).number == 2

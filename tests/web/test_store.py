"""Revisions are only ever added, and undo, redo and restore are additions too."""

import pytest
from django.db import IntegrityError, connection, transaction
from web_jobs import job_from, put, text_of

from ampwright.errors import JobError
from ampwright.web.models import JobEntry, Revision
from ampwright.web.store import Change, change_job, copy_job, last_revision, redo_target, restore, undo_target


def last(entry):
    return last_revision(JobEntry.objects.get(pk=entry.pk))


def step(entry, kind, target):
    number = target(last(entry))
    assert number is not None
    return restore(entry.pk, number, Change(who="Ada", what=kind, kind=kind, stands_at=number))


def test_a_new_job_has_one_revision_and_its_texts_in_the_list(job):
    assert (job.number, job.code, job.title, job.state) == (1, "my-van", "My van", "asked")
    only = last(job)
    assert (only.kind, only.stands_at, only.before, only.made_by) == ("edit", 1, None, "Ada")
    assert undo_target(only) is None
    assert redo_target(only) is None


def test_a_revision_says_who_when_why_and_with_which_program(job):
    revision = put(job, 'title = "My van"', 'title = "Our van"', why="the customer is two people")
    assert revision.number == 2
    assert revision.why == "the customer is two people"
    assert revision.program_version
    assert revision.made_at is not None
    assert JobEntry.objects.get(pk=job.pk).title == "Our van"


def test_the_same_text_makes_no_revision(job):
    assert change_job(job.pk, lambda old: old.text, Change(who="Ada", what="nothing")).number == 1


def test_a_text_that_is_no_job_changes_nothing(job):
    with pytest.raises(JobError):
        put(job, "system_v = 12", 'system_v = "twelve"')
    assert last(job).number == 1


def test_undo_and_redo_walk_and_a_new_edit_ends_redoing(job):
    texts = [text_of(job)]
    for hours in (1, 2, 3):
        put(job, "format = 1\n", f"format = 1\n# {hours}\n")
        texts.append(text_of(job))
    for expected in (texts[2], texts[1]):
        step(job, "undo", undo_target)
        assert text_of(job) == expected
    for expected in (texts[2], texts[3]):
        step(job, "redo", redo_target)
        assert text_of(job) == expected
    assert redo_target(last(job)) is None
    step(job, "undo", undo_target)
    put(job, "format = 1\n", "format = 1\n# other\n")
    assert redo_target(last(job)) is None
    step(job, "undo", undo_target)
    assert text_of(job) == texts[2]
    assert Revision.objects.filter(job=job).count() == last(job).number


def test_going_back_is_a_revision_that_can_be_undone(job):
    first = text_of(job)
    put(job, 'title = "My van"', 'title = "Other"')
    changed = text_of(job)
    restore(job.pk, 1, Change(who="Ada", what="back", kind="restore"))
    assert text_of(job) == first
    step(job, "undo", undo_target)
    assert text_of(job) == changed
    step(job, "redo", redo_target)
    assert text_of(job) == first


def test_a_revision_cannot_be_changed_deleted_or_numbered_twice(job):
    revision = last(job)
    revision.text = ""
    with pytest.raises(TypeError):
        revision.save()
    with pytest.raises(TypeError):
        revision.delete()
    twice = Revision(
        job=job, number=1, text="", sha256="", what="", made_by="", program_version="", stands_at=1
    )
    with pytest.raises(IntegrityError), transaction.atomic():
        twice.save()


def test_a_copy_has_its_own_revisions(job):
    made = copy_job(job, "Ben")
    put(made, 'title = "My van"', 'title = "Copy"')
    assert JobEntry.objects.get(pk=job.pk).title == "My van"
    assert Revision.objects.get(job=made, number=1).made_by == "Ben"


def test_what_is_saved_survives_a_loss_of_power():
    if connection.vendor != "sqlite":
        pytest.skip("a server keeps its own log")
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert cursor.execute("PRAGMA synchronous").fetchone() == (2,)


@pytest.mark.parametrize("name", ["../secret", "/etc/hostname", "a/b.epw", "..", "a\\\\b.epw"])
def test_a_job_reads_no_file_outside_its_own_folder(name):
    entry = job_from("start")
    with pytest.raises(JobError) as refused:
        put(entry, 'site = "potsdam-de"', f'weather_file = "{name}"')
    assert "plain name" in refused.value.problems[0].message

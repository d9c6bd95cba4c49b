"""The intake as a story: a few short steps, then the first job with its answer."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.documents.intake.form import intake_form
from ampwright.documents.intake.questions import STEPS, Step
from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.job.intake.story import Story
from ampwright.web.app import the_desk
from ampwright.web.guards import account_of, changing
from ampwright.web.models import JobEntry
from ampwright.web.reading import today
from ampwright.web.reckoning import first_job_of
from ampwright.web.store import Change, new_job
from ampwright.web.story import kept, reader_words, step_errors, step_fields, story_of, told_lines

__all__ = ["intake", "intake_anew", "intake_form_file", "intake_made", "intake_step", "job_of_story"]

DRAFT = "story"


@changing
def intake(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Begin with the first step."""
    return redirect("intake-step", STEPS[0].name)


@changing
def intake_step(request: HttpRequest, name: str) -> HttpResponse:
    """Show one step and keep what is typed; back always goes, on only where all can be read."""
    number = next((n for n, each in enumerate(STEPS) if each.name == name), None)
    if number is None:
        raise Http404
    step, draft = STEPS[number], dict(request.session.get(DRAFT, {}))
    errors: dict[str, str] = {}
    if request.method == "POST":
        draft = kept(draft, request.POST, step)
        request.session[DRAFT] = draft
        if "back" in request.POST:
            return redirect("intake-step", STEPS[max(number - 1, 0)].name)
        errors = step_errors(step, draft)
        if not errors:
            last = number == len(STEPS) - 1
            return redirect("intake-made") if last else redirect("intake-step", STEPS[number + 1].name)
    words = _step_words(step, number, draft, errors)
    return render(request, "web/intake.html", words, status=422 if errors else 200)


def _step_words(step: Step, number: int, draft: dict[str, str], errors: dict[str, str]) -> dict[str, Any]:
    words = reader_words()
    return {
        "step": step,
        "title": words(step.title),
        "lead": words(step.lead),
        "number": number + 1,
        "count": len(STEPS),
        "groups": step_fields(step, draft, errors),
        "whole_error": errors.get("", ""),
        "errors": errors,
        "is_first": number == 0,
    }


@changing
def intake_made(request: HttpRequest) -> HttpResponse:
    """Show all answers; make the first job of them and show its answer."""
    draft = request.session.get(DRAFT, {})
    problems: tuple[Problem, ...] = ()
    if request.method == "POST":
        try:
            entry = job_of_story(request, story_of(draft))
        except JobError as error:
            problems = error.problems
        except AmpwrightError as error:
            problems = (Problem(path="", message=str(error)),)
        else:
            del request.session[DRAFT]
            return redirect("answer", entry.pk)
    words = {"lines": told_lines(draft), "problems": problems, "last": STEPS[-1].name}
    return render(request, "web/intake_made.html", words, status=422 if problems else 200)


@changing
@require_GET
def intake_form_file(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give the form that a customer fills in at home, as one file in the reader's language."""
    words = reader_words()
    response = HttpResponse(intake_form(words), content_type="text/html; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="questions-{words.language}.html"'
    return response


@changing
@require_POST
def intake_anew(request: HttpRequest) -> HttpResponse:
    """Forget the draft."""
    request.session.pop(DRAFT, None)
    return redirect("intake")


def job_of_story(request: HttpRequest, story: Story) -> JobEntry:
    """Return the job made of a story; the full answers rest while it is made."""
    text: str = the_desk().ask(first_job_of, story, today())
    who = story.customer or gettext("a customer")
    change = Change(
        who=account_of(request).name, what=gettext("first job from what {who} told").format(who=who)
    )
    return new_job(text, change)

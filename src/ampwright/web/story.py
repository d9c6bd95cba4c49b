"""The intake as pages: what was typed so far, what a step shows, and the answers made of it.

The draft is kept in the session as it was typed, so that going back loses nothing, wrong values neither.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.translation import get_language, gettext

from ampwright.climate.sources import shipped_sites
from ampwright.documents.intake.form import fitting_questions
from ampwright.documents.intake.questions import NUMBERS, STEPS, UNKNOWN, Question, Step
from ampwright.documents.words.words import LANGUAGES, Words, load_words
from ampwright.job.intake.answers import story_from_raw
from ampwright.job.intake.story import APPLIANCE_KINDS, Story
from ampwright.job.intake.usual import usual_appliances
from ampwright.records import record
from ampwright.validation import problems_from, validated

__all__ = [
    "StoryField",
    "chosen_kinds",
    "kept",
    "reader_words",
    "step_errors",
    "step_fields",
    "story_of",
    "told_lines",
]

LONGEST = 1000
"""Longest text kept of one answer; no field of a story takes more."""
Draft = Mapping[str, str]


@record
class StoryField:
    """One question as a page shows it."""

    name: str
    """Name of its input."""
    question: str
    """In the reader's language."""
    form: str
    """How it is answered."""
    value: str
    """What was typed."""
    options: tuple[tuple[str, str], ...]
    """Value and words of each choice."""
    groups: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    """Places by country."""
    hint: str
    """Where to look."""
    unit: str
    """Printed unit."""
    error: str
    """What is wrong, and how to mend it."""
    is_needed: bool
    """True where it may not be left empty."""


def reader_words() -> Words:
    """Return the documents' catalogue of the reader's language."""
    language = get_language() or "en"
    return load_words(next((each for each in LANGUAGES if each == language), "en"))


def kept(draft: Draft, posted: Draft, step: Step) -> dict[str, str]:
    """Return the draft with what was typed on one step; a tick that is gone is taken out."""
    names = set(_names(step, draft))
    typed = {name: posted[name][:LONGEST] for name in names if posted.get(name, "").strip()}
    return {**{name: value for name, value in draft.items() if name not in names}, **typed}


def _names(step: Step, draft: Draft) -> Iterator[str]:
    if step.name == "appliances":
        yield from (f"has.{kind}" for kind in APPLIANCE_KINDS)
    for prefix in _prefixes(step, draft):
        yield from (f"{prefix}.{question.field}" for question in _asked(step, prefix))


def _prefixes(step: Step, draft: Draft) -> tuple[str, ...]:
    return chosen_kinds(draft) if step.name == "figures" else (step.name,)


def _asked(step: Step, prefix: str) -> tuple[Question, ...]:
    """Return the questions of a step; of an appliance those that fit its kind."""
    if step.name != "figures":
        return step.questions
    return fitting_questions(step.questions, usual_appliances()[prefix])


def chosen_kinds(draft: Draft) -> tuple[str, ...]:
    """Return the appliances that were ticked, in the order of the table."""
    return tuple(kind for kind in APPLIANCE_KINDS if f"has.{kind}" in draft)


def step_fields(step: Step, draft: Draft, errors: Mapping[str, str]) -> list[tuple[str, list[StoryField]]]:
    """Return the fields of a step under their headings."""
    words = reader_words()
    if step.name == "appliances":
        ticks = [_tick(kind, draft, words) for kind in APPLIANCE_KINDS]
        return [("", ticks)]
    return [
        (
            words(usual_appliances()[prefix].name) if step.name == "figures" else "",
            [_field(each, f"{prefix}.{each.field}", draft, errors, words) for each in _asked(step, prefix)],
        )
        for prefix in _prefixes(step, draft)
    ]


def _tick(kind: str, draft: Draft, words: Words) -> StoryField:
    return StoryField(
        name=f"has.{kind}",
        question=words(usual_appliances()[kind].name),
        form="tick",
        value=draft.get(f"has.{kind}", ""),
        options=(),
        groups=(),
        hint="",
        unit="",
        error="",
        is_needed=False,
    )


def _field(
    question: Question, name: str, draft: Draft, errors: Mapping[str, str], words: Words
) -> StoryField:
    return StoryField(
        name=name,
        question=words(question.text),
        form=question.form,
        value=draft.get(name, ""),
        options=tuple((value, words(text)) for value, text in question.options),
        groups=places_by_country() if question.form == "place" else (),
        hint=_hint(question, words),
        unit=question.unit,
        error=errors.get(name, ""),
        is_needed=question.is_needed,
    )


def _hint(question: Question, words: Words) -> str:
    empty = "" if question.is_needed or question.form not in NUMBERS else words(question.empty)
    return f"{words(question.hint) if question.hint else ''} {empty}".strip()


def places_by_country() -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Return id and name of the shipped places under their countries."""
    sites = shipped_sites().values()
    return tuple(
        (country, tuple((site.id, site.name) for site in sites if site.country == country))
        for country in sorted({site.country for site in sites})
    )


def step_errors(step: Step, draft: Draft) -> dict[str, str]:
    """Return what is wrong with the answers of a step, by the name of the input."""
    if step.name == "appliances":
        return {} if chosen_kinds(draft) else {"": gettext("Tick at least one thing that is to run.")}
    errors: dict[str, str] = {}
    for prefix in _prefixes(step, draft):
        part, wrong = _part(step, prefix, draft)
        errors |= wrong
        if not wrong and step.name != "about":
            errors |= _record_errors(step.kind, part, prefix)
    return errors


def _record_errors(kind: type, part: dict[str, Any], prefix: str) -> dict[str, str]:
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    try:
        validated(kind, part)
    except ValidationError as error:
        return {f"{prefix}.{each.path}": each.message for each in problems_from(error, part, kind=kind)}
    return {}


def _part(step: Step, prefix: str, draft: Draft) -> tuple[dict[str, Any], dict[str, str]]:
    """Return one part of the story as tables, and what cannot be read."""
    part: dict[str, Any] = {"kind": prefix} if step.name == "figures" else {}
    wrong: dict[str, str] = {}
    for question in _asked(step, prefix):
        name = f"{prefix}.{question.field}"
        typed = draft.get(name, "").strip()
        if typed:
            value = _value(question, typed)
            part[question.field] = value
            if value is None:
                wrong[name] = gettext("must be a number, for example 2.5, or empty")
        elif question.is_needed:
            wrong[name] = gettext("choose one")
    return part, wrong


def _value(question: Question, typed: str) -> Any:
    """Return what a typed text means; None where it should be a number and is none."""
    if question.form in ("number", "whole"):
        try:
            number = float(typed.replace(",", "."))
        except ValueError:
            return None
        is_whole = question.form == "whole" and number == number // 1
        return int(number) if is_whole else number
    if question.form == "choice" and typed in ("true", "false"):
        return typed == "true"
    return int(typed) if question.form == "choice" and typed.isdecimal() else typed


def story_of(draft: Draft) -> Story:
    """Return the story that a draft tells; raises JobError with every problem."""
    language = reader_words().language
    raw: dict[str, Any] = {"form": "ampwright-intake-1", "language": language, "appliance": []}
    for step in STEPS:
        for prefix in _prefixes(step, draft) if step.name != "appliances" else ():
            part, _ = _part(step, prefix, draft)
            if step.name == "figures":
                raw["appliance"].append(part)
            elif step.name == "about":
                raw |= part
            else:
                raw[step.name] = part
    return story_from_raw(raw, name=gettext("Answers"))


def told_lines(draft: Draft) -> list[tuple[Step, str, list[tuple[str, str]], bool]]:
    """Return step, title, questions with their answers, and whether something is wrong with them."""
    words = reader_words()
    return [
        (step, words(step.title), _told(step, draft, words), bool(step_errors(step, draft))) for step in STEPS
    ]


def _told(step: Step, draft: Draft, words: Words) -> list[tuple[str, str]]:
    groups = step_fields(step, draft, {})
    said = [
        (f"{head}: {each.question}" if head else each.question, _said(each, words))
        for head, fields in groups
        for each in fields
    ]
    return [(question, answer) for question, answer in said if answer]


def _said(field: StoryField, words: Words) -> str:
    if field.form == "tick":
        return "✓" if field.value else ""
    if not field.value:
        return "" if field.form in ("text", "long-text") or field.name.endswith(".count") else words(UNKNOWN)
    names = dict(field.options) | {key: name for _, group in field.groups for key, name in group}
    return f"{names.get(field.value, field.value)} {field.unit}".strip()

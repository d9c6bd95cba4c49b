"""The questions of the intake as one file that a customer opens at home, without any server."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from ampwright.climate.sources import shipped_sites
from ampwright.documents.intake.questions import NUMBERS, STEPS, UNKNOWN, Question, Step, bounds
from ampwright.documents.single_file.html import Html, tag, whole_page
from ampwright.documents.words.words import Words
from ampwright.job.intake.story import StoryAppliance
from ampwright.job.intake.usual import UsualAppliance, usual_appliances

__all__ = ["fitting_questions", "intake_form"]


def intake_form(words: Words) -> str:
    """Return the form as a whole page."""
    title = words("Questions for your vehicle's power system")
    body = tag(
        "main",
        tag("h1", title),
        tag(
            "p",
            words(
                "This page works without internet and sends nothing. At its end you save your answers as a small file and send it to the workshop yourself."
            ),
        ),
        tag(
            "noscript",
            tag("p", words("This page needs JavaScript; allow it for this file."), class_="notice"),
        ),
        tag("p", "", id="kept", class_="notice", role="status"),
        *(_step(step, words) for step in STEPS),
        _end(words),
        **_said(words),
    )
    style = files("ampwright.documents.intake").joinpath("form.css").read_text(encoding="utf-8")
    return whole_page(title=title, language=words.language, body=body, styles=(style,), script=_script())


def fitting_questions(questions: tuple[Question, ...], usual: UsualAppliance) -> tuple[Question, ...]:
    """Return the questions that fit an appliance: no power for a refrigerator, no hours for a kettle."""
    left_out = {"power_w", "day_h", "uses", "use_minutes"} if usual.part else set()
    left_out |= {"uses", "use_minutes"} if usual.day_hours is not None else {"day_h"}
    return tuple(each for each in questions if each.field not in left_out)


def _script() -> str:
    folder = files("ampwright.documents.intake")
    code = folder.joinpath("vendor", "qrcode.js").read_text(encoding="utf-8")
    return code + folder.joinpath("form.js").read_text(encoding="utf-8")


def _said(words: Words) -> dict[str, str]:
    """Return what the script says."""
    return {
        "data_choose": words("Choose one."),
        "data_number": words("A number from {low} to {high}, or empty."),
        "data_whole": words("A whole number from {low} to {high}, or empty."),
        "data_tick_one": words("Tick at least one thing that is to run."),
        "data_wrong": words("Something is missing or cannot be read; it is marked above."),
        "data_saved": words(
            "Saved as answers.json where your browser keeps its downloads. Send that file to the workshop."
        ),
        "data_copied": words("Copied. Paste it into a message to the workshop."),
        "data_copy_self": words("Please copy the text below by hand."),
        "data_too_long": words("Too long for a code that a telephone reads; save the file instead."),
        "data_shown": words("The workshop scans this code; it holds your answers."),
        "data_code_title": words("Code with your answers"),
        "data_not_kept": words(
            "This browser keeps no draft of this page: save your answers before you close it."
        ),
        "data_sure": words("Empty the whole form?"),
    }


def _step(step: Step, words: Words) -> Html:
    head = (tag("h2", words(step.title)), tag("p", words(step.lead), class_="quiet"))
    if step.name == "appliances":
        problem = tag("p", "", id="appliances-problem", class_="notice", role="alert")
        return tag("section", *head, problem, tag("div", *_ticks(words), class_="ticks"))
    if step.name == "figures":
        return tag("section", *head, *_figures(step, words))
    return tag("section", *head, _asked(step.questions, step.name, step.kind, words))


def _ticks(words: Words) -> Iterator[Html]:
    for kind, usual in usual_appliances().items():
        box = tag("input", type="checkbox", id=f"has-{kind}", data_tick=kind)
        yield tag("label", box, words(usual.name))


def _figures(step: Step, words: Words) -> Iterator[Html]:
    for kind, usual in usual_appliances().items():
        asked = _asked(fitting_questions(step.questions, usual), kind, StoryAppliance, words)
        yield tag("fieldset", tag("legend", words(usual.name)), asked, id=f"figures-{kind}", hidden=True)


def _asked(questions: tuple[Question, ...], part: str, kind: type, words: Words) -> Html:
    return tag("div", *(_question(each, part, kind, words) for each in questions), class_="asked")


def _question(question: Question, part: str, kind: type, words: Words) -> Html:
    name = f"{part}-{question.field}"
    limits = bounds(kind, question.field)
    attributes: dict[str, str | bool] = {
        "id": name,
        "data_part": part,
        "data_field": question.field,
        "data_form": question.form,
        "aria_describedby": f"{name}-hint",
    }
    if question.is_needed:
        attributes["data_needed"] = "yes"
    if limits is not None and question.form in ("number", "whole"):
        attributes |= {"data_low": f"{limits[0]:g}", "data_high": f"{limits[1]:g}"}
    empty = "" if question.is_needed or question.form not in NUMBERS else words(question.empty)
    hint = f"{words(question.hint) if question.hint else ''} {empty}".strip()
    unit = tag("span", f" {question.unit}", class_="quiet") if question.unit else ""
    return tag(
        "div",
        tag("label", words(question.text), for_=name),
        _control(question, attributes, words),
        unit,
        tag("p", "", id=f"{name}-problem", class_="problem", role="alert"),
        tag("p", hint, id=f"{name}-hint"),
        class_="question",
    )


def _control(question: Question, attributes: dict[str, str | bool], words: Words) -> Html:
    if question.form in ("choice", "place"):
        first = words("choose") if question.is_needed else words(UNKNOWN)
        options = [tag("option", words(text), value=value) for value, text in question.options]
        if question.form == "place":
            options = list(_places())
        return tag("select", tag("option", first, value=""), *options, **attributes)
    if question.form == "long-text":
        return tag("textarea", "", rows="4", maxlength="1000", **attributes)
    if question.form == "text":
        return tag("input", maxlength="80", autocomplete="off", **attributes)
    return tag("input", class_="num", inputmode="decimal", autocomplete="off", placeholder="?", **attributes)


def _places() -> Iterator[Html]:
    sites = shipped_sites().values()
    for country in sorted({site.country for site in sites}):
        options = (tag("option", site.name, value=site.id) for site in sites if site.country == country)
        yield tag("optgroup", *options, label=country)


def _end(words: Words) -> Html:
    return tag(
        "section",
        tag("h2", words("Save and send")),
        tag("p", "", id="wrong", class_="notice", role="alert"),
        tag(
            "p",
            tag("button", words("Save the answers as a file"), id="save", type="button", class_="main"),
            tag("button", words("Copy the answers"), id="copy", type="button"),
            tag("button", words("Show them as a code"), id="show", type="button"),
            tag("button", words("Empty the form"), id="anew", type="button"),
        ),
        tag("p", "", id="done", role="status"),
        tag("div", "", id="code"),
        tag("label", words("Your answers as text"), for_="said"),
        tag("textarea", "", id="said", rows="5", readonly=True, spellcheck="false"),
        tag(
            "p",
            words(
                "What is told here is the beginning of a calculation, no certificate: the local code and licensed practice decide."
            ),
            class_="quiet",
        ),
    )

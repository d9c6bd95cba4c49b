"""The job as one page in one file: all of it is there, nothing is loaded, strangers' words stay words."""

from __future__ import annotations

import dataclasses
import re
from html.parser import HTMLParser

import pytest
from materials import EXAMPLES, material

from ampwright.documents.job_page.job_page import job_page


class Page(HTMLParser):
    """Texts and tags of a page; open tags must be closed in order."""

    EMPTY = frozenset({"meta", "img", "br", "input", "hr"})

    def __init__(self, text):
        super().__init__()
        self.tags, self.open, self.texts, self.attributes = [], [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        self.attributes += attributes
        if tag not in self.EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.tags.append(tag)
        self.attributes += attributes

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.texts.append(data)

    @property
    def text(self):
        return " ".join(" ".join(self.texts).split())


@pytest.mark.parametrize("name", [*EXAMPLES, "base-mains"])
def test_the_page_holds_verdicts_loads_circuits_and_cautions(name):
    found = material(name)
    page = Page(job_page(found))
    assert page.open == []
    assert found.answer.use_verdict in page.text
    assert found.answer.wiring_verdict in page.text
    assert page.text.count("DRAFT, DO NOT ENERGISE") >= 1
    for run in found.design.runs:
        assert f" {run.id} " in page.text, run.id
    for load in found.design.loads:
        assert load.name in page.text, load.name
    for word in ("Single-line diagram", "Circuits with their checks", "Cautions", "licensed electrician"):
        assert word in page.text
    assert page.tags.count("svg") >= 2
    assert "Whom to call" in page.text


def test_a_sound_job_has_no_banner():
    found = material("night-survey-van")
    sound = dataclasses.replace(found.answer.assessment, wiring_verdict="no fault found")
    answer = dataclasses.replace(found.answer, wiring_verdict="no fault found", assessment=sound)
    page = Page(job_page(dataclasses.replace(found, answer=answer)))
    assert "DO NOT ENERGISE" not in page.text


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_page_needs_no_script_and_nothing_from_elsewhere(language):
    text = job_page(material("base-mains", language=language))
    page = Page(text)
    assert f'<html lang="{language}">' in text
    assert "script" not in page.tags
    assert not {"link", "iframe", "object", "form"} & set(page.tags)
    assert all(value.startswith("data:") for key, value in page.attributes if key == "src")
    assert [value for key, value in page.attributes if key in ("href", "xlink:href")] == []
    outside = set(re.findall(r"https?://[^\s\"'<)]+", text)) - {"http://www.w3.org/2000/svg"}
    assert outside == set()
    ids = [value for key, value in page.attributes if key == "id"]
    assert len(ids) == len(set(ids))


def test_words_of_a_job_stay_words():
    found = material("base-12v")
    bad = '<img src=x onerror="alert(1)">'
    job = found.design.job
    about = dataclasses.replace(job.job, title=bad, customer=bad, author=bad)
    vehicle = dataclasses.replace(job.vehicle, description=bad)
    design = dataclasses.replace(found.design, job=dataclasses.replace(job, job=about, vehicle=vehicle))
    assessment = dataclasses.replace(found.answer.assessment, design=design)
    text = job_page(
        dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))
    )
    assert bad not in text
    assert "<img src=x" not in text
    assert "&lt;img src=x" in text

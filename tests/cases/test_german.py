"""Every finding of every case can be said in German: no sentence of a rule is left in English.

A text is a sentence of the catalogue, or it is a name: an id, a name or a node of the job.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import planted as cases
import pytest
from babel.messages.pofile import read_po

import ampwright
from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding
from ampwright.said import Said

NAMES = cases.case_names()
FOLDER = Path(ampwright.__file__).parent / "examples"
DEMONSTRATIONS = sorted(path.name for path in FOLDER.glob("*.toml"))
with files("ampwright.documents.words").joinpath("de.po").open("rb") as stream:
    WRITTEN = {message.id for message in read_po(stream) if message.string}
NUMBER = re.compile(r"( \d\d:\d\d|\.\d+)$")
DESIGNATION = re.compile(r"\d+(/0)? AWG|IP[0-6X][0-9X]")
TEXTS = ("message", "way_out", "caution", "no_override", "subject")


def english(text: str) -> Iterator[str]:
    """Yield every sentence without a translation, and every text that is no sentence."""
    if not isinstance(text, Said):
        yield text
        return
    has_words = re.search("[^\\W\\d_]", re.sub(r"\{[^{}]*\}", "", text.sentence)) is not None
    if has_words and text.sentence not in WRITTEN:
        yield text.sentence
    for filled in text.filled.values():
        if isinstance(filled, str):
            yield from english(filled)


def names_in(found: Assessment) -> set[str]:
    """Return ids, names and nodes of a job: what no language changes."""
    design = found.design
    runs = {run.id for run in design.runs} | {device.id for run in design.runs for device in run.devices}
    own = {each.id for each in (*design.parts, *design.loads, *design.zones, *design.ports)}
    plugs = {plug.id for run in design.runs for plug in run.plugs}
    return runs | own | plugs | set(design.nodes) | {design.job.job.id} | set(_strings(design.job))


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from _strings(each)
    elif hasattr(value, "__dataclass_fields__"):
        for field in value.__dataclass_fields__:
            yield from _strings(getattr(value, field))


def left_in_english(finding: Finding, names: set[str]) -> list[str]:
    texts = [each for field in TEXTS for each in english(getattr(finding, field))]
    return [
        text
        for text in texts
        if re.search(r"[^\W\d_]{2}", text)
        and not DESIGNATION.fullmatch(text)
        and NUMBER.sub("", text) not in names
    ]


@pytest.mark.parametrize("name", NAMES)
def test_no_sentence_is_left_in_english(name: str) -> None:
    found = cases.faulty(name)
    names = names_in(found)
    left = {f.rule: texts for f in found.findings if (texts := left_in_english(f, names))}
    assert left == {}


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_no_sentence_of_a_demonstration_is_left_in_english(name: str) -> None:
    loaded = api.load(FOLDER / name)
    found = assess(loaded.design, loaded.sun)
    names = names_in(found)
    left = {f.rule: texts for f in found.findings if (texts := left_in_english(f, names))}
    assert left == {}


def test_an_english_sentence_would_be_found() -> None:
    plain = cases.faulty(NAMES[0]).findings[0].message
    assert [*english(str(plain))] == [str(plain)]
    assert [*english(Said("No such sentence of {part}.", {"part": "W1"}))] == [
        "No such sentence of {part}.",
        "W1",
    ]

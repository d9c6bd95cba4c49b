"""Every text that a template shows is marked for translation."""

import re
from pathlib import Path

import pytest

import ampwright.web

TEMPLATES = Path(ampwright.web.__file__).parent / "templates" / "web"
NAMES = {"Ampwright", "EPW", "CSV", "TOML", "UTC", "Wh", "ZIP", "HTML", "JSON", "PDF", "QR"}
"""Words that are the same in every language."""
SAID = ("alt", "aria-label", "label", "placeholder", "title")
PAIRED = re.compile(
    r"{%\s*(block|comment)translate.*?{%\s*endblocktranslate\s*%}|{%\s*block body\s*%}.*?{%\s*endblock\s*%}|<!--.*?-->",
    re.DOTALL,
)
TAG = re.compile(r"{%.*?%}|{{.*?}}|{#.*?#}", re.DOTALL)
ATTRIBUTE = re.compile(rf'\s(?:{"|".join(SAID)})="([^"]*)"')
ELEMENT = re.compile(r"<(script|style)\b.*?</\1>|<[^>]*>", re.DOTALL)
WORD = re.compile(r"[A-Za-zÄÖÜäöüß]{2,}")


def unmarked(text):
    plain = TAG.sub("\N{WHITE SQUARE}", PAIRED.sub("", text))
    said = " ".join(ATTRIBUTE.findall(plain)) + " " + ELEMENT.sub(" ", plain)
    return sorted(set(WORD.findall(re.sub(r"&\w+;", " ", said))) - NAMES)


@pytest.mark.parametrize("path", sorted(TEMPLATES.rglob("*.html")), ids=lambda path: path.stem)
def test_every_text_of_a_template_is_marked(path):
    assert unmarked(path.read_text(encoding="utf-8")) == []


def test_a_text_that_is_not_marked_is_found():
    assert unmarked('<p title="Here">{% translate "Yes" %} and {{ x }}<b>more</b></p>') == [
        "Here",
        "and",
        "more",
    ]
    assert (
        unmarked('<p title="{% translate "Here" %}">{{ x }} W</p><!-- why --><script src="x.js"></script>')
        == []
    )

"""Pages that are one file: every text escaped, nothing loaded."""

from __future__ import annotations

from ampwright.documents.single_file.html import Html, joined, raw, tag, whole_page

BAD = '<script>alert("1")</script>&amp;'


def test_texts_and_attributes_are_escaped_and_elements_stay():
    made = tag("p", BAD, tag("b", "x"), title=BAD)
    assert "<script>" not in made
    assert made.count("&lt;script&gt;") == 2
    assert made.endswith("<b>x</b></p>")
    assert '"1"' not in made.partition(">")[0].removeprefix('<p title="')


def test_joined_keeps_what_is_html_and_escapes_the_rest():
    assert joined("a<", raw("<i>b</i>")) == "a&lt;<i>b</i>"
    assert isinstance(joined("a"), Html)


def test_a_page_forbids_itself_to_load_anything_and_says_its_language():
    page = whole_page(title=BAD, language="de", body=tag("main", BAD), styles=("p { margin: 0 }",))
    assert page.startswith('<!DOCTYPE html>\n<html lang="de">')
    assert "default-src &#x27;none&#x27;" in page
    assert "script-src" not in page
    assert "<script" not in page
    assert "script-src &#x27;unsafe-inline&#x27;" in whole_page(
        title="t", language="en", body=tag("p"), styles=(), script="1;"
    )

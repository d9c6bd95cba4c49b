import copy
import json
import pickle

import pytest

from ampwright.documents.words.words import Words
from ampwright.said import Said, all_of, capital, said, said_together

GERMAN = {
    "{load} is off for {hours_h:.1f} h": "{load} ist {hours_h:.1f} h aus",
    "{wh:,.0f} Wh a day": "{wh:,.0f} Wh am Tag",
    "{wh:.0f} Wh are missing": "{wh:.0f} Wh fehlen",
    "on day {day}": "am Tag {day}",
    "{load} fails {when}": "{load} fällt {when} aus",
}


def german():
    return Words(language="de", translation=lambda text: GERMAN.get(text, text))


def test_reads_as_the_plain_text():
    text = said("{load} is off for {hours_h:.1f} h", load="lamp", hours_h=2.54)
    assert text == "lamp is off for 2.5 h"
    assert f"So {text}." == "So lamp is off for 2.5 h."
    assert json.loads(json.dumps({"text": text})) == {"text": "lamp is off for 2.5 h"}
    assert hash(text) == hash("lamp is off for 2.5 h")


def test_is_said_in_the_language_with_its_decimal_sign():
    assert (
        german().said(said("{load} is off for {hours_h:.1f} h", load="v1.2", hours_h=2.54))
        == "v1.2 ist 2,5 h aus"
    )


def test_thousands_are_set_apart_by_a_space_in_the_language():
    assert german().said(said("{wh:,.0f} Wh a day", wh=12345.6)) == "12\u202f346 Wh am Tag"


def test_whole_figures_are_grouped_without_being_asked():
    text = said("{wh:.0f} Wh are missing", wh=12345.6)
    assert text == "12,346 Wh are missing"
    assert german().said(text) == "12\u202f346 Wh fehlen"


def test_texts_within_texts_are_said_too():
    text = said("{load} fails {when}", load="lamp", when=said("on day {day}", day=3))
    assert text == "lamp fails on day 3"
    assert german().said(text) == "lamp fällt am Tag 3 aus"


def test_texts_joined_are_said_one_by_one():
    both = said_together((said("on day {day}", day=1), "", "F{1}", said("on day {day}", day=2)), between="; ")
    assert both == "on day 1; F{1}; on day 2"
    assert german().said(both) == "am Tag 1; F{1}; am Tag 2"


def test_a_plain_text_stays_as_it_is():
    assert german().said("on day {day}") == "on day {day}"
    assert german().said("") == ""


@pytest.mark.parametrize("copied", [copy.deepcopy, copy.copy, lambda text: pickle.loads(pickle.dumps(text))])  # noqa: S301 - its own text
def test_a_copy_remembers_its_sentence(copied):
    text = copied(said("on day {day}", day=3))
    assert isinstance(text, Said)
    assert german().said(text) == "am Tag 3"


def test_texts_added_are_said_one_by_one():
    text = "A: " + said("on day {day}", day=1) + said("on day {day}", day=2)
    assert isinstance(text, Said)
    assert text == "A: on day 1on day 2"
    assert german().said(text) == "A: am Tag 1am Tag 2"


def test_a_capital_stands_at_the_beginning_in_each_language():
    text = capital(said("on day {day}", day=3))
    assert text == "On day 3"
    assert german().said(text) == "Am Tag 3"
    assert pickle.loads(pickle.dumps(text)) == "On day 3"  # noqa: S301 - its own text


def test_a_list_ends_with_and():
    assert all_of(()) == ""
    assert all_of(("a",)) == "a"
    assert all_of(("a", "b", "c")) == "a, b and c"

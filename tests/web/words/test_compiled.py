import importlib.util
import os
import re
import shutil
import time
from gettext import GNUTranslations
from pathlib import Path

import pytest
from django.utils import translation

from ampwright.web.words.compiled import CATALOGUES, LANGUAGES, compiled_folder

ROOT = Path(__file__).parents[3]
SPEC = importlib.util.spec_from_file_location("web_translations", ROOT / "tools" / "web_translations.py")
gathering = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(gathering)
EACH = [(language, area) for language in gathering.LANGUAGES for area in gathering.AREAS]
FIELDS = re.compile(r"%\((\w+)\)s|\{(\w*)[^}]*\}")


def strings(value):
    return list(value) if isinstance(value, (list, tuple)) else [value]


@pytest.mark.parametrize(("language", "area"), EACH)
def test_catalogue_has_exactly_the_texts_there_are(language, area):
    written = {(each.id, each.context) for each in gathering.read(language, area) if each.id}
    assert written == gathering.texts(area)


@pytest.mark.parametrize(("language", "area"), EACH)
def test_every_text_is_translated(language, area):
    assert gathering.missing(gathering.read(language, area)) == []


@pytest.mark.parametrize(("language", "area"), EACH)
def test_translations_keep_their_fields(language, area):
    for message in gathering.read(language, area):
        if message.id:
            allowed = {name for text in strings(message.id) for name in FIELDS.findall(text)}
            for said in strings(message.string):
                assert set(FIELDS.findall(said)) <= allowed, message.id
            assert set(FIELDS.findall(strings(message.string)[-1])) == set(
                FIELDS.findall(strings(message.id)[-1])
            ), message.id


@pytest.mark.parametrize(("language", "area"), EACH)
def test_translations_bring_in_no_mark_up(language, area):
    for message in gathering.read(language, area):
        for sign in '<>"&' if message.id else "":
            assert all(sign not in said for said in strings(message.string)) or sign in str(message.id), (
                message.id
            )


def test_a_template_is_gathered_whatever_its_indent_and_quotes():
    source = gathering.template_source(
        """{% load i18n %}<p>{% translate "It's" %}
              {% blocktranslate trimmed count n=rows %}{{ n }} row{% plural %}{{ n }} rows{% endblocktranslate %}
           {% translate "May" context "month" %}</p>"""
    )
    found = gathering._marked(source, Path("x.html"))  # noqa: SLF001
    assert found == {("It's", None), (("%(n)s row", "%(n)s rows"), None), ("May", "month")}


def test_every_language_has_a_catalogue():
    assert [code for code, _ in LANGUAGES] == ["en", *gathering.LANGUAGES]


def test_what_is_compiled_says_what_is_written(tmp_path):
    folder = compiled_folder(tmp_path)
    with (folder / "de" / "LC_MESSAGES" / "django.mo").open("rb") as stream:
        assert GNUTranslations(stream).gettext("Jobs") == "Aufträge"


def test_a_changed_catalogue_is_compiled_again_and_an_unchanged_one_is_not(tmp_path, monkeypatch):
    shutil.copytree(CATALOGUES, tmp_path / "words")
    monkeypatch.setattr("ampwright.web.words.compiled.CATALOGUES", tmp_path / "words")
    first = compiled_folder(tmp_path / "data")
    compiled = first / "de" / "LC_MESSAGES" / "django.mo"
    os.utime(compiled, (1.0, 1.0))
    assert compiled_folder(tmp_path / "data") == first
    assert compiled.stat().st_mtime < time.time() - 3600.0
    changed = tmp_path / "words" / "de" / "pages.po"
    changed.write_text(changed.read_text(encoding="utf-8").replace("Aufträge", "Arbeiten"), encoding="utf-8")
    second = compiled_folder(tmp_path / "data")
    assert second != first
    assert b"Arbeiten" in (second / "de" / "LC_MESSAGES" / "django.mo").read_bytes()


def test_a_page_speaks_the_language_the_browser_asks_for(browser):
    german = browser.get("/", headers={"accept-language": "de-AT,de;q=0.9"})
    assert '<html lang="de">' in german.content.decode()
    assert "Neuer Auftrag" in german.content.decode()
    assert german.headers["Content-Language"] == "de"
    english = browser.get("/", headers={"accept-language": "fr"}).content.decode()
    assert '<html lang="en">' in english
    assert "New job" in english
    assert translation.get_language() == "en"

import importlib.util
import re
from pathlib import Path

import pytest

from ampwright.documents.words.words import LANGUAGES, load_words

ROOT = Path(__file__).parents[3]
SPEC = importlib.util.spec_from_file_location("translations", ROOT / "tools" / "translations.py")
translations = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(translations)


def fields(text):
    return sorted(re.findall(r"\{(\w*)[^}]*\}", text))


@pytest.mark.parametrize("language", translations.LANGUAGES)
def test_catalogue_has_exactly_the_texts_there_are(language):
    written = {message.id for message in translations.read(language) if message.id}
    assert written == set(translations.texts())


@pytest.mark.parametrize("language", translations.LANGUAGES)
def test_compiled_catalogue_is_the_written_one(language):
    stored = (translations.FOLDER / f"{language}.mo").read_bytes()
    assert stored == translations.mo_bytes(translations.read(language))


@pytest.mark.parametrize("language", translations.LANGUAGES)
def test_translations_keep_their_fields(language):
    for message in translations.read(language):
        if message.id and message.string:
            assert fields(message.string) == fields(message.id), message.id


def test_every_language_has_a_catalogue():
    assert set(LANGUAGES) == {"en", *translations.LANGUAGES}


def test_texts_are_filled_in():
    assert load_words("en")("{date}, revision {revision}", date="x", revision=3) == "x, revision 3"


def test_german_figures_have_a_comma():
    assert load_words("de").quantity(2.5, "A") == "2,50\u00a0A"
    assert load_words("en").quantity(2.5, "A") == "2.50\u00a0A"


@pytest.mark.parametrize("language", translations.LANGUAGES)
def test_every_text_is_translated(language):
    missing = [message.id for message in translations.read(language) if message.id and not message.string]
    assert missing == []

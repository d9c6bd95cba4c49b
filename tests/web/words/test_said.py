from typing import get_args

from django.utils import translation
from django.utils.translation import gettext
from web_jobs import job_from

from ampwright.assessment.result import UseVerdict, WiringVerdict
from ampwright.findings import Group, Severity
from ampwright.web.models import Role, State
from ampwright.web.words.said import SAID


def test_every_word_of_a_list_that_is_shown_is_marked():
    shown = {
        *State.values,
        *Role.values,
        *map(str, Severity),
        *get_args(UseVerdict),
        *get_args(WiringVerdict),
    }
    shown |= {str(group).capitalize() for group in Group}
    assert shown <= set(SAID)


def test_verdicts_differ_in_german_as_they_do_in_english():
    with translation.override("de"):
        words = [gettext(word) for word in (*get_args(UseVerdict), *get_args(WiringVerdict))]
    assert len(set(words)) == 6
    assert words[3:] == ["kein Fehler gefunden", "nicht vollständig geprüft", "nicht unter Spannung setzen"]


def test_a_german_reader_sees_no_english_verdict(browser):
    entry = job_from("start")
    headers = {"accept-language": "de"}
    live = browser.get(f"/jobs/{entry.pk}/live", headers=headers).content.decode()
    assert "Eignung für die Nutzung" in live
    assert "Verdrahtung und Schutz" in live
    assert not any(word in live for word in (*get_args(UseVerdict), *get_args(WiringVerdict)))
    page = browser.get(f"/jobs/{entry.pk}/page/loads", headers=headers).content.decode()
    assert "Was laufen soll, wann, und wie wichtig es ist." in page

"""The diagram as a page: what can be chosen on it, and which findings, figures and fields are shown of it."""

import re
from html import unescape

import pytest
from web_jobs import job_from, put, whole

from ampwright.documents.quantity_text import quantity_text
from ampwright.web.answers import live_of
from ampwright.web.diagram_page import chosen_thing, diagram_sheets
from ampwright.web.store import last_revision


def found(entry):
    return live_of(last_revision(entry))


def shown(browser, entry, query="", **headers):
    response = browser.get(f"/jobs/{entry.pk}/diagram{query}", **headers)
    assert response.status_code == 200
    return response, response.content.decode()


@pytest.mark.parametrize("name", ["start", "night-survey-van"])
def test_every_circuit_load_and_part_drawn_is_a_link_with_words(name):
    live = found(job_from(name))
    text = "".join(diagram_sheets(live, ""))
    links = {
        unescape(each)
        for each in re.findall(r'<a id="sheet-\d+-([^"]*?)"[^>]*aria-label="[^"]+" href="\?circuit=', text)
    }
    design = live.assessment.design
    drawn = {f"run-{run.id}" for run in design.runs} | {f"load-{load.id}" for load in design.loads}
    assert drawn <= links
    assert len(re.findall(r' id="', text)) == len(set(re.findall(r' id="([^"]*)"', text)))


def test_a_circuit_shows_its_findings_with_value_limit_and_source(browser, job):
    live = whole(job)
    _, text = shown(browser, job, "?circuit=W6")
    own = [each for each in live.assessment.findings if each.subject in ("W6", "Q6")]
    assert len(own) > 8
    plain = unescape(re.sub(r"<[^>]*>", " ", text))
    for each in own:
        assert each.rule.replace("-", " ") in plain
        assert each.message in plain
        assert each.source is None or str(each.source) in plain
        if each.limit is not None:
            assert f"{'≤' if each.at_most else '≥'} {quantity_text(each.limit, each.unit)}" in plain
    others = {each.message for each in live.assessment.findings if each.subject in ("W7", "Q7")}
    assert not [message for message in others if message in plain]
    assert f'href="/jobs/{job.pk}/at/run.5"' in text
    assert f'href="/jobs/{job.pk}/at/load.0"' in text
    assert "Q6 protects W6" in plain
    assert 'aria-labelledby="curve-title' in text


def test_the_curve_is_that_of_the_device_that_protects_a_run_without_its_own(job):
    found_at_all = found(job).assessment
    assert chosen_thing(found_at_all, "W1").curve.heading.startswith("F1 protects W1")
    assert chosen_thing(found_at_all, "fridge").curve is None


def test_a_load_and_a_part_show_theirs_with_both_terminals(job):
    found_at_all = found(job).assessment
    charger = chosen_thing(found_at_all, "charger")
    assert {check.finding.subject for check in charger.checks} == {"charger", "charger.in"}
    assert charger.fields == (("charger", "part.3"),)
    assert charger.facts[0][1] == "W2, W3"
    assert chosen_thing(found_at_all, "starter-battery").fields == (("vehicle", "vehicle"),)
    assert chosen_thing(found_at_all, "nothing") is None


def test_what_a_module_holds_has_no_fields_in_the_job():
    live = found(job_from("night-survey-van"))
    inside = next(run.id for run in live.assessment.design.runs if run.is_inside_module)
    chosen = chosen_thing(live.assessment, inside)
    assert not [path for _, path in chosen.fields if path.startswith("run")]
    assert chosen.checks


def test_the_page_says_revision_and_stage(browser, job):
    put(job, "format = 1\n", "format = 1\n# not reckoned before\n")
    response, text = shown(browser, job, "?circuit=W6")
    assert response.headers["X-Version"] in ("2.1", "2.2")
    assert "Drawn from revision 2." in text
    assert ("quick answer" in text) == (response.headers["X-Version"] == "2.1")
    assert "DRAFT" in text
    whole(job)
    assert "The checks are those of the full answer." in shown(browser, job)[1]


def test_a_name_that_is_not_there_and_a_job_that_cannot_be_drawn_say_so(browser, job):
    _, text = shown(browser, job, "?circuit=%3Cscript%3E")
    assert "There is no circuit, load or part &lt;script&gt;" in text
    put(job, 'zone = "bench"\nmax_v', 'zone = "nowhere"\nmax_v')
    response, text = shown(browser, job, "?circuit=W6")
    assert response.headers["X-Version"] == "2.0"
    assert "Nothing can be drawn" in text
    assert "<svg xmlns" not in text


def test_a_script_gets_the_part_it_asks_for(browser, job):
    _, chosen = shown(browser, job, "?circuit=W6", HTTP_HX_REQUEST="true", HTTP_HX_TARGET="chosen")
    assert chosen.lstrip().startswith('<h2 id="chosen-name"')
    assert "sheet-1" not in chosen
    _, drawn = shown(browser, job, "?circuit=W6", HTTP_HX_REQUEST="true", HTTP_HX_TARGET="diagram")
    assert "<html" not in drawn
    assert re.search(r'id="sheet-1-run-W6"[^>]*aria-current="true"', drawn)


def test_the_font_of_the_drawing_is_served_from_here(browser):
    response = browser.get("/static/fonts/NotoSans-Regular.ttf")
    assert response.status_code == 200
    assert response.getvalue()[:4] == b"\x00\x01\x00\x00"
    response.close()

"""US customary figures in forms: shown and typed in them, kept in metric ones, and the way back is exact.

Expected figures: one foot is 0.3048 m, one inch 25.4 mm, one pound 0.45359237 kg, 0 °C is 32 °F (all exact).
"""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from web_jobs import notice, text_of, typed

from ampwright.web.customary import reader_units, shown_figure, shown_unit, typed_figure
from ampwright.web.models import Account, JobEntry


@pytest.fixture
def us():
    mark = reader_units.set("us")
    yield
    reader_units.reset(mark)


@pytest.fixture
def us_browser(browser):
    browser.get("/")
    Account.objects.update(units="us")
    yield browser
    Account.objects.update(units="metric")


@pytest.mark.usefixtures("us")
@pytest.mark.parametrize(
    ("name", "text", "kept"),
    [
        ("length_m", "10", 3.048),
        ("length_m", "-0.5", -0.1524),
        ("width_mm", "1.25", 31.75),
        ("mass_kg", "100", 45.359237),
        ("front_rate_kg_per_mm", "56", 56 * 0.45359237 / 25.4),
        ("ambient_max_degc", "212", 100),
        ("ambient_max_degc", "-40", -40),
        ("ambient_max_degc", "100", 37.77777778),
        ("rise_k", "18", 10),
        ("area_mm2", "6", 13.30),
        ("area_mm2", "4/0 AWG", 107.2),
        ("area_mm2", "16 mm²", 16),
    ],
)
def test_a_typed_figure_is_kept_in_metric_units(name, text, kept):
    found = typed_figure(name, text, before=None)
    assert found == pytest.approx(kept, rel=1e-3 if name == "area_mm2" else 1e-9)


@pytest.mark.usefixtures("us")
def test_areas_are_shown_as_gauges_where_they_are_one():
    # 6 AWG is 13.30 mm² and 10 AWG 5.26 mm² by ASTM B258
    assert [shown_figure("area_mm2", area) for area in (13.3, 5.26, 16.0)] == ["6", "10", "16.0 mm²"]
    assert typed_figure("area_mm2", "6", before=13.3) == 13.3


@pytest.mark.usefixtures("us")
def test_units_of_the_reader_are_printed():
    names = ("length_m", "width_mm", "area_mm2", "mass_kg", "ambient_max_degc", "power_w", "duty_frac")
    assert [shown_unit(name) for name in names] == ["ft", "in", "AWG", "lb", "°F", "W", ""]
    assert reader_units.get() == "us"


@pytest.mark.usefixtures("us")
@pytest.mark.parametrize("text", ["abc", "", "1 2", "nan", "1e999999999", "0x10"])
def test_what_is_no_figure_stays_text(text):
    assert typed_figure("length_m", text, before=None) == text


@pytest.mark.parametrize(
    "name", ["length_m", "width_mm", "mass_kg", "ambient_max_degc", "rise_k", "front_rate_kg_per_mm"]
)
@given(st.decimals(min_value="-9999", max_value="9999", places=3))
def test_what_was_typed_comes_back_as_typed(name, figure):
    mark = reader_units.set("us")
    try:
        kept = typed_figure(name, str(figure), before=None)
        assert float(shown_figure(name, kept)) == float(figure)
    finally:
        reader_units.reset(mark)


@pytest.mark.parametrize("name", ["length_m", "area_mm2", "mass_kg", "ambient_max_degc"])
@given(st.floats(min_value=0.01, max_value=5000.0))
def test_a_figure_whose_text_nobody_changed_stays(name, kept):
    mark = reader_units.set("us")
    try:
        assert typed_figure(name, shown_figure(name, kept), before=kept) == kept
    finally:
        reader_units.reset(mark)


def test_a_form_takes_feet_and_the_job_keeps_metres(us_browser, job):
    page = us_browser.get(f"/jobs/{job.pk}/at/run.0").content.decode()
    assert '<span class="unit">ft</span>' in page
    assert '<span class="unit">m</span>' not in page
    event, _ = typed(us_browser, job, "run.0.length_m", known="declared", value="7.5")
    assert event == "saved"
    assert "length_m = 2.286" in text_of(job)
    page = us_browser.get(f"/jobs/{job.pk}/at/run.0").content.decode()
    assert 'value="7.5"' in page
    Account.objects.update(units="metric")
    assert 'value="2.286"' in us_browser.get(f"/jobs/{job.pk}/at/run.0").content.decode()


def test_how_a_figure_is_known_changes_without_changing_it(us_browser, job):
    was = {"unknown": [0.9, 1.7], "ask": "measure it"}
    typed(us_browser, job, "run.0.length_m", known="unknown", low="0.9 m", high="2", ask="x")
    event, _ = typed(
        us_browser, job, "run.0.length_m", known="unknown", low="3", high="6.5", ask="measure it"
    )
    assert event == "saved"
    assert "unknown = [0.9144, 1.9812]" in text_of(job)
    response = us_browser.post(
        f"/jobs/{job.pk}/edit",
        {"path": "run.0.length_m", "known": "unknown", "low": "3", "high": "6.5", "ask": "by tape",
         "was": json.dumps({"ask": "measure it", "unknown": [0.9144, 1.9812]}, sort_keys=True)},
    )  # fmt: skip
    assert notice(response)[0] == "saved"
    assert "unknown = [0.9144, 1.9812]" in text_of(job)
    assert was["ask"] not in text_of(job).split("[[run]]")[1]


def test_language_and_units_are_chosen_for_oneself(browser):
    browser.get("/")
    response = browser.post("/settings", {"language": "de", "units": "us"})
    assert response.status_code == 302
    page = browser.get("/settings", headers={"accept-language": "en"}).content.decode()
    assert '<html lang="de">' in page
    assert "Sprache und Einheiten" in page
    browser.post("/settings", {"language": "xx", "units": "leagues"})
    found = Account.objects.get(name="this machine")
    assert (found.language, found.units) == ("", "metric")


def test_a_new_job_takes_language_and_units_of_who_begins_it(us_browser):
    us_browser.post("/new", {"from": "start"}, headers={"accept-language": "de"})
    text = text_of(JobEntry.objects.order_by("pk").last())
    assert 'language = "de"' in text
    assert 'units = "us"' in text

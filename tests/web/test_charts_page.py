"""The charts as a page: courses, band and tables are the study's own figures, and say what they belong to."""

import csv
import io
import json

import numpy as np
from web_jobs import job_from, put, whole

from ampwright.documents.energy_view import ledger_groups
from ampwright.web.answers import live_of
from ampwright.web.charts_page import chart_data, day_rows, ledger_bars, step_lines
from ampwright.web.models import JobEntry
from ampwright.web.store import last_revision


def data_of(browser, entry):
    return json.loads(browser.get(f"/jobs/{entry.pk}/charts/courses").content)


def test_the_courses_are_those_of_the_answer_and_its_worst_run(browser, job):
    answer = whole(job).answer
    data = data_of(browser, job)
    assert [each["letter"] for each in data["courses"]] == ["L", "W", "U"]
    for each, soc_frac in zip(
        data["courses"],
        (answer.assessment.energy.soc_frac, answer.chance.worst_soc_frac, answer.worst.energy.soc_frac),
        strict=True,
    ):
        assert np.abs(np.array(each["values"]) / 1000.0 - soc_frac).max() <= 0.0005
    assert data["step_min"] == 15
    assert data["plans"] == ["drive", "stay", "stay", "stay", "drive"]
    assert data["reserve"] == 150
    band = np.array(data["band"]) / 1000.0
    assert np.abs(band[:, 0] - answer.chance.daily_low_frac[0]).max() <= 0.0005
    assert (np.diff(band, axis=1) >= 0.0).all()


def test_power_in_and_out_are_those_of_the_study(browser, job):
    energy = whole(job).answer.assessment.energy
    powers = {each["letter"]: np.array(each["values"]) for each in data_of(browser, job)["power"]}
    assert set(powers) == {"S", "A", "O"}
    assert np.abs(powers["S"] + powers["A"] - energy.source_w.sum(axis=1)).max() <= 1.0
    assert np.abs(powers["O"] - energy.load_w.sum(axis=1)).max() <= 0.5


def test_before_the_full_answer_there_is_one_course_and_no_band(browser, job):
    put(job, "format = 1\n", "format = 1\n# charts before the full answer\n")
    live = live_of(last_revision(JobEntry.objects.get(pk=job.pk)))
    assert live.stage == "quick"
    data = chart_data(live)
    assert ([each["letter"] for each in data["courses"]], data["band"], data["version"]) == (["L"], [], "2.1")
    assert {row.worst for row in day_rows(live)} == {""}
    page = browser.get(f"/jobs/{job.pk}/charts").content.decode()
    assert "Drawn from revision 2." in page
    whole(job)


def test_a_job_that_cannot_be_reckoned_has_no_charts(browser, job):
    put(job, 'zone = "bench"\nmax_v', 'zone = "nowhere"\nmax_v')
    assert data_of(browser, job) == {"version": "2.0", "courses": []}
    page = browser.get(f"/jobs/{job.pk}/charts").content.decode()
    assert "Nothing can be drawn" in page
    assert 'id="courses"' not in page
    assert browser.get(f"/jobs/{job.pk}/charts/steps.csv").content == b""


def test_the_table_of_days_has_the_lowest_of_each_day_whenever_it_is(job):
    live = whole(job)
    energy, rows = live.assessment.energy, day_rows(live)
    for day, row in enumerate(rows):
        values = energy.soc_frac[day * 96 : (day + 1) * 96 + 1]
        assert row.lowest.startswith(f"{100.0 * values.min():.0f}")
        minutes = 15 * int(values.argmin())
        assert row.lowest.endswith(f"{minutes // 60:02d}:{minutes % 60:02d}")
    assert rows[0].plan == "drive"
    worst = live.answer.chance.worst_soc_frac
    assert rows[2].worst.startswith(f"{100.0 * worst[2 * 96 + 1 : 3 * 96 + 1].min():.0f}")


def test_the_bars_of_the_books_are_on_one_scale_and_their_shares_add_up():
    live = whole(job_from("bicycle-repair-truck"))
    bars = ledger_bars(live)
    entries = {name: energy_wh for _, group in ledger_groups(live.assessment) for name, energy_wh in group}
    longest = max(entries.values())
    for bar in bars:
        assert abs(float(bar.width.rstrip("%")) - 100.0 * entries[bar.name] / longest) <= 0.0005
    assert max(float(bar.width.rstrip("%")) for bar in bars) == 100.0
    assert [bar.group for bar in bars if bar.group] == ["In", "Out", "Lost", "Not part of these books"]


def test_every_step_is_in_the_file(browser, job):
    live = whole(job)
    text = browser.get(f"/jobs/{job.pk}/charts/steps.csv").content.decode()
    assert text == "".join(step_lines(live))
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == 5 * 96
    assert (rows[0]["day"], rows[0]["clock"], rows[-1]["day"], rows[-1]["clock"]) == (
        "1",
        "00:00",
        "5",
        "23:45",
    )
    low = min(float(row["charge_L_frac"]) for row in rows)
    assert abs(low - live.assessment.energy.soc_frac[:-1].min()) <= 0.0005


def test_without_script_the_fixed_picture_and_the_figures_are_there(browser, job):
    whole(job)
    page = browser.get(f"/jobs/{job.pk}/charts").content.decode()
    assert 'aria-labelledby="chart-title chart-description"' in page
    assert page.count('<tr><th scope="row">') >= 5
    part = browser.get(
        f"/jobs/{job.pk}/charts", headers={"HX-Request": "true", "HX-Target": "charts"}
    ).content.decode()
    assert "<html" not in part
    assert 'id="courses"' in part

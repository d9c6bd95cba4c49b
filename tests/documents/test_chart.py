import dataclasses
import itertools

import numpy as np
import pytest
from courses import course

from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_records import label_box_mm, text_mm
from ampwright.documents.chart_scale import Scale, column_path, day_step, round_ticks
from ampwright.documents.use_course import UseCourse

LENGTHS = (1, 2, 3, 4, 5, 7, 9, 10, 14, 21, 30, 45, 60, 99, 100, 180, 366, 400)


def overlaps(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@pytest.mark.parametrize("days", LENGTHS)
@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("width_mm", [182.0, 187.9, 120.0])
def test_no_label_overlaps_another(days, units, width_mm):
    chart = soc_chart(course(days), width_mm=width_mm, units=units)
    assert len(chart.labels) > 5
    for one, other in itertools.combinations(chart.labels, 2):
        assert not overlaps(label_box_mm(one), label_box_mm(other)), (one, other)


@pytest.mark.parametrize("days", LENGTHS)
def test_everything_lies_inside_the_frame(days):
    chart = soc_chart(course(days, name="W" * 200))
    slack_mm = 1e-6
    for line in chart.lines:
        for x_mm, y_mm in line.points_mm:
            assert -slack_mm <= x_mm <= chart.width_mm + slack_mm
            assert -slack_mm <= y_mm <= chart.height_mm + slack_mm
    for band in chart.bands:
        assert band.width_mm >= 0.0
        assert band.height_mm >= 0.0
        assert band.x_mm >= -slack_mm
        assert band.x_mm + band.width_mm <= chart.width_mm + slack_mm
        assert band.y_mm + band.height_mm <= chart.height_mm + slack_mm
    for mark in chart.marks:
        assert 0.9 <= mark.x_mm <= chart.width_mm - 0.9
    for label in chart.labels:
        left_mm, top_mm, right_mm, bottom_mm = label_box_mm(label)
        assert left_mm >= 0.0
        assert top_mm >= 0.0
        assert right_mm <= chart.width_mm
        assert bottom_mm <= chart.height_mm


@pytest.mark.parametrize("days", LENGTHS)
def test_ids_are_unique(days):
    chart = soc_chart(course(days))
    ids = [each.id for each in (*chart.bands, *chart.lines, *chart.marks, *chart.labels)]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("days", [1, 7, 60, 400])
def test_every_days_dip_reaches_the_paper(days):
    given = course(days)
    chart = soc_chart(given)
    line = next(line for line in chart.lines if line.id == "course")
    deepest_mm = max(y_mm for _, y_mm in line.points_mm)
    deep = [x_mm for x_mm, y_mm in line.points_mm if y_mm == deepest_mm]
    assert len(deep) >= min(days, 400)
    assert len(line.points_mm) <= 4 * chart.width_mm / 0.2 + 8


def test_state_rows_appear_only_for_states_that_occur():
    words = {label.text for label in soc_chart(course(3)).labels}
    assert {"driving", "idling"} <= words
    assert "stored" not in words
    assert "mains" not in words


def test_a_short_stretch_stays_visible():
    bands = [band for band in soc_chart(course(400)).bands if band.id.startswith("state-idle")]
    assert min(band.width_mm for band in bands) >= 0.3 - 1e-9
    assert len(bands) > 100


def test_loads_cut_off_are_marked_and_dated():
    chart = soc_chart(course(3))
    assert len(chart.marks) == 4
    assert any("first on day 1 at 12:30" in label.text for label in chart.labels)
    assert not soc_chart(course(3, cuts=False)).marks


def test_reserve_line_stands_at_the_reserve():
    chart = soc_chart(course(3))
    line = next(line for line in chart.lines if line.id == "reserve-line")
    grid = {line.id: line.points_mm[0][1] for line in chart.lines if line.id.startswith("soc-grid")}
    zero_mm = next(line for line in chart.lines if line.id == "soc-axis").points_mm[0][1]
    assert zero_mm - line.points_mm[0][1] == pytest.approx(0.1 * (zero_mm - grid["soc-grid-4"]))


def test_fridge_strip_shows_its_band_and_its_peak():
    chart = soc_chart(course(3))
    band = next(band for band in chart.bands if band.id == "fridge-0-allowed")
    line = next(line for line in chart.lines if line.id == "fridge-0-course")
    assert min(y_mm for _, y_mm in line.points_mm) < band.y_mm
    assert not [line for line in soc_chart(course(3, fridge=False)).lines if line.kind == "temperature"]


def test_fahrenheit_stands_beside_celsius_with_us_units():
    texts = [label.text for label in soc_chart(course(3), units="us").labels]
    assert any(text.endswith("°F") for text in texts)
    assert any(text.endswith("°C") for text in texts)


def test_description_names_lowest_charge():
    flat = dataclasses.replace(course(2), soc_frac=np.full(193, 0.5), cut_offs=())
    text = soc_chart(flat).description.replace("\u00a0", " ")
    assert "lowest with 50 %" in text
    assert "No load is cut off." in text


def test_columns_keep_lowest_and_highest_value():
    rng = np.random.default_rng(7)
    hours = np.arange(5000) * 0.25
    values = rng.random(5000)
    path = column_path(hours, values, column_h=10.0)
    columns = np.floor(hours / 10.0).astype(int)
    for column in range(columns[-1] + 1):
        inside = values[columns == column]
        kept = [value for hour, value in path if int(hour // 10.0) == column]
        assert min(kept) == inside.min()
        assert max(kept) == inside.max()
        assert kept[0] == inside[0]
        assert kept[-1] == inside[-1]
    assert [hour for hour, _ in path] == sorted(hour for hour, _ in path)


def test_wide_columns_keep_every_point_of_a_short_series():
    hours = np.array([0.25, 0.5, 0.75])
    assert len(column_path(hours, np.array([0.1, 0.9, 0.3]), column_h=0.1)) == 3


def test_scale_holds_values_inside():
    scale = Scale(low=0.0, high=1.0, low_mm=50.0, high_mm=10.0)
    assert (scale.mm(0.0), scale.mm(1.0), scale.mm(0.5), scale.mm(7.0)) == (50.0, 10.0, 30.0, 10.0)


@pytest.mark.parametrize(
    ("low", "high"), [(2.0, 8.0), (-18.3, -17.9), (4.0, 4.0), (-25.0, 31.0), (0.0, 0.001)]
)
def test_ticks_enclose_the_values(low, high):
    ticks = round_ticks(low, high, most=4)
    assert ticks[0] <= low + 1e-12
    assert ticks[-1] >= high - 1e-12
    assert 2 <= len(ticks) <= 6


def test_day_labels_are_spaced():
    assert day_step(3, day_mm=50.0, label_mm=9.0) == 1
    assert day_step(400, day_mm=0.4, label_mm=9.0) == 28


def test_text_width_grows_with_size():
    assert text_mm("day 12", 2.0) == pytest.approx(2.0 * text_mm("day 12", 1.0))


def test_span_of_the_runs_is_a_band_for_each_day_with_a_legend():
    course = UseCourse(
        step_h=1.0,
        day_count=2,
        soc_frac=np.full(49, 0.9),
        reserve_frac=0.1,
        runs_frac=((0.4, 0.8), (0.3, 0.7)),
    )
    chart = soc_chart(course)
    runs = [band for band in chart.bands if band.id.startswith("runs-")]
    assert len(runs) == 2
    assert runs[0].height_mm == pytest.approx(runs[1].height_mm)
    assert runs[1].y_mm > runs[0].y_mm
    assert runs[1].x_mm == pytest.approx(runs[0].x_mm + runs[0].width_mm)
    assert any(label.text == "lowest charge of the day, 9 of 10 runs" for label in chart.labels)
    assert "worst day is 30 % to 70 %" in chart.description.replace("\u00a0", " ")

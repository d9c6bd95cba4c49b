import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.documents.chart_records import label_box_mm
from ampwright.documents.curve_model import curve_chart, weakest_s
from ampwright.documents.curve_records import CurveCable, CurveCircuit, CurveDevice
from ampwright.documents.curve_scale import LEAST_A, LEAST_S, MOST_A, MOST_S, Axes, axes_drawing
from ampwright.documents.curve_words import CLASS_WORDS, time_text
from ampwright.documents.words.words import english
from ampwright.standards.device_bands import DEVICE_CLASSES, RatedDevice
from ampwright.standards.iec_60949 import LaidConductor

SMALL = LaidConductor(area_mm2=2.5, capacity_a=32.0, rated_degc=105.0, ambient_degc=50.0)
LARGE = LaidConductor(area_mm2=16.0, capacity_a=114.0, rated_degc=105.0, ambient_degc=50.0)


def device(name="F1", device_class="thermal", rating_a=20.0, **air):
    rated = RatedDevice(device_class=device_class, rating_a=rating_a, **air)
    return CurveDevice(id=name, kind=CLASS_WORDS[device_class], rated=rated)


def cable(run="W1", laid=SMALL, far_fault_a=150.0, fault_a=900.0):
    return CurveCable(
        run=run,
        name=f"{laid.area_mm2:g} mm²",
        laid=laid,
        start_degc=105.0,
        end_degc=250.0,
        far_fault_a=far_fault_a,
        fault_a=fault_a,
    )


def circuit(**changed):
    known = {
        "own": device(),
        "upstream": device("F0", "ul-248-15-t", 200.0),
        "runs": ("W1",),
        "cables": (cable(),),
        "unknown_runs": (),
        "load_a": 8.0,
        "far_fault_a": 150.0,
        "fault_a": 900.0,
    }
    return CurveCircuit(**{**known, **changed})


def plot_of(chart):
    (frame,) = [box for box in chart.boxes if box.kind == "frame"]
    return frame


def band_boxes(chart, kind="own"):
    return [box for box in chart.boxes if box.kind == kind and not box.id.startswith("legend")]


def line(chart, line_id):
    (found,) = [each for each in chart.lines if each.id == line_id]
    return found


AXES = Axes(left_mm=10.0, right_mm=86.0, top_mm=4.0, bottom_mm=60.0)


def test_axes_are_logarithmic_from_corner_to_corner():
    assert (AXES.x_mm(LEAST_A), AXES.x_mm(MOST_A)) == (10.0, 86.0)
    assert (AXES.y_mm(LEAST_S), AXES.y_mm(MOST_S)) == (60.0, 4.0)
    decade_mm = AXES.x_mm(10.0) - AXES.x_mm(1.0)
    assert AXES.x_mm(1000.0) - AXES.x_mm(100.0) == pytest.approx(decade_mm)
    assert AXES.y_mm(1.0) - AXES.y_mm(10.0) == pytest.approx(AXES.y_mm(0.1) - AXES.y_mm(1.0))


def test_what_lies_outside_stands_at_the_edge():
    assert AXES.x_mm(0.0) == 10.0
    assert AXES.x_mm(1e6) == 86.0
    assert AXES.y_mm(math.inf) == 4.0
    assert AXES.y_mm(0.0) == 60.0


def test_axes_name_their_decades_and_the_unit():
    _, lines, labels = axes_drawing(AXES, english())
    texts = {label.text for label in labels}
    assert {"1", "10", "100", "1 000", "10 000", "A", "10 ms", "1 s", "1 min", "1 h", "3 h"} <= texts
    assert len({each.id for each in lines}) == len(lines)


def test_the_band_of_a_thermal_breaker_is_its_table():
    """Rows of the table: 200 % 4 to 40 s, 400 % 0.6 to 5 s, 600 % 0.3 to 1.8 s."""
    chart = curve_chart(circuit(upstream=None))
    frame = plot_of(chart)
    axes = Axes(
        left_mm=frame.x_mm,
        right_mm=frame.x_mm + frame.width_mm,
        top_mm=frame.y_mm,
        bottom_mm=frame.y_mm + frame.height_mm,
    )
    between_200_and_400 = next(box for box in band_boxes(chart) if box.x_mm == pytest.approx(axes.x_mm(40.0)))
    assert between_200_and_400.x_mm + between_200_and_400.width_mm == pytest.approx(axes.x_mm(80.0))
    assert between_200_and_400.y_mm == pytest.approx(axes.y_mm(40.0))
    assert between_200_and_400.y_mm + between_200_and_400.height_mm == pytest.approx(axes.y_mm(0.6))


def test_the_band_starts_at_the_rating_touches_without_gap_and_falls():
    chart = curve_chart(circuit())
    boxes, frame = band_boxes(chart), plot_of(chart)
    axes = Axes(
        left_mm=frame.x_mm,
        right_mm=frame.x_mm + frame.width_mm,
        top_mm=frame.y_mm,
        bottom_mm=frame.y_mm + frame.height_mm,
    )
    assert boxes[0].x_mm == pytest.approx(axes.x_mm(20.0))
    for left, right in itertools.pairwise(boxes):
        assert left.x_mm + left.width_mm == pytest.approx(right.x_mm)
        assert left.y_mm <= right.y_mm + 1e-9


@settings(max_examples=60, deadline=None)
@given(
    device_class=st.sampled_from(DEVICE_CLASSES),
    rating_a=st.sampled_from([5.0, 30.0, 63.0, 100.0, 300.0]),
    load_a=st.none() | st.floats(0.0, 400.0),
    faults=st.tuples(st.none() | st.floats(1.0, 30_000.0), st.none() | st.floats(1.0, 30_000.0)),
    hot=st.floats(25.0, 90.0),
)
def test_everything_lies_on_the_picture_and_no_label_on_another(device_class, rating_a, load_a, faults, hot):
    own = device("Q-main-12", device_class, rating_a, coldest_degc=-15.0, hottest_degc=max(hot, 35.0))
    chart = curve_chart(circuit(own=own, load_a=load_a, far_fault_a=faults[0], fault_a=faults[1]))
    frame = plot_of(chart)
    for box in (*chart.boxes, *chart.tags):
        assert box.width_mm >= 0.0
        assert box.height_mm >= 0.0
        assert box.x_mm >= -1e-9
        assert box.x_mm + box.width_mm <= chart.width_mm + 1e-9
        assert box.y_mm >= -1e-9
        assert box.y_mm + box.height_mm <= chart.height_mm + 1e-9
    for each in band_boxes(chart) + band_boxes(chart, "upstream"):
        assert each.y_mm >= frame.y_mm - 1e-9
        assert each.y_mm + each.height_mm <= frame.y_mm + frame.height_mm + 1e-9
    places = [label_box_mm(label) for label in chart.labels]
    for one, other in itertools.combinations(places, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    for left_mm, top_mm, right_mm, bottom_mm in places:
        assert left_mm >= -0.01
        assert right_mm <= chart.width_mm + 0.01
        assert top_mm >= 0.0
        assert bottom_mm <= chart.height_mm
    ids = [each.id for each in (*chart.boxes, *chart.lines, *chart.tags, *chart.labels)]
    assert len(set(ids)) == len(ids)


def test_letters_of_like_currents_stand_above_each_other():
    chart = curve_chart(circuit(load_a=100.0, far_fault_a=101.0, fault_a=102.0))
    tags = [tag for tag in chart.tags if not tag.id.startswith("legend")]
    assert len({tag.y_mm for tag in tags}) == 3


def test_currents_that_are_not_known_are_not_drawn():
    chart = curve_chart(circuit(load_a=None, far_fault_a=None, fault_a=None))
    assert not [each for each in chart.lines if each.id.startswith("upright")]
    assert not chart.tags


def test_the_cable_limit_is_that_of_the_weakest_and_falls():
    both = (cable(), cable("W2", LARGE))
    assert weakest_s(both, 400.0) == weakest_s((cable(),), 400.0) < weakest_s((cable("W2", LARGE),), 400.0)
    assert weakest_s((), 400.0) == math.inf
    points = line(curve_chart(circuit(cables=both)), "cable").points_mm
    assert [x for x, _ in points] == sorted(x for x, _ in points)
    assert [y for _, y in points] == sorted(y for _, y in points)


def test_without_a_known_cable_no_limit_is_drawn():
    assert not [each for each in curve_chart(circuit(cables=())).lines if each.kind == "cable"]


def test_a_rating_outside_its_family_has_no_band():
    chart = curve_chart(circuit(own=device("F9", "iso-8820-5-sf30", 300.0)))
    assert band_boxes(chart) == []


def test_a_long_list_of_runs_is_broken_and_an_endless_name_cut():
    many = tuple(cable(f"run-number-{i}") for i in range(12))
    chart = curve_chart(circuit(cables=many))
    texts = [label.text for label in chart.labels if label.id.startswith("legend-2-")]
    assert len(texts) > 2
    chart = curve_chart(circuit(own=device("F" * 200)))
    assert any(label.text.endswith("…") for label in chart.labels)


@pytest.mark.parametrize("device_class", DEVICE_CLASSES)
def test_every_class_has_words(device_class):
    assert CLASS_WORDS[device_class]


def test_the_description_gives_the_currents():
    chart = curve_chart(circuit())
    assert "smallest fault is 150" in chart.description
    assert chart.title == "Time-current chart of F1"


def test_times_are_printed_in_the_unit_that_suits():
    assert time_text(59.0, english()).endswith("s")
    assert time_text(61.0, english()).endswith("min")
    assert time_text(3700.0, english()).endswith("h")
    assert time_text(math.inf, english()) == "for ever"
    assert time_text(None, english()) == "not surely"

"""Unknown amounts of a job: listed in words, and replaced by numbers."""

import math

from hypothesis import given
from hypothesis import strategies as st
from job_files import put, saved, starting, van

from ampwright.job.load import load_job
from ampwright.job.quantity import Unknown, likely_value
from ampwright.job.unknowns import (
    likely_values,
    unknown_inputs,
    with_ranges,
    with_unknown_values,
    with_values,
)


def job_of(folder, raw):
    return load_job(saved(folder, raw)).job


def test_unknowns_of_the_shipped_van_in_the_order_of_the_record(tmp_path):
    found = unknown_inputs(job_of(tmp_path, van()))
    assert [(each.label, each.unit) for each in found] == [
        ("vehicle alternator rating (rating_a)", "A"),
        ("vehicle alternator hot idle (hot_idle_frac)", ""),
        ("day 'survey' shade (shade_frac)", ""),
        ("load 'fridge' draw (draw_factor)", ""),
    ]
    first = found[0]
    assert (first.low, first.high, first.likely, first.ask) == (110, 180, 150, "read the alternator's label")
    assert first.path == ("vehicle", "alternator", "rating_a")


def test_labels_deep_inside_use_ids_parts_or_numbers(tmp_path):
    raw = starting()
    put(raw, "run", 0, "device", 0, "distance_m", {"unknown": [0.1, 0.2]})
    put(raw, "load", 2, "when", 0, "duty_frac", {"unknown": [0.5, 0.7]})
    labels = [each.label for each in unknown_inputs(job_of(tmp_path, raw))]
    assert "run 'W1' device 'F1' distance (distance_m)" in labels
    assert "load 'laptop' when '1' duty (duty_frac)" in labels


def test_a_job_without_unknowns_has_none(tmp_path):
    raw = put(starting(), "vehicle", "alternator", "rating_a", {"measured": 96, "how": "clamp meter"})
    assert unknown_inputs(job_of(tmp_path, raw)) == ()


def test_replacing_leaves_no_unknown_and_changes_nothing_else(tmp_path):
    job = job_of(tmp_path, van())
    found = unknown_inputs(job)
    known = with_values(job, likely_values(found))
    assert unknown_inputs(known) == ()
    assert known.vehicle.alternator.rating_a == 150
    assert known.run == job.run
    assert known.load[0].draw_factor == 1.0
    assert known.load[1:] == job.load[1:]
    assert isinstance(job.vehicle.alternator.rating_a, Unknown)  # the job itself stays as it was
    back = with_values(known, {each.path: Unknown(unknown=(each.low, each.high)) for each in found})
    assert [each.path for each in unknown_inputs(back)] == [each.path for each in found]


def test_only_what_is_still_unknown_is_replaced(tmp_path):
    job = job_of(tmp_path, van())
    rating, idle = ("vehicle", "alternator", "rating_a"), ("vehicle", "alternator", "hot_idle_frac")
    read = with_values(job, {rating: 140.0})
    found = with_unknown_values(read, {rating: 111.0, idle: 0.4, ("part", 99, "strings"): 2.0})
    assert (found.vehicle.alternator.rating_a, found.vehicle.alternator.hot_idle_frac) == (140.0, 0.4)


def test_ranges_come_back_where_a_variant_has_the_numbers_put_for_them(tmp_path):
    job = job_of(tmp_path, van())
    values = likely_values(unknown_inputs(job))
    known = with_values(job, values)
    assert with_ranges(known, job, values) == job
    idle = ("vehicle", "alternator", "hot_idle_frac")
    changed = with_values(known, {idle: 0.9})
    back = with_ranges(changed, job, values)
    assert back.vehicle.alternator.hot_idle_frac == 0.9
    assert len(unknown_inputs(back)) == len(values) - 1


def test_replacing_nothing_gives_the_same_job(tmp_path):
    job = job_of(tmp_path, starting())
    assert with_values(job, {}) == job


@given(value=st.floats(0.01, 10.0))
def test_a_replaced_amount_is_found_at_its_path(tmp_path_factory, value):
    path = ("run", 1, "length_m")
    job = with_values(job_of(tmp_path_factory.getbasetemp(), starting()), {path: value})
    assert math.isclose(likely_value(job.run[1].length_m), value)

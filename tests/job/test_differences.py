"""What two jobs do not say alike is told by field, not by text."""

import copy

from job_files import position, put, starting

from ampwright.job.differences import job_differences, value_text
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.records import Job
from ampwright.validation import validated


def differences(change):
    """Return what differs after a change of the raw starting job."""
    before, after = starting(), copy.deepcopy(starting())
    change(after)
    return job_differences(validated(Job, before), validated(Job, after))


def test_a_written_default_an_order_of_keys_and_nothing_make_no_difference():
    def write_out(raw):
        raw["season"]["sun_factor"] = 1.0
        raw["load"][0] = dict(reversed(raw["load"][0].items()))

    assert differences(write_out) == ()


def test_a_field_is_told_with_place_unit_and_meaning():
    (only,) = differences(lambda raw: put(raw, "season", "warmer_k", 5.0))
    assert (only.kind, only.where, only.field, only.label) == ("changed", "season", "warmer_k", "warmer")
    assert (only.unit, only.before, only.after) == ("K", "0 K", "5 K")
    assert only.meaning == "Kelvin added to the month's temperatures, for a cold or hot spell."


def test_how_a_figure_is_known_is_a_difference():
    (only,) = differences(
        lambda raw: put(raw, "vehicle", "alternator", "rating_a", {"measured": 120.0, "how": "clamp, 3 May"})
    )
    assert only.before == "unknown, 90 to 150 A, likely 120 A"
    assert only.after == "measured 120 A (clamp, 3 May)"


def test_rows_are_told_apart_by_name_not_by_position():
    def drop_first(raw):
        raw["load"] = raw["load"][1:]

    first = starting()["load"][0]
    (only,) = differences(drop_first)
    assert (only.kind, only.where, only.after) == ("removed", f"load '{first['id']}'", "not said")
    assert f"id {first['id']}" in only.before


def test_another_order_of_rows_is_said_once():
    (only,) = differences(lambda raw: raw["load"].reverse())
    assert (only.where, only.label) == ("load", "order")
    assert only.after == ", ".join(reversed(only.before.split(", ")))


def test_a_field_of_a_row_inside_a_row_is_found():
    def longer(raw):
        run = raw["run"][position(raw, "run", "W1")]
        run["device"][0]["distance_m"] = 0.15

    (only,) = differences(longer)
    assert (only.where, only.field) == ("run 'W1' device 'F1'", "distance_m")
    assert (only.before, only.after) == ("0.1 m", "0.15 m")


def test_a_table_that_goes_is_one_difference_with_what_it_said():
    (only,) = differences(lambda raw: put(raw, "vehicle", "starter_battery", None))
    assert (only.kind, only.where, only.after) == ("removed", "vehicle starter battery", "not said")
    assert only.before.startswith("capacity 80 Ah, ")


def test_values_are_said_with_their_doubt():
    assert value_text(Measured(measured=96.0, tolerance_frac=0.03), "A") == "measured 96 A ± 3 %"
    assert value_text(Unknown(unknown=(2.0, 6.0)), "m") == "unknown, 2 to 6 m"
    assert value_text(("a", "b"), "") == "a, b"
    assert value_text(0.0, "W") == "0 W"
    assert value_text(False, "") == "no"

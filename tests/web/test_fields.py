"""Forms come from the records: their controls, units and words, and typed text becomes values."""

import datetime as dt

import pytest

from ampwright.job.consumer import Load
from ampwright.job.place import Place
from ampwright.job.records import About, Job
from ampwright.job.vehicle import Vehicle
from ampwright.job.wiring import Run
from ampwright.web.fields import fields_of, typed_value


def field(kind, name):
    return next(each for each in fields_of(kind) if each.name == name)


def test_controls_follow_the_types():
    assert field(Load, "power_w").control == "amount"
    assert field(Load, "count").control == "whole"
    assert field(Load, "priority").choices == ("essential", "comfort")
    assert field(Load, "hours_could_be_less").control == "yes-no"
    assert field(Load, "when").control == "rows"
    assert field(Load, "mount").control == "record"
    assert field(About, "date").control == "date"
    assert field(Run, "zones").control == "list"
    assert field(Vehicle, "system_v").choices == ("12", "24")


def test_words_and_units_come_from_name_and_docstring():
    length = field(Run, "length_m")
    assert (length.label, length.unit, length.meaning) == ("Length", "m", "One-way length.")
    assert length.is_needed
    assert field(Run, "joint_ohm").default == "0.001"
    assert all(each.meaning for each in fields_of(Load))


def test_every_record_a_job_holds_can_be_shown():
    waiting, seen = [Job], set()
    while waiting:
        kind = waiting.pop()
        seen.add(kind)
        waiting += [
            each.below for each in fields_of(kind) if each.below is not None and each.below not in seen
        ]
    assert {"Device", "MainsSupply", "AsLeft", "Carried"} <= {kind.__name__ for kind in seen}


@pytest.mark.parametrize(
    ("kind", "name", "typed", "value"),
    [
        (Load, "power_w", {"known": "declared", "value": "12,5"}, 12.5),
        (Load, "power_w", {"known": "measured", "value": "9", "how": "meter", "tolerance": ""}, {"measured": 9, "how": "meter"}),
        (Load, "power_w", {"known": "unknown", "low": "5", "high": "9", "likely": "6"}, {"unknown": [5, 9], "likely": 6}),
        (Load, "power_w", {"known": "declared", "value": "1.234,5"}, "1.234,5"),
        (Load, "power_w", {"known": "declared", "value": "nan"}, "nan"),
        (Load, "count", {"value": "3"}, 3),
        (Load, "count", {"value": ""}, None),
        (Load, "hours_could_be_less", {"value": "true"}, True),
        (Load, "name", {"value": "12"}, "12"),
        (About, "date", {"value": "2026-02-03"}, dt.date(2026, 2, 3)),
        (Vehicle, "system_v", {"value": "24"}, 24),
        (Run, "zones", {"value": "roof, bench "}, ["roof", "bench"]),
        (Place, "max_degc", {"value": "1, 2.5"}, [1, 2.5]),
        (Place, "max_degc", {"value": "1,5; 2"}, [1.5, 2]),
    ],
)  # fmt: skip
def test_typed_text_becomes_a_value(kind, name, typed, value):
    found = typed_value(field(kind, name), typed)
    assert found == value
    assert type(found) is type(value)

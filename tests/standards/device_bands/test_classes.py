import typing

import pytest

from ampwright.errors import JobError, TableError
from ampwright.parts.protection import Breaker, Fuse
from ampwright.standards.device_bands import (
    DEVICE_CLASSES,
    RatedDevice,
    device_band,
    device_limits,
    load_points,
)
from ampwright.standards.iso_8820 import must_open_factor, opening_limits


def test_every_family_and_principle_a_part_can_name_is_a_class():
    families = typing.get_args(typing.get_type_hints(Fuse)["family"])
    principles = typing.get_args(typing.get_type_hints(Breaker)["principle"])
    assert set(DEVICE_CLASSES) == {*families, *principles}


def test_iso_8820_families_are_those_of_their_own_package():
    assert device_limits("iso-8820-3-c") == opening_limits("iso-8820-3-c")


@pytest.mark.parametrize(
    ("device_class", "rating_a", "factor"),
    [
        ("ul-248-15-t", 200.0, 1.35),
        ("iec-60269-6-gpv", 15.0, 1.45),
        ("thermal", 30.0, 1.35),
        ("hydraulic-magnetic", 50.0, 1.35),
        ("thermal-magnetic", 63.0, 1.45),
    ],
)
def test_smallest_multiple_at_which_it_must_open(device_class, rating_a, factor):
    assert must_open_factor(device_limits(device_class), rating_a=rating_a) == factor


@pytest.mark.parametrize("device_class", DEVICE_CLASSES)
def test_more_current_never_has_a_longer_time_in_the_table(device_class):
    for rating_a in (5.0, 30.0, 63.0, 80.0, 125.0, 200.0, 400.0):
        points = [p for p in device_limits(device_class).points if p.holds_for(rating_a)]
        for name in ("opening_min_s", "opening_max_s"):
            times = [getattr(p, name) for p in points if getattr(p, name) is not None]
            assert times == sorted(times, reverse=True), (device_class, rating_a, name)


@pytest.mark.parametrize("device_class", DEVICE_CLASSES)
def test_rows_say_how_they_were_obtained_and_none_claims_to_be_read(device_class):
    assert {p.source.standing for p in device_limits(device_class).points} <= {"second hand", "from memory"}


def test_unknown_class_is_refused_with_the_known_ones():
    with pytest.raises(TableError, match=r'"slow".*thermal-magnetic'):
        device_limits("slow")


def test_own_rows_of_a_breaker_replace_the_shipped_ones(tmp_path):
    path = tmp_path / "own.csv"
    path.write_text(
        "family,current_factor,opening_min_s,opening_max_s\nthermal-magnetic,15,,\nthermal-magnetic,7,,0.1\n",
        encoding="utf-8",
    )
    with pytest.raises(JobError) as caught:
        load_points(path)
    assert [p.line for p in caught.value.problems] == [2]
    path.write_text(
        "family,current_factor,opening_min_s,opening_max_s\nthermal-magnetic,7,,0.1\nthermal,2,5,30\n",
        encoding="utf-8",
    )
    points = load_points(path)
    breaker = RatedDevice(device_class="thermal-magnetic", rating_a=20.0, points=points)
    assert device_band(breaker, current_a=150.0).opening_max_s == 0.1
    assert device_band(breaker, current_a=150.0).source.document == "user file own.csv"
    thermal = RatedDevice(device_class="thermal", rating_a=10.0, points=points)
    assert device_band(thermal, current_a=20.0).opening_max_s == 30.0
    assert device_limits("iso-8820-3-c", points=points) == opening_limits("iso-8820-3-c")


def test_a_name_that_is_no_class_is_reported_with_its_line(tmp_path):
    path = tmp_path / "own.csv"
    path.write_text("family,current_factor,opening_min_s,opening_max_s\nmagic,2,5,30\n", encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_points(path)
    assert "hydraulic-magnetic" in str(caught.value.problems[0])


def test_a_class_without_rows_still_says_whose_table_is_missing():
    limits = device_limits("thermal", points=())
    assert limits.points == ()
    assert limits.source.document.startswith("IEC 60934")
    assert device_band(RatedDevice(device_class="thermal", rating_a=10.0, points=()), current_a=50.0) is None

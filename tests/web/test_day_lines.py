"""Bars of the day plans: where they lie, on which plan, and what cannot be moved."""

from pathlib import Path

import numpy as np
import pytest

from ampwright.climate.series import SunSeries
from ampwright.job.load import job_from_text
from ampwright.web.day_lines import day_view
from ampwright.web.store import starting_texts


def sun(up_from_h, up_to_h, steps_count=48):
    hours = (np.arange(steps_count) + 0.5) * 24.0 / steps_count
    zeros = np.zeros(steps_count)
    return SunSeries(
        start_day=1, day_count=1, steps_per_day=steps_count, ghi_w_m2=zeros, dni_w_m2=zeros, dhi_w_m2=zeros,
        extra_normal_w_m2=zeros, sun_azimuth_deg=zeros, ambient_degc=zeros,
        sun_elevation_deg=np.where((hours > up_from_h) & (hours < up_to_h), 10.0, -10.0),
    )  # fmt: skip


def view_of(*changes, sky=None):
    text = starting_texts()["start"][1]
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return day_view(job_from_text(text, Path("job.toml")), sky)


def bars(plan, lane):
    return next(each.bars for each in plan.lanes if each.name == lane)


def test_bars_stand_where_the_clock_says_on_the_plans_they_belong_to():
    drive, stay = view_of().plans
    (bar,) = bars(drive, "Vehicle")
    assert (bar.path, bar.letter, bar.text) == ("day.0.period.0", "D", "09:00 to 12:00")
    assert [(piece.x, piece.width) for piece in bar.pieces] == [("37.5000%", "12.5000%")]
    assert [lane.name for lane in drive.lanes] == ["Vehicle", "Cabin lights"]
    assert [lane.name for lane in stay.lanes] == ["Vehicle", "Cabin lights", "Laptop"]
    (laptop,) = bars(stay, "Laptop")
    assert (
        laptop.letter.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ") == "70 %"
    )
    assert (drive.day_count, stay.day_count, stay.always) == (2, 3, ("Refrigerator",))


def test_a_bar_past_midnight_has_two_pieces():
    view = view_of(
        ('when = [{ start = "19:00", end = "23:00" }]', 'when = [{ start = "18:00", end = "06:00" }]')
    )
    (bar,) = bars(view.plans[0], "Cabin lights")
    assert [(piece.x, piece.width) for piece in bar.pieces] == [
        ("75.0000%", "25.0000%"),
        ("0.0000%", "25.0000%"),
    ]
    assert (bar.start_x, bar.end_x, bar.text) == ("75.0000%", "25.0000%", "18:00 to 06:00")


def test_a_load_all_day_by_the_clock_is_a_whole_bar():
    view = view_of(('when = [{ start = "19:00", end = "23:00" }]', "when = [{ duty_frac = 0.5 }]"))
    (bar,) = bars(view.plans[0], "Cabin lights")
    assert (bar.text, bar.length_min) == ("00:00 to 24:00", 1440)


def test_the_step_and_the_sun_are_those_of_the_place_and_cannot_be_moved():
    view = view_of(sky=sun(6.0, 18.0))
    assert (view.step_min, view.sun_text) == (30, "06:00 to 18:00")
    (bar,) = bars(view.plans[0], "Sun")
    assert bar.path == ""
    assert [(piece.x, piece.width) for piece in view.plans[0].nights] == [
        ("0.0000%", "25.0000%"),
        ("75.0000%", "25.0000%"),
    ]


def test_without_a_place_there_is_no_sun_and_where_it_never_rises_none_either():
    assert view_of().sun_text == ""
    polar = view_of(sky=sun(25.0, 26.0))
    assert (polar.sun_text, polar.plans[0].nights) == ("", ())


def test_a_panel_that_is_turned_follows_the_sun():
    view = view_of(
        ("shade_frac = 0.05            # lost to racks and dirt", "panel = { aimed_count = 3 }"),
        sky=sun(6.0, 18.0),
    )
    turned = bars(view.plans[0], "panel turned")
    assert [(bar.path, bar.letter, bar.text) for bar in turned] == [
        ("", "1", "06:00 to 10:00"), ("", "2", "10:00 to 14:00"), ("", "3", "14:00 to 18:00"),
    ]  # fmt: skip


def test_every_stretch_that_can_be_changed_stands_once_in_the_table():
    view = view_of(
        (
            'id = "stay"\n',
            'id = "stay"\nshade = [{ start = "08:00", end = "11:00", shade_frac = { unknown = [0.2, 0.6] } }]\n',
        )
    )
    assert [(row.path, row.name, row.of, row.start, row.end, row.row) for row in view.rows] == [
        ("day.0.period.0", "driving", "drive", "09:00", "12:00", "drive"),
        ("day.1.shade.0", "in shade", "stay", "08:00", "11:00", "stay"),
        ("load.1.when.0", "Cabin lights", "every plan", "19:00", "23:00", "lights"),
        ("load.2.when.0", "Laptop", "stay", "18:00", "22:00", "laptop"),
    ]
    (shade,) = bars(view.plans[1], "Shade")
    assert shade.letter[:2] == "40"


@pytest.mark.parametrize("clock", ["noon", "24:30"])
def test_a_stretch_without_a_clock_time_has_no_bar_and_stays_in_the_table(clock):
    view = view_of(('start = "19:00", end = "23:00"', f'start = "{clock}", end = "23:00"'))
    assert [lane.name for lane in view.plans[0].lanes] == ["Vehicle", "Cabin lights"]
    assert bars(view.plans[0], "Cabin lights") == ()
    assert [row.start for row in view.rows if row.row == "lights"] == [clock]


def test_a_load_that_follows_the_sun_is_drawn_and_cannot_be_moved():
    change = (
        'when = [{ start = "19:00", end = "23:00" }]',
        'when = [{ start = "sunset-0:30", end = "23:00" }]',
    )
    (bar,) = bars(view_of(change, sky=sun(6, 18)).plans[0], "Cabin lights")
    assert (bar.path, bar.look, bar.text) == ("", "sun", "17:30 to 23:00")

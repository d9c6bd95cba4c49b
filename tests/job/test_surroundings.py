"""Uses that move on: each place with its own sun, air and clock, in the plain answer and in the runs."""

from __future__ import annotations

import datetime as dt
import itertools
import re

import numpy as np
import pytest
from tests.climate.hour_files import stamps, table
from tests.conftest import EXAMPLES

from ampwright import api
from ampwright.climate.series import SERIES_ARRAYS
from ampwright.climate.sources import load_typical_day, shipped_site
from ampwright.errors import JobError
from ampwright.job.surroundings import real_years_of, window_of

NAME = "vaccine-outreach"  # 15 days of July at Addis Ababa
NORTH = """{ name = "far north", latitude_deg = 60, longitude_deg = 25, utc_offset_h = 2,
ghi_kwh_m2_day = [0.3, 0.8, 2, 3.5, 5, 5.5, 5.2, 4, 2.4, 1, 0.4, 0.2],
max_degc = [-3, -3, 1, 8, 15, 19, 22, 20, 15, 9, 3, 0], min_degc = [-9, -9, -6, 0, 5, 10, 13, 12, 8, 4, -1, -6] }""".replace(
    "\n", " "
)


def text_of(*legs, start="addis-ababa-et"):
    text = (EXAMPLES / f"{NAME}.toml").read_text(encoding="utf-8").replace("addis-ababa-et", start)
    blocks = (f'[[leg]]\nid = "{name}"\nfrom_day = {day}\nplace = {place}\n' for name, day, place in legs)
    return "\n".join([text, *blocks])


def loaded(*legs, start="addis-ababa-et"):
    return api.load_text(text_of(*legs, start=start), EXAMPLES / "moving.toml")


def runs(job):
    return api.weather_of(job.design, EXAMPLES)


TWO = (("lowland", 3, '{ site = "awassa-et" }'), ("north", 8, NORTH))


def test_the_plain_answer_has_the_mean_day_of_each_place():
    job = loaded(*TWO)
    assert [(leg.name, leg.first, leg.day_count) for leg in job.design.legs] == [
        ("Addis Ababa", 0, 2),
        ("lowland", 2, 5),
        ("north", 7, 8),
    ]
    days = [load_typical_day(shipped_site(name), 7) for name in ("addis-ababa-et", "awassa-et")]
    assert job.sun.day_count == 15
    for name in SERIES_ARRAYS:
        course = getattr(job.sun, name).reshape(15, 96)
        for day in range(7):
            assert (course[day] == getattr(days[day >= 2], name)).all()
    # 5.2 kWh/m2 are typed for July in the north; its sun is highest at 90 - 60 + 21.2 deg (17 July), air at most 22
    north = slice(7 * 96, None)
    assert job.sun.ghi_w_m2[north].mean() * 0.024 == pytest.approx(5.2)
    assert job.sun.sun_elevation_deg[north].max() == pytest.approx(51.2, abs=0.1)
    assert job.sun.ambient_degc[north].max() == pytest.approx(22.0)


def test_every_place_has_its_own_clock():
    # Addis Ababa, 38.7 E at UTC+3: the sun is highest at 12 + 3 - 38.7 / 15 = 12:25 and 6 min of the equation of time later;
    # 25 E at UTC+2: 12:20 and 6 min
    job = loaded(("north", 8, NORTH))
    noon = np.argmax(job.sun.sun_elevation_deg.reshape(15, 96), axis=1) / 4.0
    assert noon[0] == pytest.approx(12.52, abs=0.26)
    shifted = loaded(("north", 8, NORTH.replace("utc_offset_h = 2", "utc_offset_h = 5")))
    moved = np.argmax(shifted.sun.sun_elevation_deg.reshape(15, 96), axis=1) / 4.0
    assert (moved[:7] == noon[:7]).all()
    assert (moved[7:] - noon[7:] == 3.0).all()


def test_runs_are_those_of_each_place_on_its_days():
    moving = runs(loaded(*TWO))
    places = [
        (runs(loaded()), slice(0, 2)),
        (runs(loaded(start="awassa-et")), slice(2, 7)),
    ]
    for alone, days in places:
        steps = slice(96 * days.start, 96 * days.stop)
        assert (moving.ghi_w_m2[:, steps] == alone.ghi_w_m2[:, steps]).all()
        assert (moving.ambient_degc[:, steps] == alone.ambient_degc[:, steps]).all()
        assert (moving.daily.clearness_frac[:, days] == alone.daily.clearness_frac[:, days]).all()
        assert (moving.angles.azimuth_deg[steps] == alone.angles.azimuth_deg[steps]).all()
    assert moving.day_count == 15
    assert moving.member(0).ghi_w_m2.size == 15 * 96


def test_a_dull_spell_goes_along():
    # the deviation from the month's mean goes on over the border: as strongly tied as two days at one place
    moving = runs(loaded(("lowland", 8, '{ site = "awassa-et" }'))).daily.clearness_frac
    across = np.corrcoef(moving[:, 6], moving[:, 7])[0, 1]
    alone = runs(loaded()).daily.clearness_frac
    assert across == pytest.approx(np.corrcoef(alone[:, 6], alone[:, 7])[0, 1], abs=0.1)


def test_legs_at_one_and_the_same_place_change_nothing():
    same = '{ site = "addis-ababa-et" }'
    still, moving = api.answer(loaded()), api.answer(loaded(("again", 4, same), ("and-again", 9, same)))
    assert (moving.chance.margin_frac == still.chance.margin_frac).all()
    assert moving.assessment.energy.soc_frac == pytest.approx(still.assessment.energy.soc_frac, abs=1e-9)


def test_panels_see_the_sun_of_the_place_and_what_happens_names_it():
    # December at 75 north: polar night, typed as 0; what the panels give stops with the leg
    figures = "[0, 0, 1, 3, 5, 5.5, 5.2, 3, 1.5, 0.2, 0, 0]"
    dark = re.sub(r"ghi_kwh_m2_day = \[[^]]*\]", f"ghi_kwh_m2_day = {figures}", NORTH.replace("= 60", "= 75"))
    text = (
        text_of(("night", 5, dark))
        .replace("month = 7", "month = 12")
        .replace("coldest_degc = 4", "coldest_degc = -9")
    )
    answer = api.answer(api.load_text(text, EXAMPLES / "moving.toml"))
    energy = answer.assessment.energy
    panel = [column for column, kind in enumerate(energy.source_kinds) if kind == "panel"]
    given = energy.source_w[:, panel].sum(axis=1).reshape(15, 96).sum(axis=1)
    assert (given[:4] > 0.0).all()
    assert (given[4:] == 0.0).all()
    assert "(night)" in answer.assessment.run_out.message
    assert any(
        one.startswith("night, day 5 to 15: Weather: every day is the mean day of December")
        for one in answer.assumptions
    )


def test_real_years_follow_the_use_from_place_to_place(tmp_path):
    spots = {
        "start": "{ latitude_deg = 9, longitude_deg = 38.7 }",
        "on": "{ latitude_deg = 7, longitude_deg = 38.5 }",
    }
    years = {"start": {2006: 100.0, 2007: 200.0, 2008: 300.0}, "on": {2007: 20.0, 2008: 30.0, 2009: 40.0}}
    for name, levels in years.items():
        for year, level in levels.items():
            count = 24 * (366 if year % 4 == 0 else 365)
            begin = dt.date(year, 1, 1).isoformat()
            text = table(stamps(begin, count), np.full(count, level), np.full(count, 20.0))
            (tmp_path / f"{name}-{year}.csv").write_text(text)
    spots = {
        name: spot.replace(
            " }", f", year_files = [{', '.join(repr(f'{name}-{y}.csv') for y in years[name])}] }}"
        )
        for name, spot in spots.items()
    }
    text = text_of(("on", 6, spots["on"]))
    begin, end = text.index("[place]"), text.index("[season]")
    inline = spots["start"].strip("{} ").replace(", l", "\nl").replace(", y", "\ny")
    text = f"{text[:begin]}[place]\n{inline}\n\n{text[end:]}"
    job = api.load_text(text, tmp_path / "job.toml")
    real = real_years_of(job.design, tmp_path)()
    assert real.labels == ("2007", "2008")
    assert [one.partition(":")[0] for one in real.left_out] == ["2006", "2009"]
    sums = real.ensemble.daily.irradiation_kwh_m2_day
    assert sums[:, 0] == pytest.approx([4.8, 7.2])  # 24 h of 200 and 300 W/m2
    assert sums[:, -1] == pytest.approx([0.48, 0.72])
    assert real.ensemble.day_count == window_of(job.design)["day_count"] == 15


SAME = '{ site = "awassa-et" }'


@pytest.mark.parametrize(
    ("legs", "said"),
    [
        ([("a b", 3, SAME)], "is no id"),
        ([("a", 3, SAME), ("a", 5, SAME)], "'a' is used twice"),
        ([("a", 5, SAME), ("b", 5, SAME)], "no later than the leg before it"),
        ([("a", 16, SAME)], "day 16 of 15; the use is over by then"),
        ([("a", 3, '{ site = "awasa-et" }')], "did you mean 'awassa-et' or"),
        ([("a", 3, "{ }")], "give one of: site, weather_file"),
        ([("a", 3, NORTH.replace("5.2, ", "15.2, "))], "15.2 is impossible"),
        (
            [("a", 3, '{ site = "awassa-et", year_files = ["a.csv"] }')],
            "for every place of the use, or for none",
        ),
    ],
)
def test_legs_that_cannot_be_meant_are_refused_where_they_stand(legs, said):
    with pytest.raises(JobError) as caught:
        loaded(*legs)
    (problem,) = caught.value.problems
    assert said in problem.message
    assert problem.path.startswith("leg")
    line = text_of(*legs).split("\n")[problem.line - 1]
    assert any(word in line for word in ("id =", "from_day =", "place =", "[[leg]]"))


def test_two_faults_are_told_at_once():
    legs = [("a", 16, '{ site = "nowhere" }')]
    with pytest.raises(JobError) as caught:
        loaded(*legs)
    assert len(caught.value.problems) == 2


def test_the_report_and_the_chart_name_the_places():
    from ampwright.documents.energy_view import use_course  # noqa: PLC0415 - heavy
    from ampwright.documents.report_model import report_model  # noqa: PLC0415 - heavy
    from ampwright.documents.words.words import english  # noqa: PLC0415 - heavy

    answer = api.answer(loaded(*TWO))
    facts = [fact.text for fact in report_model(answer, english()).facts if fact.label == "Then"]
    assert facts == ["lowland, from day 3", "north, from day 8"]
    course = use_course(answer.assessment)
    assert [name for name, _ in itertools.groupby(course.legs)] == ["Addis Ababa", "lowland", "north"]

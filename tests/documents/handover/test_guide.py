import dataclasses

import numpy as np
import pypdfium2 as pdfium
import pytest
from materials import material

from ampwright.documents.chart import soc_chart
from ampwright.documents.energy_view import use_course
from ampwright.documents.handover.guide import guide_model
from ampwright.documents.pack.publish import pack_of
from ampwright.sizing.chance import Chance
from ampwright.sizing.contents import ContentsChance


def guide(found):
    chart = soc_chart(use_course(found.found), width_mm=182.0, units="metric")
    return guide_model(found, chart)


def with_runs(found, held):
    chance = Chance(
        run_count=50, seed=1, held_count=held, loads=(), band_frac=(), daily_low_frac=np.zeros((5, 1)),
        margin_frac=np.zeros(50), worst_run=0, worst_message="", worst_soc_frac=np.zeros(97), first_failure_day=(), sun_kwh_m2_day=np.zeros(50), shares_frac={},
    )  # fmt: skip
    return dataclasses.replace(found, answer=dataclasses.replace(found.answer, chance=chance))


@pytest.mark.parametrize(
    ("held", "said"),
    [
        (50, "No failure seen in 50 trips calculated"),
        (45, "Something essential stops in about 1 trip in 10"),
        (49, "Something essential stops in about 1 trip in 50"),
        (10, "Something essential stops in about 8 trips in 10"),
        (0, "Something essential stops in every trip calculated"),
    ],
)
def test_first_scenario_says_how_sure_it_is(held, said):
    first = guide(with_runs(material("night-survey-van"), held)).scenarios[0]
    assert first.answer == said
    assert first.why.startswith(f"{held} of 50 trips calculated held")


def test_there_are_three_scenarios_and_none_promises_without_a_figure():
    model = guide(material("night-survey-van"))
    assert len(model.scenarios) == 3
    assert all(each.answer for each in model.scenarios)


def test_the_refrigerator_that_holds_shortest_is_told():
    found = with_runs(material("night-survey-van"), 50)
    names = {"low_degc": None, "is_stated": True, "lowest_degc": np.ones(20), "highest_degc": np.ones(20), "out_h": np.zeros(20)}  # fmt: skip
    long = ContentsChance(
        load="a", name="Box", high_degc=8.0, hold_over_h=np.linspace(30.0, 40.0, 20), **names
    )
    short = ContentsChance(
        load="b", name="Chest", high_degc=-15.0, hold_over_h=np.linspace(5.5, 9.0, 20), **names
    )
    chance = dataclasses.replace(found.answer.chance, contents=(long, short))
    told = dataclasses.replace(found, answer=dataclasses.replace(found.answer, chance=chance))
    scenario = guide(told).scenarios[-1]
    assert (scenario.heading, scenario.answer) == ("A refrigerator loses its supply", "about 5 h")
    assert "the contents of Chest reach -15 °C" in scenario.why


def test_what_is_switched_off_first_is_never_essential():
    found = material("bicycle-repair-truck")
    names = {load.name for load in found.design.loads if not load.is_essential}
    lines = guide(found).first_off
    assert {line.name for line in lines} <= names
    savings = [float(line.text.split("about ")[1].split("\u00a0")[0]) for line in lines]
    assert savings == sorted(savings, reverse=True)


def test_times_are_rounded_down():
    model = guide(material("night-survey-van"))
    laptop = next(bar for bar in model.bars if bar.name == "Laptop charger")
    assert laptop.text == "about 14 h"
    assert not laptop.is_cut
    assert laptop.part_frac < 15 / 72


def test_cautions_follow_what_is_aboard():
    lithium = " ".join(guide(material("night-survey-van")).cautions)
    assert "Lithium battery" in lithium
    assert "Mains lead" not in lithium
    assert "Mains lead" in " ".join(guide(material("base-mains")).cautions)


@pytest.mark.parametrize(
    "name", ["night-survey-van", "bicycle-repair-truck", "vaccine-outreach", "base-mains"]
)
@pytest.mark.parametrize("language", ["en", "de"])
def test_guide_has_two_pages(name, language):
    file = pack_of(material(name, language=language), only=("handover",)).files[0]
    assert len(pdfium.PdfDocument(file.content)) == 2

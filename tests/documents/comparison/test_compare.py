"""A comparison is made of two answers of one stage; its sums are those of the answers."""

import dataclasses
import json
import tomllib
from importlib.resources import files

import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.documents.comparison.compare import comparison_of
from ampwright.documents.comparison.plain import plain_comparison
from ampwright.documents.comparison.records import Side

TEXT = (files("ampwright.job") / "starting_job.toml").read_text(encoding="utf-8")


def side(tmp_path_factory, **exchanged):
    """Return the quick side of the starting job with texts exchanged."""
    text = TEXT
    for old, new in exchanged.get("put", ()):
        assert old in text
        text = text.replace(old, new, 1)
    assert tomllib.loads(text)
    loaded = api.load_text(text, tmp_path_factory.mktemp("job") / "job.toml")
    found = assess(loaded.design, loaded.sun)
    return Side(title=exchanged.get("title", "one"), job=loaded.source.job, assessment=found)


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    return side(tmp_path_factory)


@pytest.fixture(scope="module")
def smaller(tmp_path_factory):
    return side(tmp_path_factory, title="two", put=[('part = "panel-200"', 'part = "panel-100"')])


def test_a_job_with_itself_has_no_difference(first):
    found = comparison_of(first, first)
    assert found.is_same_answer
    assert (found.inputs, found.findings) == ((), ())
    assert all(each.before == each.after for each in found.figures)
    assert all(each.before_wh == each.after_wh for each in found.ledger)


def test_the_books_of_both_sides_are_theirs(first, smaller):
    found = comparison_of(first, smaller)
    for place, one in (("before_wh", first), ("after_wh", smaller)):
        books = one.assessment.energy.ledger
        days = one.assessment.energy.day_count
        came_in = sum(getattr(line, place) or 0.0 for line in found.ledger if line.group == "In")
        given_back = max(0.0, -books.stored_change_wh)
        assert came_in * days == pytest.approx(
            books.source_wh + given_back, abs=0.05 * days * len(found.ledger)
        )
    sun = next(line for line in found.ledger if line.name.startswith("sun"))
    assert sun.after_wh < sun.before_wh


def test_mass_and_money_are_those_of_the_parts(first, smaller):
    figures = {each.name: each for each in comparison_of(first, smaller).figures}
    panels = [next(p.part for p in s.assessment.design.parts if p.id == "panel") for s in (first, smaller)]
    mass, bill = figures["mass added"], figures["bill without tax"]
    assert mass.after - mass.before == pytest.approx(panels[1].mass_kg - panels[0].mass_kg)
    assert bill.after - bill.before == pytest.approx(panels[1].price_eur - panels[0].price_eur, abs=0.005)


def test_only_what_was_changed_is_an_input(first, smaller):
    (only,) = comparison_of(first, smaller).inputs
    assert (only.where, only.field, only.before, only.after) == (
        "part 'panel'",
        "part",
        "panel-200",
        "panel-100",
    )


def test_a_quick_and_a_full_answer_are_compared_as_quick_ones(tmp_path_factory, first):
    path = tmp_path_factory.mktemp("full") / "job.toml"
    path.write_text(TEXT.replace("[season]", "[doubt]\nruns = 4\n\n[season]"), encoding="utf-8")
    loaded = api.load(path)
    full = Side(
        title="full",
        job=loaded.source.job,
        assessment=assess(loaded.design, loaded.sun),
        answer=api.answer(loaded),
    )
    mixed = comparison_of(first, full)
    assert (mixed.stage, mixed.before.stage, mixed.after.stage) == ("quick", "quick", "quick")
    assert mixed.findings == ()
    assert "runs of weather and doubt held" not in {each.name for each in mixed.figures}
    both = comparison_of(full, dataclasses.replace(full, title="again"))
    assert both.stage == "full"
    held = next(each for each in both.figures if each.name == "runs of weather and doubt held")
    assert held.before == full.answer.chance.held_count / 4


def test_it_is_plain_enough_for_json(first, smaller):
    plain = json.loads(json.dumps(plain_comparison(comparison_of(first, smaller)), allow_nan=False))
    assert plain["stage"] == "quick"
    assert plain["inputs"][0]["after"] == "panel-100"
    assert plain["is_same_answer"] is False

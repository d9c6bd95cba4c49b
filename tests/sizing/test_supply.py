"""Larger parts as candidates: a converter in the place of one that cannot give what it feeds."""

import planted

from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.supply import larger_converter


def test_the_next_larger_converters_are_proposed_for_one_in_trouble():
    found = planted.faulty("converter-overloaded")
    (family,) = larger_converter(found.design.job, found, shipped_catalogue())
    placed = [next(part.part for part in each.job.part if part.id == "step") for each in family]
    assert placed == ["step-24-12-30", "step-24-12-30-isolated"]
    assert [each.kind for each in family] == ["converter", "converter"]
    assert family[0].cost_eur == 130.0


def test_one_of_them_mends_it():
    found = planted.faulty("converter-overloaded")
    (family,) = larger_converter(found.design.job, found, shipped_catalogue())
    raw = planted.edited(planted.base_job("base-24v"), planted.params("converter-overloaded")["both"])
    faulty = planted.edited(raw, planted.params("converter-overloaded")["fault"])
    mended = planted.assessed(planted.edited(faulty, {"set": {"part/step/part": "step-24-12-30"}}))
    assert "converter-load" not in {f.rule for f in planted.troubles(mended)}
    assert family


def test_none_is_proposed_where_none_is_short():
    found = planted.twin("converter-overloaded")
    assert list(larger_converter(found.design.job, found, shipped_catalogue())) == []

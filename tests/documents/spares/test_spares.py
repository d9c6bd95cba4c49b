import dataclasses

import pytest
from materials import material

from ampwright.documents.spares.spares import fuse_uses, spare_count, spares_list
from ampwright.parts.protection import Fuse


def fuse(family):
    found = material("bicycle-repair-truck").catalogue.parts.values()
    return next(part for part in found if isinstance(part, Fuse) and part.family == family)


@pytest.mark.parametrize(
    ("family", "fitted", "count"),
    [
        ("iso-8820-3-f", 1, 2),
        ("iso-8820-3-f", 5, 2),
        ("iso-8820-3-f", 6, 3),
        ("iso-8820-3-f", 11, 4),
        ("ul-248-15-t", 1, 1),
        ("ul-248-15-t", 10, 1),
        ("ul-248-15-t", 11, 2),
    ],
)
def test_count_by_hand(family, fitted, count):
    assert spare_count(fuse(family), fitted) == count


def test_fuses_of_the_module_are_listed_too():
    found = fuse_uses(material("night-survey-van").design)
    assert {place for _, places in found.values() for place in places} == {"F10", "pm.F1"}


def test_fuses_of_strings_are_counted_one_by_one():
    design = material("night-survey-van").design
    parts = tuple(
        dataclasses.replace(p, string_device=fuse("iec-60269-6-gpv")) if p.id == "panels" else p
        for p in design.parts
    )
    found = fuse_uses(dataclasses.replace(design, parts=parts))
    assert ["panels 1", "panels 2"] in [places for _, places in found.values()]


def test_breakers_are_no_spares():
    (listed,) = [spares_list(material("vaccine-outreach"))]
    assert {row[1].split(";")[0] for row in listed.fuses} == {"UL 248-15 class T"}


def test_lamps_are_loads_of_constant_current():
    listed = spares_list(material("night-survey-van"))
    assert [row[0] for row in listed.lamps] == ["Red lamps, cabin and step", "White work lamps"]
    assert [row[3] for row in listed.lamps] == ["4", "2"]

import dataclasses
import datetime as dt

import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.as_built.as_built import as_built_record
from ampwright.job.wiring import AsLeft


def sections(found):
    return {section.title: section for section in as_built_record(found).sections}


def test_what_the_job_holds_is_printed():
    parts = sections(material("night-survey-van"))["Parts"].table.rows
    assert parts[0][0] == "pm"
    assert parts[0][3] == "0117"


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_the_rest_is_blank(name):
    found = sections(material(name))
    for row in found["Settings as left"].table.rows:
        assert row[3:] == ("____", "____")
    for row in found["Cables and devices as laid"].table.rows:
        assert row[3] == "____"


def test_a_reading_stands_in_its_place():
    found = material("base-12v")
    left = AsLeft(by="R. Lind", date=dt.date(2026, 2, 1), how="display", firmware="1.4", charge_v=14.2)
    settings = tuple(
        dataclasses.replace(each, as_left=left) if each.part == "charger" else each
        for each in found.design.wanted_settings
    )
    design = dataclasses.replace(found.design, wanted_settings=settings)
    answer = dataclasses.replace(found.answer, assessment=dataclasses.replace(found.found, design=design))
    record = sections(dataclasses.replace(found, answer=answer))
    row = next(
        row for row in record["Settings as left"].table.rows if row[0] == "charger" and row[3] == "14.20 V"
    )
    assert row[4] == "R. Lind, 2026-02-01, display"
    assert next(row for row in record["Parts"].table.rows if row[0] == "charger")[4] == "1.4"

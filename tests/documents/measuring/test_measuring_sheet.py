import dataclasses

import pypdfium2
import pytest
from materials import BASES, EXAMPLES, material
from overlaps import faults

from ampwright.documents.measuring.measuring_sheet import left_out, measuring, measuring_sheet, plan_of
from ampwright.fieldwork.measuring import MEASURING_CAUTIONS


def plain(text):
    """Text without spaces, line ends and hidden breaks."""
    return "".join(each for each in text if each.isprintable() and each not in " \u00a0\u202f\ufffe")


def text_of(name):
    (file,) = measuring(material(name))
    return plain(
        "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(file.content))
    )


@pytest.mark.parametrize("name", ["night-survey-van", "base-24v"])
def test_every_reading_has_its_row_its_box_and_its_line(name):
    text, plan = text_of(name), plan_of(material(name))
    assert plan.steps
    for step in plan.steps:
        assert plain(step.title) in text
        assert plain(step.line) in text
        for label in step.also:
            assert plain(label) in text


def test_cautions_come_before_the_first_reading():
    text = text_of("night-survey-van")
    first = text.index(plain("What the parked vehicle takes"))
    for caution in MEASURING_CAUTIONS:
        assert 0 <= text.index(plain(caution)) < first


def test_figures_are_those_of_the_procedure():
    sheet, plan = measuring_sheet(material("night-survey-van")), plan_of(material("night-survey-van"))
    own = dict(zip([step.title for step in plan.steps], sheet.readings, strict=True))
    assert own["What the vehicle itself takes by day"].expected == "35.0\u00a0A"
    lost = next(each for each in sheet.readings if each.title.startswith("Voltage lost"))
    assert lost.also == ("at the source, V", "at the device, V")


def test_a_vehicle_without_engine_has_no_sheet():
    found = material("night-survey-van")
    design = found.design
    vehicle = dataclasses.replace(design.vehicle, has_alternator=False, has_starter_battery=False)
    bare = dataclasses.replace(found.found, design=dataclasses.replace(design, vehicle=vehicle))
    answer = dataclasses.replace(found.answer, assessment=bare)
    assert "nothing to measure" in left_out(dataclasses.replace(found, answer=answer))
    assert left_out(found) == ""


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_nothing_is_clipped_or_lies_over_another(name):
    (file,) = measuring(material(name))
    assert [fault for page in pypdfium2.PdfDocument(file.content) for fault in faults(page)] == []

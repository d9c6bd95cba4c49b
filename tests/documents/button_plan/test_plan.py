"""The button plan as drawn, and the same words on guide, labels and commissioning sheet."""

import dataclasses

import pypdfium2 as pdfium
import pytest
from materials import material

from ampwright.documents.button_plan.plan import button_plan_sheet, buttons, no_buttons
from ampwright.documents.button_plan.wording import does_text
from ampwright.documents.commissioning.button_tables import button_sections
from ampwright.documents.handover.care import buttons as guide_lines
from ampwright.documents.words.words import load_words
from ampwright.fieldwork.predict import predicted_tests
from ampwright.job.design_buttons import DesignButton

VAN = "night-survey-van"


def with_buttons(*made, interlocks=()):
    found = material(VAN)
    design = dataclasses.replace(found.design, buttons=made, interlocks=interlocks)
    assessment = dataclasses.replace(found.answer.assessment, design=design)
    return dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))


def button(does, *channels, **more):
    values = {"levels_frac": (), "keeps": (), "part": 0, "number": 1, "legend": "X", "index": 0}
    return DesignButton(does=does, channels=channels, **(values | more))


def test_buttons_stand_in_rows_at_their_relative_places():
    (panel,) = button_plan_sheet(material(VAN)).panels
    # 110 x 80 mm at 1.3: 143 x 104 mm; three across, two down: a pitch of 47.667 x 52 mm
    assert panel.size_mm == (pytest.approx(143.0), pytest.approx(104.0))
    assert [each.number for each in panel.buttons] == ["1", "2", "3", "4", "5", "6"]
    assert panel.buttons[4].x_mm - panel.buttons[3].x_mm == pytest.approx(47.667, abs=0.001)
    assert panel.buttons[3].y_mm - panel.buttons[0].y_mm == pytest.approx(52.0)
    right = max(each.x_mm for each in panel.buttons) + panel.button_mm[0]
    assert right < panel.size_mm[0]


def test_plan_is_one_page_with_every_legend():
    (file,) = buttons(material(VAN))
    pdf = pdfium.PdfDocument(file.content)
    assert len(pdf) == 1
    text = pdf[0].get_textpage().get_text_range()
    for words in ("RED", "ALL OFF", "RECORDERS", "Red lamps at 25 %", "stays off while driving on the road"):
        assert words in text.replace("\u00a0", " ").replace("\r\n", " "), words


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (button("toggle", 3), "press: Red lamps on or off"),
        (button("momentary", 3), "hold: Red lamps on until you let go"),
        (button("two-colours", 3, 4), "press: Red lamps; second press: White lamps; third press: off"),
        (
            button("scene", 3, 4, levels_frac=(1.0, 0.0)),
            "press: Red lamps on, White lamps off; all else stays as it is",
        ),
        (button("all-off"), "press: everything with a button goes off"),
        (
            button("all-off", keeps=(2,)),
            "press: everything with a button goes off, but Recorders stays as it is",
        ),
    ],
)
def test_words_of_each_use(made, said):
    assert does_text(material(VAN).design, made, load_words("en")) == said


def test_a_button_without_use_is_drawn_without_legend():
    (panel,) = button_plan_sheet(with_buttons(dataclasses.replace(material(VAN).design.buttons[1]))).panels
    assert [each.legend for each in panel.buttons] == ["", "WHITE", "", "", "", ""]
    assert [row[0] for row in panel.rows] == ["2"]


def test_no_plan_without_buttons_and_the_guide_then_names_outputs():
    bare = with_buttons()
    assert no_buttons(bare)
    assert no_buttons(material(VAN)) == ""
    names = [name for name, _ in guide_lines(bare.design, bare.words)]
    assert names[0] == "Fridge"
    assert next(name for name, _ in guide_lines(material(VAN).design, bare.words)) == "RED"
    assert list(button_sections(bare, ())) == []


def test_bench_presses_each_button_and_reads_what_its_loads_take():
    found = material(VAN)
    pressed, locked = button_sections(found, predicted_tests(found.found))
    rows = {row[1]: tuple(cell.replace("\u00a0", " ") for cell in row) for row in pressed.table.rows}
    # four red lamps of 4 W and two white ones of 16 W, constant current by 12 V
    assert rows["RED"][3:5] == ("pm.outputs.8", "1.33 A")
    assert rows["WHITE"][3:5] == ("pm.outputs.9", "2.67 A")
    assert rows["NIGHT"][3] == "pm.outputs.8"
    assert rows["ALL OFF"][3:5] == ("–", "–")
    assert locked.table.rows[0][0].startswith("White lamps: stays off while driving on the road.")


def test_current_of_two_outputs_adds_and_of_two_colours_is_the_larger():
    both = with_buttons(button("toggle", 3, 4, part=0), button("two-colours", 3, 4, index=1))
    (pressed,) = button_sections(both, predicted_tests(material(VAN).found))
    assert [row[4].replace("\u00a0", " ") for row in pressed.table.rows] == ["4.00 A", "2.67 A"]

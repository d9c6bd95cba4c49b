import dataclasses

import pypdfium2 as pdfium
import pytest
import zxingcpp
from materials import EXAMPLES, material
from overlaps import faults, letters

from ampwright.documents.cabling.pieces import pieces
from ampwright.documents.labels.document import labels
from ampwright.documents.labels.legends import legend_width_mm
from ampwright.documents.labels.model import code_text, label_sheet

MM_PER_PT = 25.4 / 72.0
STROKE_MM = 0.25
"""A drawn line is as much wider than what it goes round."""


def pdf_of(name):
    (file,) = labels(material(name))
    return pdfium.PdfDocument(file.content)


def boxes_mm(page):
    """Return width and height of every drawn shape, as an independent reader of PDF measures them."""
    found = []
    for shape in page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH]):
        left, bottom, right, top = shape.get_bounds()
        found.append(((right - left) * MM_PER_PT, (top - bottom) * MM_PER_PT))
    return found


def count(found, width_mm, height_mm):
    return sum(
        abs(width - width_mm) < STROKE_MM and abs(height - height_mm) < STROKE_MM for width, height in found
    )


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_page_has_its_check_bar(name):
    for number, page in enumerate(pdf_of(name)):
        found = boxes_mm(page)
        bars = [size for size in found if abs(size[0] - 1.2) < 0.02 and abs(size[1] - 100.0) < 0.05]
        assert len(bars) == 1, f"page {number + 1}"
        across = [size for size in found if abs(size[1] - 1.2) < 0.02 and abs(size[0] - 100.0) < 0.05]
        assert len(across) == (1 if number == 0 else 0)
        assert "Print at 100\u00a0%" in page.get_textpage().get_text_range().replace("100 %", "100\u00a0%")


@pytest.mark.parametrize("name", EXAMPLES)
def test_labels_have_their_size_on_paper(name):
    sheet, found = label_sheet(material(name)), []
    for page in pdf_of(name):
        found += boxes_mm(page)
    assert count(found, 88.0, 30.0) == len(sheet.warnings)
    assert count(found, 58.0, 24.0) == len(sheet.devices)
    assert count(found, 43.0, 11.0) == sum(not wire.is_large for wire in sheet.wires)
    assert count(found, 58.0, 15.0) == sum(wire.is_large for wire in sheet.wires)


def test_legends_and_outline_have_the_panels_size():
    (page,) = [
        page for page in pdf_of("night-survey-van") if "RECORDERS" in page.get_textpage().get_text_range()
    ]
    found = boxes_mm(page)
    # 6 buttons on 110 x 80 mm: three across, a pitch of 36.7 mm, less 6 mm
    assert count(found, 30.667, 8.0) == 6
    assert count(found, 110.0, 80.0) == 1


@pytest.mark.parametrize("name", EXAMPLES)
def test_code_is_read_and_holds_job_revision_and_hash_only(name):
    found = material(name)
    (page, *_) = pdf_of(name)
    (code,) = zxingcpp.read_barcodes(page.render(scale=3.0).to_pil())
    assert code.text == code_text(found)
    assert code.text == f"AMPWRIGHT JOB {name} REVISION 1 HASH {found.answer.job_hash}"
    assert "://" not in code.text


def test_each_conductor_outside_the_module_has_two_labels_with_swapped_ends():
    found = material("night-survey-van")
    wires = label_sheet(found).wires
    outside = [piece for piece in pieces(found.design) if not piece.is_inside_module]
    assert sorted(wire.id for wire in wires) == sorted([piece.id for piece in outside] * 2)
    first, second = (wire.ends for wire in wires[:2])
    here, other = first.split("; other end ")
    assert second == f"{other}; other end {here}"


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("night-survey-van", ["LITHIUM BATTERY", "LIVE FROM TWO SIDES", "SOLAR PANELS"]),
        (
            "bicycle-repair-truck",
            ["SHORE POWER", "INVERTER", "LITHIUM BATTERY", "LIVE FROM TWO SIDES", "SOLAR PANELS"],
        ),
    ],
)
def test_warnings_follow_what_is_aboard(name, wanted):
    found = material(name)
    assert [warning.heading for warning in label_sheet(found).warnings] == wanted
    none = dataclasses.replace(
        found.design, parts=tuple(p for p in found.design.parts if p.part.kind != "panel")
    )
    assessment = dataclasses.replace(found.answer.assessment, design=none)
    bare = dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))
    assert "SOLAR PANELS" not in [warning.heading for warning in label_sheet(bare).warnings]


def test_isolator_is_called_by_the_regions_word():
    found = {label.id: label for label in label_sheet(material("bicycle-repair-truck")).devices}
    assert "battery disconnect" in found["S1"].rating
    assert found["S1"].advice == ""
    assert "same type and rating" in found["F1"].advice


def test_each_string_has_a_label_for_its_device():
    found = material("night-survey-van")
    fuse = next(device.part for run in found.design.runs for device in run.devices)
    parts = tuple(
        dataclasses.replace(p, string_device=fuse) if p.id == "panels" else p for p in found.design.parts
    )
    assessment = dataclasses.replace(
        found.answer.assessment, design=dataclasses.replace(found.design, parts=parts)
    )
    changed = dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))
    assert {"panels 1", "panels 2"} <= {label.id for label in label_sheet(changed).devices}


def without_buttons(found, **change):
    design = dataclasses.replace(found.design, **({"buttons": ()} | change))
    assessment = dataclasses.replace(found.answer.assessment, design=design)
    return dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))


def test_legends_are_those_of_the_buttons_and_long_ones_are_told():
    found = material("night-survey-van")
    (legends,) = label_sheet(found).legends
    assert legends.names == ("RED", "WHITE", "DESK", "RECORDERS", "NIGHT", "ALL OFF")
    long = dataclasses.replace(found.design.buttons[0], legend="RED LAMPS ON")
    (legends,) = label_sheet(without_buttons(found, buttons=(long,))).legends
    assert legends.names == ()
    assert legends.notes == (
        "Not printed: 'RED LAMPS ON' has 12 letters, 10 fit. Shorten the button's legend in the job.",
    )


def test_long_legend_is_told_and_not_printed():
    (legends,) = label_sheet(without_buttons(material("night-survey-van"))).legends
    assert "White lamps" not in legends.names
    assert any("'White lamps' has 11 letters, 10 fit" in note for note in legends.notes)


def test_panel_without_size_gets_a_usual_legend():
    found = material("night-survey-van")
    part = next(p.part for p in found.design.parts if p.id == "buttons")
    assert legend_width_mm(dataclasses.replace(part, length_mm=0.0)) == 24.0


def crossing(page):
    """Return the letters that a label's edge cuts through."""
    edges = [shape.get_bounds() for shape in page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH])]
    labels_there = [(a, b, c, d) for a, b, c, d in edges if 80 < c - a < 260 and 28 < d - b < 90]
    found = []
    for left, bottom, right, top, _, near in letters(page):
        for a, b, c, d in labels_there:
            touches = left < c and right > a and bottom < d and top > b
            if touches and not (left >= a and right <= c and bottom >= b and top <= d):
                found.append(near)
    return found


def test_long_names_stay_inside_their_labels():
    found = material("bicycle-repair-truck")
    design = found.design
    long = "left-rear-workbench-power-supply-for-the-second-long-drawer"
    nodes = tuple(f"{long[: 60 - len(node)]}{node}"[:60] for node in design.nodes)
    runs = tuple(
        dataclasses.replace(
            run,
            id=f"{long}-{run.index}",
            devices=tuple(dataclasses.replace(d, id=f"{long[:50]}-{d.id}") for d in run.devices),
        )
        for run in design.runs
    )
    assessment = dataclasses.replace(
        found.answer.assessment, design=dataclasses.replace(design, nodes=nodes, runs=runs)
    )
    (file,) = labels(
        dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))
    )
    pages = pdfium.PdfDocument(file.content)
    assert len(pages) > 1
    for number, page in enumerate(pages):
        assert crossing(page) == [], f"page {number + 1}"
        assert faults(page) == [], f"page {number + 1}"


def test_device_names_the_port_it_feeds():
    (label,) = label_sheet(material("night-survey-van")).devices
    assert label.protects.startswith("protects W10, starter-battery to pm.starter-feed: ")

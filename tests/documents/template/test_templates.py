import io

import ezdxf
import pypdfium2 as pdfium
import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials import material

from ampwright.documents.pack.publish import pack_of
from ampwright.documents.template.drawing import PlateDrawing, Rectangle
from ampwright.documents.template.templates import drawings_of, no_templates, template_dxf, template_sheets
from ampwright.documents.template.tiles import OVERLAP_MM, tiles_of

PT_PER_MM = 72 / 25.4


@pytest.fixture(scope="module")
def van():
    return material("night-survey-van")


def test_holes_and_openings_of_the_front(van):
    (front,) = drawings_of(van.design)
    holes = {circle.number: (circle.x_mm, circle.y_mm) for circle in front.circles if circle.layer == "drill"}
    # buttons of 110 x 80 mm at 15, 20 with holes 5 mm from their corners; outlets of 60 x 40 mm at 150, 40 and 235, 40
    assert holes == {
        1: (20, 25), 2: (120, 25), 3: (120, 95), 4: (20, 95), 5: (155, 60), 6: (205, 60), 7: (240, 60), 8: (290, 60),
    }  # fmt: skip
    openings = [
        (circle.x_mm, circle.y_mm, circle.diameter_mm) for circle in front.circles if circle.layer == "cut"
    ]
    assert openings == [(180, 60, 29), (265, 60, 29)]


def lines(page):
    """Return (left, bottom, right, top) in mm of every drawn line or outline, strokes included, by an independent reader."""
    shapes = page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH], max_depth=4)
    return [tuple(side / PT_PER_MM for side in shape.get_bounds()) for shape in shapes]


def test_bar_and_front_measure_what_they_say(van):
    (file,) = (file for file in pack_of(van, only=("templates",)).files if file.name.endswith(".pdf"))
    document = pdfium.PdfDocument(file.content)
    for page in document:
        ticks = [
            0.5 * (left + right)
            for left, low, right, top in lines(page)
            if right - left < 0.6 and 2.5 < top - low < 4
        ]
        assert any(abs(other - tick - 100.0) < 0.02 for tick in ticks for other in ticks), "no bar of 100 mm"
    first = document[1]
    heights = [top - bottom for left, bottom, right, top in lines(first)]
    assert any(abs(height - 120.0) < 0.5 for height in heights)  # the front is 120 mm high
    faces = [(right - left, top - bottom) for left, bottom, right, top in lines(first)]
    assert any(abs(wide - 110.0) < 0.5 and abs(high - 80.0) < 0.5 for wide, high in faces)  # the button panel


def test_dxf_is_sound_and_in_millimetres(van):
    (front,) = drawings_of(van.design)
    drawing = ezdxf.read(io.StringIO(template_dxf(front).decode()))
    assert len(drawing.audit().errors) == 0
    assert drawing.header["$INSUNITS"] == 4
    drilled = [circle.dxf.radius for circle in drawing.modelspace().query("CIRCLE[layer=='DRILL']")]
    assert sorted(drilled) == [1.75] * 4 + [2.0] * 4
    (plate,) = drawing.modelspace().query("LWPOLYLINE[layer=='PLATE']")
    assert [tuple(point[:2]) for point in plate.get_points()] == [(0, 0), (320, 0), (320, 120), (0, 120)]


def test_rounded_opening_closes_on_itself(van):
    (front,) = drawings_of(van.design)
    drawing = ezdxf.read(io.StringIO(template_dxf(front).decode()))
    (cut,) = drawing.modelspace().query("LWPOLYLINE[layer=='CUT']")
    points = list(cut.vertices_in_wcs())
    across = [point[0] for point in points]
    upwards = [point[1] for point in points]
    assert (min(across), max(across), min(upwards), max(upwards)) == (25, 115, 30, 90)


@given(st.floats(20, 1500), st.floats(20, 1200), st.sampled_from(["a4", "us-letter"]))
def test_sheets_cover_the_whole_drawing(width, height, paper):
    outline = Rectangle(layer="plate", x_mm=0, y_mm=0, width_mm=width, height_mm=height)
    drawing = PlateDrawing(
        id="p", is_board=True, width_mm=width, height_mm=height, rectangles=(outline,), circles=(), notes=(), proposed=(), undrilled=(), missing=(),
    )  # fmt: skip
    tiles = tiles_of(drawing, paper)
    across = sum(tile.width_mm - OVERLAP_MM for tile in tiles if tile.row == 1) + OVERLAP_MM
    down = sum(tile.height_mm - OVERLAP_MM for tile in tiles if tile.column == 1) + OVERLAP_MM
    assert across == pytest.approx(width)
    assert down == pytest.approx(height)
    assert all(tile.width_mm > 0 and tile.height_mm > 0 for tile in tiles)


def test_proposed_places_are_said():
    sheets = template_sheets(material("vaccine-outreach"))
    assert any("proposed by the program" in note for note in sheets.drawings[0].notes)


def test_job_without_plates_has_none():
    assert "no plate" in no_templates(material("base-12v"))


def test_sheets_say_whether_it_is_a_board_or_a_front():
    headings = [each.heading for each in template_sheets(material("bicycle-repair-truck")).drawings]
    assert headings[0].startswith("locker-board, board: ")
    assert headings[1].startswith("bench-front, front: ")

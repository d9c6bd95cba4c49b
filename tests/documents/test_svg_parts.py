from xml.etree import ElementTree as ET

from ampwright.documents.chart_records import Label
from ampwright.documents.svg_parts import label_text, svg_document


class Head:
    width_mm = 10.0
    height_mm = 5.0
    title = "a < b & c"
    description = 'says "x"'


def test_a_document_is_well_formed_and_names_title_and_description():
    root = ET.fromstring(svg_document(Head(), [], name="one", patterns="", family="Noto Sans"))  # noqa: S314
    assert root.attrib["viewBox"] == "0 0 10.00 5.00"
    assert root.attrib["aria-labelledby"] == "one-title one-description"
    texts = {child.attrib.get("id"): child.text for child in root}
    assert texts["one-title"] == "a < b & c"
    assert texts["one-description"] == 'says "x"'


def test_a_label_cannot_inject_markup():
    label = Label(id="l", x_mm=1.0, y_mm=2.0, text="<script>", size_mm=2.0, anchor="start", is_bold=True)
    assert "<script>" not in label_text(label)
    assert "&lt;script&gt;" in label_text(label)

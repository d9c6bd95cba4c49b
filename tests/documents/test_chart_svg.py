import xml.etree.ElementTree as ET

import pytest
from courses import course

from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_svg import chart_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("days", [1, 60])
def test_svg_is_well_formed_and_readable_without_eyes(days):
    root = ET.fromstring(chart_svg(soc_chart(course(days))))  # noqa: S314 - our own text
    assert root.get("role") == "img"
    names = root.get("aria-labelledby").split()
    assert [root.find(f"{SVG}title").get("id"), root.find(f"{SVG}desc").get("id")] == names
    assert "State of charge" in root.find(f"{SVG}title").text


def test_every_element_has_its_own_id():
    root = ET.fromstring(chart_svg(soc_chart(course(9))))  # noqa: S314
    drawn = [
        each
        for each in root.iter()
        if each.tag in {f"{SVG}{name}" for name in ("polyline", "text", "polygon")}
    ]
    ids = [each.get("id") for each in drawn]
    assert all(ids)
    assert len(ids) == len(set(ids))


def test_family_is_set_for_all_text():
    root = ET.fromstring(chart_svg(soc_chart(course(2)), family="Some Sans"))  # noqa: S314
    assert root.get("font-family") == "Some Sans"


def test_hostile_names_do_not_become_markup():
    name = '<script>"&</text>'
    text = chart_svg(soc_chart(course(2, name=name)))
    root = ET.fromstring(text)  # noqa: S314
    assert "<script" not in text
    assert any(name in (each.text or "") for each in root.iter(f"{SVG}text"))


def test_same_chart_gives_the_same_text():
    assert chart_svg(soc_chart(course(5))) == chart_svg(soc_chart(course(5)))

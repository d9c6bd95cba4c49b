from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont

from ampwright.documents.diagram.text_width import clean, text_width_mm, wrapped


@pytest.mark.parametrize(("name", "is_bold"), [("NotoSans-Regular.ttf", False), ("NotoSans-Bold.ttf", True)])
@pytest.mark.parametrize("text", ["W12", "16 mm² (6 AWG)", "Kühlgerät", "Ωθ", "Żółć", "Кабель"])
def test_widths_are_those_an_independent_reader_finds(name, is_bold, text):
    with (files("ampwright.documents") / "fonts" / name).open("rb") as stream:
        font = TTFont(stream)
        letters, advances = font.getBestCmap(), font["hmtx"]
        wanted = sum(advances[letters[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
    assert text_width_mm(text, 10.0, is_bold=is_bold) == pytest.approx(10.0 * wanted)


def test_lines_are_as_narrow_as_asked():
    lines = wrapped("a radio with a display and averyverylongwordthatmustbebroken", 20.0, 2.3, most=9)
    assert all(text_width_mm(line, 2.3) <= 20.0 for line in lines)
    assert "".join(lines).replace(" ", "") == "aradiowithadisplayandaveryverylongwordthatmustbebroken"


def test_what_does_not_fit_says_so():
    lines = wrapped("one two three four five six seven", 10.0, 2.3, most=2)
    assert len(lines) == 2
    assert lines[-1].endswith("…")


def test_figure_and_unit_stay_together():
    assert wrapped("fuse 100\u00a0A", 10.0, 2.3, most=3) == ("fuse", "100\u00a0A")


def test_letters_that_cannot_be_drawn_are_named():
    assert clean("lamp \N{SNOWMAN}") == "lamp [snowman]"

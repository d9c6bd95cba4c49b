import unicodedata
from importlib.resources import as_file, files

import typst
from hypothesis import given
from hypothesis import strategies as st

from ampwright.documents.printable import LONGEST_WORD, drawn_characters, printable


def test_plain_text_is_unchanged():
    assert printable("Cable feed-1 carries 31.0 A in 4 mm².") == "Cable feed-1 carries 31.0 A in 4 mm²."


def test_undrawable_letters_are_named():
    assert printable("\U0001f600") == "[grinning face]"
    assert printable("\U0010fffd") == "[U+10FFFD]"


def test_hidden_direction_marks_and_controls_are_dropped():
    assert printable("a\u202eb\u200bc\x07d\ufe0f") == "abcd"


def test_lines_are_joined():
    assert printable("a\nb\tc") == "a b c"


def test_hebrew_and_arabic_are_kept():
    assert printable("שלום سلام") == "שלום سلام"


def test_long_words_can_be_broken():
    parts = printable("x" * 100).split("\u200b")
    assert "".join(parts) == "x" * 100
    assert max(map(len, parts)) <= LONGEST_WORD


def test_long_identifiers_break_after_dashes():
    assert printable("rear-outlet-left-hand-side").split("\u200b")[0] == "rear-"


@given(st.text(max_size=200))
def test_only_drawable_characters_are_left(text):
    assert set(printable(text)) - {"\u200b"} <= drawn_characters()


@given(st.text(alphabet=sorted(drawn_characters() - {"\u200b"}), max_size=60))
def test_every_drawable_letter_is_kept(text):
    whole = unicodedata.normalize("NFC", text)
    kept = "".join(c for c in whole if not c.isspace() and unicodedata.category(c) not in {"Cc", "Cf"})
    shown = "".join(
        c for c in printable(text) if not c.isspace() and unicodedata.category(c) not in {"Cc", "Cf"}
    )
    assert shown == kept


def test_every_character_said_to_be_drawn_has_a_letter_shape():
    # PDF/UA-1 forbids missing shapes, so the typesetter refuses a document with one.
    letters = "".join(
        sorted(letter for letter in drawn_characters() if unicodedata.category(letter)[0] in "LNPS")
    )
    assert len(letters) > 2000
    template = """#set document(title: "x")
#set text(font: ("Noto Sans", "Noto Sans Math", "Noto Sans Hebrew", "Noto Sans Arabic"), fallback: false, lang: "en")
#sys.inputs.letters"""
    spaced = "\u200b".join(letters)
    with as_file(files("ampwright.documents")) as folder:
        fonts = typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder / "fonts"]
        )
        data = typst.compile(
            template.encode(),
            font_paths=fonts,
            sys_inputs={"letters": spaced},
            format="pdf",
            pdf_standards=["ua-1"],
        )
    assert data.startswith(b"%PDF")

"""Pages as people read and print them: wide letters, high contrast, paper, keys both ways, what fields say of themselves."""

from __future__ import annotations

import io

import pypdfium2 as pdfium
import pytest
from browsing import begun
from PIL import Image

NARROW = ("import", "places", "jobs/1/files", "jobs/1/photos", "jobs/1/page/vehicle", "jobs/1/page/loads")
WIDE_LETTERS = """
* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
p { margin-bottom: 2em !important; }
"""
"""WCAG 2.2, 1.4.12 Text Spacing (level AA): the four settings a reader may choose."""
CUT = """() => {
  const pen = document.createElement("canvas").getContext("2d");
  const isCut = (each) => {
    const style = getComputedStyle(each);
    if (each.tagName === "INPUT") { return each.scrollWidth > each.clientWidth + 1; }
    pen.font = style.font;
    const room = each.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    return pen.measureText(each.selectedOptions[0].text).width > room + 1;
  };
  return [...document.querySelectorAll("table input:not([type=hidden]), table select")]
    .filter((each) => each.offsetWidth > 0 && isCut(each)).map((each) => each.id + " " + each.value);
}"""
HIDDEN_FOCUS = """() => {
  const at = document.activeElement;
  if (!at.closest("main form")) { return ""; }
  const box = at.getBoundingClientRect(), bar = document.querySelector(".live-bar").getBoundingClientRect();
  return box.top < bar.bottom - 1 && box.bottom > bar.top ? at.outerHTML.slice(0, 120) : "";
}"""


@pytest.fixture(scope="module")
def base(server, chromium):
    page = chromium.new_page()
    found = begun(page, server)
    page.close()
    return found


@pytest.mark.parametrize("width", [390, 320])
def test_with_wide_letters_no_page_scrolls_sideways(chromium, base, width):
    context = chromium.new_context(viewport={"width": width, "height": 844}, bypass_csp=True)
    page, wide = context.new_page(), []
    for name in NARROW:
        page.goto(f"{base.partition('jobs/')[0]}{name}")
        page.add_style_tag(content=WIDE_LETTERS)
        found = page.evaluate("document.documentElement.scrollWidth")
        wide += [(name, found)] if found > width else []
    assert wide == []
    context.close()


@pytest.mark.parametrize("name", ["wiring", "parts", "loads"])
def test_no_field_of_a_table_cuts_its_text(page, base, name):
    page.goto(f"{base}page/{name}")
    assert page.locator("table.edit").count() > 0
    assert page.evaluate(CUT) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_printed_table_is_dark_on_white_and_holds_every_name_whole(chromium, base, scheme):
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, color_scheme=scheme)
    page = context.new_page()
    page.goto(f"{base}page/wiring")
    printed = pdfium.PdfDocument(io.BytesIO(page.pdf(format="A4")))
    page.emulate_media(media="print", color_scheme=scheme)
    page.set_viewport_size({"width": 720, "height": 1000})  # A4 less its margins, in CSS pixels
    assert page.evaluate(CUT) == []
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(26, 26, 26)"
    text = printed[0].get_textpage().get_text_range()
    assert "starter-battery" in text
    assert "engine-bay, bench" in text
    assert "More" not in text
    context.close()


def ground(locator):
    """Return the commonest colour of what is seen there."""
    picture = Image.open(io.BytesIO(locator.screenshot())).convert("RGB")
    return max(picture.getcolors(1_000_000))[1]


def test_high_contrast_tells_the_page_one_is_on_and_keeps_the_paper_white(chromium, base):
    context = chromium.new_context(
        viewport={"width": 1280, "height": 900}, forced_colors="active", color_scheme="dark"
    )
    page = context.new_page()
    page.goto(f"{base}diagram")
    page.wait_for_selector(".paper svg")
    tabs = page.locator(".tabs a")
    assert ground(page.locator(".tabs a[aria-current]")) != ground(tabs.first)
    assert ground(page.locator(".paper").first) == (255, 255, 255)
    context.close()


def test_the_bar_of_verdicts_never_hides_what_has_the_focus(page, base):
    page.set_viewport_size({"width": 1280, "height": 600})
    page.goto(f"{base}page/wiring")
    page.locator("main summary").last.focus()
    seen = []
    for _ in range(60):
        page.keyboard.press("Shift+Tab")
        seen.append(page.evaluate(HIDDEN_FOCUS))
    assert [each for each in seen if each] == []
    page.set_viewport_size({"width": 640, "height": 450})
    assert page.locator(".live-bar").evaluate("(each) => getComputedStyle(each).position") == "static"


def test_a_field_names_its_meaning_and_its_problem(page, base):
    page.goto(f"{base}page/vehicle")
    field = page.locator('input[id="i-vehicle.starter_battery.capacity_ah"]')
    parts = field.get_attribute("aria-describedby").split()
    meaning, problem = (page.locator(f'[id="{part}"]') for part in parts)
    assert "capacity" in meaning.inner_text().lower()
    field.fill("much")
    field.press("Tab")
    page.wait_for_selector(f'[id="{parts[1]}"]:not(:empty)')
    assert "number" in problem.inner_text()
    assert field.get_attribute("aria-invalid") == "true"
    page.goto(f"{base}page/wiring")
    told = page.locator('input[id="i-run.0.start"]').get_attribute("aria-describedby")
    assert page.locator(f'[id="{told}"]').get_attribute("role") == "alert"

"""The form as one file from a file: address: no server, no request, answers saved, copied, shown as a code, imported."""

from __future__ import annotations

import json
import os

import pytest
import zxingcpp
from axe_playwright_python.sync_playwright import Axe
from browsing import VERDICT
from PIL import Image
from playwright.sync_api import expect

from ampwright.documents.intake.form import intake_form
from ampwright.documents.words.words import load_words
from ampwright.job.intake.answers import load_story, story_from_text


@pytest.fixture
def form(tmp_path):
    """Return the address of the form as a file, in a folder of its own."""

    def written(language="en"):
        file = tmp_path / f"questions-{language}.html"
        file.write_text(intake_form(load_words(language)), encoding="utf-8")
        return file.as_uri()

    return written


def filled(page):
    """Fill in the least, and a kettle with figures."""
    page.locator("#vehicle-kind").select_option("large-van")
    page.locator("#vehicle-alternator_a").fill("140,5")
    page.locator("#has-kettle").check()
    page.locator("#has-fridge").check()
    page.locator("#kettle-uses").fill("3")
    page.locator("#kettle-is_essential").select_option("false")
    page.locator("#stay-site").select_option("potsdam-de")
    page.locator("#stay-month").select_option("7")
    page.locator("#about-customer").fill('Ida "Reed" ünd <b>')


def saved(page, tmp_path):
    with page.expect_download() as waited:
        page.locator("#save").click()
    file = tmp_path / "answers.json"
    waited.value.save_as(file)
    return file


def test_answers_are_saved_without_a_server_and_imported_by_the_app(page, form, tmp_path, server):
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(form())
    filled(page)
    file = saved(page, tmp_path)
    assert [url for url in asked if not url.startswith(("file:", "blob:"))] == []
    story = load_story(file)
    assert story.vehicle.alternator_a == 140.5
    assert story.customer == 'Ida "Reed" ünd <b>'
    kettle = next(each for each in story.appliance if each.kind == "kettle")
    assert (kettle.uses, kettle.is_essential, kettle.power_w) == (3, False, None)
    page.goto(f"{server.url}import")
    page.locator("input[name=file]").set_input_files(file)
    page.get_by_role("button", name="Import").click()
    page.wait_for_selector(VERDICT, timeout=120_000)
    assert "rating_a = 140.5" in page.request.get(f"{page.url}export").text()


def test_a_vehicle_of_24_v_and_hours_of_driving_that_vary_come_out_of_the_file(page, form, tmp_path, server):
    page.goto(form())
    filled(page)
    page.locator("#vehicle-kind").select_option("truck")
    page.locator("#vehicle-system_v").select_option("24")
    page.locator("#trip-drive_h").fill("1,5")
    page.locator("#trip-drive_most_h").fill("15")
    page.locator("#save").click()
    expect(page.locator("#trip-drive_most_h-problem")).to_contain_text("from 0 to 14")
    page.locator("#trip-drive_most_h").fill("6")
    file = saved(page, tmp_path)
    story = load_story(file)
    assert (story.vehicle.system_v, story.trip.drive_h, story.trip.drive_most_h) == (24, 1.5, 6)
    page.goto(f"{server.url}import")
    page.locator("input[name=file]").set_input_files(file)
    page.get_by_role("button", name="Import").click()
    page.wait_for_selector(VERDICT, timeout=120_000)
    text = page.request.get(f"{page.url}export").text()
    assert "system_v = 24" in text
    assert 'part = "dcdc-24-12' in text
    assert "lasts_h = { unknown = [1.5, 6], likely = 3.75," in text


def test_the_code_on_the_screen_holds_the_same_answers(page, form, tmp_path):
    page.goto(form())
    filled(page)
    page.locator("#show").click()
    picture = tmp_path / "code.png"
    page.locator("#code svg").screenshot(path=picture)
    (code,) = zxingcpp.read_barcodes(Image.open(picture))
    assert code.text == page.locator("#said").input_value()
    assert story_from_text(code.text, name="code").customer == 'Ida "Reed" ünd <b>'


def test_a_code_that_no_telephone_reads_is_not_shown(page, form):
    page.goto(form())
    filled(page)
    page.locator("#about-notes").fill("ü" * 1000)
    for box in page.locator("[data-tick]").all():
        box.check()
    page.locator("#show").click()
    expect(page.locator("#done")).to_contain_text("Too long")
    assert page.locator("#code svg").count() == 0


def test_what_is_missing_or_wrong_is_marked_and_nothing_is_saved(page, form):
    page.goto(form())
    page.locator("#save").click()
    expect(page.locator("#vehicle-kind-problem")).to_have_text("Choose one.")
    expect(page.locator("#wrong")).to_contain_text("marked above")
    assert page.locator("#said").input_value() == ""
    filled(page)
    for typed in ("4000", "much", "-3", "1e2", "0x20"):
        page.locator("#vehicle-alternator_a").fill(typed)
        page.locator("#save").click()
        expect(page.locator("#vehicle-alternator_a-problem")).to_contain_text("from 20 to 400")
    assert page.evaluate("document.activeElement.id") == "vehicle-alternator_a"


def test_a_draft_is_kept_in_the_page_and_emptied_on_request(page, form):
    address = form()
    page.goto(address)
    filled(page)
    page.goto(address)
    assert page.locator("#vehicle-alternator_a").input_value() == "140,5"
    expect(page.locator("#figures-kettle")).to_be_visible()
    page.on("dialog", lambda dialog: dialog.accept())
    page.locator("#anew").click()
    page.goto(address)
    assert page.locator("#vehicle-alternator_a").input_value() == ""
    expect(page.locator("#figures-kettle")).to_be_hidden()


def test_where_the_browser_keeps_nothing_the_page_says_so_and_works(page, form, tmp_path):
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
    )
    page.goto(form())
    expect(page.locator("#kept")).to_contain_text("keeps no draft")
    filled(page)
    assert json.loads(saved(page, tmp_path).read_text(encoding="utf-8"))["form"] == "ampwright-intake-1"


def test_by_keyboard_alone(page, form):
    page.goto(form("de"))
    for name, keys in (
        ("vehicle-kind", "Groß"), ("has-phone", " "), ("phone-count", "2"), ("stay-site", "Potsdam"), ("stay-month", "Juli"),
    ):  # fmt: skip
        for _ in range(120):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == name:
                break
        page.keyboard.type(keys)
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "copy":
            break
    page.keyboard.press("Enter")
    expect(page.locator("#said")).not_to_have_value("")
    story = story_from_text(page.locator("#said").input_value(), name="said")
    assert (story.language, story.appliance[0].count, story.stay.month) == ("de", 2, 7)


@pytest.mark.parametrize(("width", "scheme", "language"), [(390, "light", "de"), (1280, "dark", "en")])
def test_the_form_does_not_scroll_sideways_and_axe_finds_nothing(chromium, form, width, scheme, language):
    context = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(form(language))
    filled(page)
    page.locator("#show").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.documentElement.lang") == language
    if os.environ.get("AMPWRIGHT_PICTURES"):
        page.screenshot(path=f"{os.environ['AMPWRIGHT_PICTURES']}/form-{width}.png", full_page=True)
    violations = Axe().run(page).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"][:160]) for each in violations] == []
    assert said == []
    context.close()

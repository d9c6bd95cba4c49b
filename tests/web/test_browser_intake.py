"""The intake in a real browser: by keyboard alone to the report, phone width, nothing asked of anybody else."""

from __future__ import annotations

import os

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import VERDICT
from playwright.sync_api import expect

STEPS = ("vehicle", "appliances", "figures", "stay", "trip", "about", "told")


def until(page, name, most=80):
    """Press Tab until the input of this name has the focus."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name || document.activeElement.innerText") == name:
            return
    raise AssertionError(name)


def story(page, server):
    """Tell a story by keyboard alone, up to the page that shows it."""
    page.goto(f"{server.url}new")
    until(page, "Tell the story")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/vehicle")
    until(page, "vehicle.kind")
    page.keyboard.type("Medium")
    until(page, "vehicle.alternator_a")
    page.keyboard.type("140")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/appliances")
    until(page, "has.phone")
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/figures")
    until(page, "phone.count")
    page.keyboard.type("2")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/stay")
    until(page, "stay.site")
    page.keyboard.type("Potsdam")
    until(page, "stay.month")
    page.keyboard.type("July")
    until(page, "next")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/trip")
    until(page, "trip.drive_h")
    page.keyboard.type("2")
    until(page, "trip.drive_most_h")
    page.keyboard.type("4")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/about")
    until(page, "next")
    page.keyboard.press("Enter")
    page.wait_for_url("**/intake/told")


def test_from_the_story_to_the_report_by_keyboard_alone(page, server):
    story(page, server)
    expect(page.locator("dl").first).to_contain_text("140 A")
    until(page, "Make the first job")
    page.keyboard.press("Enter")
    page.wait_for_url("**/jobs/*/", timeout=120_000)
    page.wait_for_selector(VERDICT)
    expect(page.locator("#live")).to_contain_text("quick")
    expect(page.locator("#live .stage")).to_contain_text("Full answer.", timeout=120_000)
    base = page.url
    report = page.request.get(f"{base}documents/report/report.pdf")
    assert report.body()[:5] == b"%PDF-"
    text = page.request.get(f"{base}export").text()
    assert "rating_a = 140" in text
    assert "lasts_h = { unknown = [2, 4], likely = 3," in text
    page.goto(f"{base}days")
    expect(page.locator("main")).to_contain_text("2 to 4 h of it")


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_no_step_scrolls_sideways_asks_outside_or_has_what_axe_calls_a_violation(
    chromium, server, width, scheme
):
    context = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page, axe, asked, found = context.new_page(), Axe(), [], {}
    page.on("request", lambda request: asked.append(request.url))
    story(page, server)
    for step in STEPS:
        page.goto(f"{server.url}intake/{step}")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, step
        violations = axe.run(page).response["violations"]
        if violations:
            found[step] = [(each["id"], each["nodes"][0]["html"][:160]) for each in violations]
        if os.environ.get("AMPWRIGHT_PICTURES"):
            page.screenshot(path=f"{os.environ['AMPWRIGHT_PICTURES']}/{step}-{width}.png", full_page=True)
    context.close()
    assert found == {}
    assert [url for url in asked if not url.startswith(server.url)] == []

"""Comparison, parts, modules and places in a real browser: a part kept and taken over, phone width, accessibility, no outside."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import begun
from playwright.sync_api import expect

FIELDS = {
    "id": "bench-bus-160", "name": "Bus bar 160 A", "source": "data sheet", "rating_a": "160", "rated_dc_v": "48",
    "stud_count": "4", "resistance_ohm": "0.00012",
}  # fmt: skip


@pytest.fixture(scope="module")
def job(server, chromium):
    """Begin a job and change it once, so that there is something to compare."""
    page = chromium.new_page()
    page.set_default_timeout(60_000)
    base = begun(page, server)
    page.goto(f"{base}page/loads")
    field = page.locator('form.f[data-path="load.2.power_w"] input[name=value]')
    field.fill("70")
    field.press("Tab")
    expect(page.locator("#number")).to_have_text("2")
    page.close()
    return base


def number_of(job):
    return job.rstrip("/").rpartition("/")[2]


def paths(job):
    number = number_of(job)
    return (
        "", "compare", f"compare?a={number}&a_revision=1&b={number}&b_revision=2", "parts", "parts/at/lfp-100", "parts/new",
        "parts/new?kind=output-module", "parts/import", "substitute?old=panel-200", "substitute?old=panel-200&new=panel-100",
        "modules", "modules/touring-12v/B", "modules/import", "places", "places/at/potsdam-de", "places/new", "places/import",
        f"places/at/denver-us/use?job={number}",
    )  # fmt: skip


def shown(page, server, path):
    page.goto(server.url + path)
    if path.startswith("compare?"):
        page.wait_for_selector("#comparison .ledger")
    if "new=" in path:
        page.wait_for_selector("input[name=job]")


def test_a_part_is_kept_and_taken_over_in_a_job_by_hand(page, server, job):
    page.goto(f"{server.url}parts/new?kind=bus-bar")
    for name, value in FIELDS.items():
        page.locator(f"[name=f-{name}]").fill(value)
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bus bar 160 A")
    page.goto(f"{server.url}substitute?old=bus-100&new=bench-bus-160")
    box = page.locator(f'input[name=job][value="{number_of(job)}.2"]')
    expect(box).to_be_visible()
    expect(page.locator(".trial").first).to_contain_text("quick")
    box.check()
    page.locator("input[name=why]").fill("the small one ran warm")
    page.get_by_role("button", name="Take over in the jobs ticked").click()
    expect(page.locator("[role=alert]")).to_contain_text("adopted, revision 3")
    assert 'part = "bench-bus-160"' in page.request.get(f"{job}export").text()
    page.goto(f"{job}history")
    expect(page.locator("tbody tr").first).to_contain_text("the small one ran warm")


def test_a_comparison_becomes_full_by_itself(page, server, job):
    shown(page, server, paths(job)[2])
    expect(page.locator("#comparison")).to_contain_text("Both full answers", timeout=120_000)
    expect(page.locator("#comparison .quick")).to_have_count(0)
    expect(page.locator("#comparison")).to_contain_text("load 'laptop': power")


@pytest.mark.parametrize("width", [390, 1280])
def test_no_page_scrolls_sideways_or_asks_anybody_else(chromium, server, job, width):
    context = chromium.new_context(viewport={"width": width, "height": 844})
    page = context.new_page()
    page.set_default_timeout(60_000)
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    for path in paths(job):
        shown(page, server, path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
    context.close()
    assert [url for url in asked if not url.startswith(server.url)] == []
    assert said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_has_what_axe_calls_a_violation(chromium, server, job, scheme):
    context = chromium.new_context(
        viewport={"width": 1280, "height": 900}, color_scheme=scheme, bypass_csp=True
    )
    page, axe = context.new_page(), Axe()
    page.set_default_timeout(60_000)
    found = {}
    for path in paths(job):
        shown(page, server, path)
        violations = axe.run(page).response["violations"]
        if violations:
            found[path] = [(each["id"], each["nodes"][0]["html"][:160]) for each in violations]
    context.close()
    assert found == {}

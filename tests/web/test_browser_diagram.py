"""The diagram in a real browser: by pointer, by keyboard alone, made anew when the job changed, without script, on a phone."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import VERDICT, begun
from playwright.sync_api import expect


@pytest.fixture(scope="module")
def job(server, chromium):
    page = chromium.new_page()
    base = begun(page, server)
    page.goto(f"{base}diagram")
    page.wait_for_selector("text=Full answer.", timeout=120_000)
    page.close()
    return base


def test_a_circuit_is_chosen_by_keyboard_alone_and_the_way_back_is_kept(page, job):
    page.goto(f"{job}diagram")
    page.wait_for_selector(VERDICT)
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "sheet-1-run-W7":
            break
    link = page.locator("#sheet-1-run-W7")
    expect(link).to_be_focused()
    assert "Circuit W7 from bar to lights" in link.get_attribute("aria-label")
    page.keyboard.press("Enter")
    expect(page.locator("#chosen-name")).to_have_text("Circuit W7")
    expect(page.locator("#chosen-name")).to_be_focused()
    assert link.get_attribute("aria-current") == "true"
    assert page.url.endswith("?circuit=W7")
    assert page.locator("#chosen .checks tbody tr").count() > 8
    expect(page.locator("#chosen .curve svg")).to_be_visible()
    page.keyboard.press("Escape")
    expect(link).to_be_focused()
    page.reload()
    expect(page.locator("#chosen-name")).to_have_text("Circuit W7")


def test_a_click_on_a_device_or_a_load_shows_it_without_loading_the_page(page, job):
    page.goto(f"{job}diagram")
    page.wait_for_selector(VERDICT)
    page.evaluate("window.kept = true")
    page.locator("#sheet-1-device-Q8 text").first.click()
    expect(page.locator("#chosen-name")).to_have_text("Circuit W8")
    page.locator("#sheet-1-load-laptop text").first.click()
    expect(page.locator("#chosen-name")).to_have_text("Load laptop")
    assert page.locator('.drawing [aria-current="true"]').count() == 1
    assert page.evaluate("window.kept") is True


def test_a_change_by_another_person_draws_it_anew_and_keeps_what_was_chosen(page, chromium, server):
    base = begun(page, server)
    page.goto(f"{base}diagram?circuit=W8")
    expect(page.locator(".stagenote")).to_contain_text("Drawn from revision 1.")
    other = chromium.new_page()
    other.goto(f"{base}at/run.7")
    other.wait_for_selector(VERDICT)
    field = other.locator('form.f[data-path="run.7.length_m"] input[name=value]')
    field.fill("3.5")
    field.press("Tab")
    expect(other.locator("#number")).to_have_text("2")
    other.close()
    page.evaluate("window.htmx.trigger(document.getElementById('live'), 'reckon')")
    expect(page.locator(".stagenote")).to_contain_text("Drawn from revision 2.")
    expect(page.locator("#superseded")).to_be_hidden()
    expect(page.locator("#chosen .facts")).to_contain_text("3.50")
    expect(page.locator(".stagenote")).to_contain_text("are those of the full answer", timeout=120_000)


def test_without_script_a_link_leads_to_the_circuit(chromium, job):
    context = chromium.new_context(java_script_enabled=False)
    bare = context.new_page()
    bare.goto(f"{job}diagram")
    bare.locator("#sheet-1-run-W6 text").first.click()
    assert bare.url.endswith("diagram?circuit=W6#chosen")
    assert bare.locator("#chosen-name").inner_text() == "Circuit W6"
    context.close()


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_the_diagram_fits_keeps_to_the_policy_and_has_what_axe_wants(chromium, server, job, width, scheme):
    context = chromium.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
    page = context.new_page()
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{job}diagram?circuit=W6")
    page.wait_for_selector(VERDICT)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.fonts.ready.then(() => document.fonts.check('12px \"Noto Sans\"'))")
    assert [url for url in asked if not url.startswith(server.url)] == []
    assert said == []
    context.close()
    plain = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page = plain.new_page()
    page.goto(f"{job}diagram?circuit=W6")
    page.wait_for_selector(VERDICT)
    violations = Axe().run(page).response["violations"]
    plain.close()
    assert [(each["id"], each["nodes"][0]["html"][:160]) for each in violations] == []

"""The timeline of the day plans in a real browser: pointer, keyboard, two people, NOT SAVED, phone, no script."""

from __future__ import annotations

import re
import signal

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import VERDICT, begun, serving
from playwright.sync_api import expect

LIGHTS, ROAD = "load.1.when.0", "day.0.period.0"


def opened(page, base):
    page.goto(f"{base}days")
    page.wait_for_selector(VERDICT)


def bar(page, path, part="body", number=0):
    return (
        page.locator(f'.bar[data-path="{path}"]')
        .nth(number)
        .locator({"body": ".body"}.get(part, f".edge-{part}"))
    )


def written(page, base, what):
    return re.search(rf"{what}.*", page.request.get(f"{base}export").text())[0]


def drag(page, thumb, by_minutes):
    box = thumb.bounding_box()
    whole = thumb.evaluate("each => each.closest('svg.hours').getBoundingClientRect().width")
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + by_minutes / 1440 * whole / 2, y, steps=3)
    page.mouse.move(x + by_minutes / 1440 * whole, y, steps=3)
    page.mouse.up()


def test_a_bar_is_moved_and_resized_by_pointer_as_one_revision_each(page, server):
    base = begun(page, server)
    opened(page, base)
    drag(page, bar(page, LIGHTS), -122)  # snaps to 15 minutes
    expect(page.locator("#number")).to_have_text("2")
    assert '"17:00", end = "21:00"' in written(page, base, r"when = \[\{ start")
    drag(page, bar(page, LIGHTS, "end", number=1), 95)  # the same window on the other plan
    expect(page.locator("#number")).to_have_text("3")
    expect(page.locator("#live .stage")).to_contain_text("Revision 3.")
    page.reload()
    assert bar(page, LIGHTS).get_attribute("aria-valuetext") == "17:00 to 22:30, 5.5 h"
    expect(page.locator(f'form.f[data-path="{LIGHTS}"] input[name=end]')).to_have_value("22:30")
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector(VERDICT)
    assert page.url.endswith("/days")
    assert bar(page, LIGHTS, "end").get_attribute("aria-valuetext") == "21:00"


def test_a_bar_is_moved_and_resized_by_keyboard_alone(page, server):
    base = begun(page, server)
    opened(page, base)
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.getAttribute('aria-label')") == "Move driving on drive":
            break
    body = bar(page, ROAD)
    expect(body).to_be_focused()
    assert (body.get_attribute("role"), body.get_attribute("aria-valuetext")) == (
        "slider",
        "09:00 to 12:00, 3 h",
    )
    for key in ("ArrowRight", "ArrowRight", "PageUp"):
        page.keyboard.press(key)
    assert body.get_attribute("aria-valuetext") == "10:30 to 13:30, 3 h"
    expect(page.locator("#number")).to_have_text("2")  # three keys in a row are one revision
    page.keyboard.press("Tab")
    start = bar(page, ROAD, "start")
    expect(start).to_be_focused()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Tab")
    page.keyboard.press("End")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.locator("#number")).to_have_text("4")
    assert '"10:15", end = "23:45"' in written(page, base, "period = ")
    body.press("ArrowLeft")
    body.press("Escape")
    assert body.get_attribute("aria-valuenow") == "615"
    page.wait_for_timeout(900)
    assert page.locator("#number").inner_text() == "4"


def test_a_bar_goes_past_midnight_by_its_end(page, server):
    base = begun(page, server)
    opened(page, base)
    end = bar(page, LIGHTS, "end")
    for text in ("23:15", "23:30", "23:45", "24:00", "00:15", "00:30"):
        end.press("ArrowRight")
        assert end.get_attribute("aria-valuetext") == text
    assert bar(page, LIGHTS).locator("rect").count() == 2
    expect(page.locator("#number")).to_have_text("2")
    assert '"19:00", end = "00:30"' in written(page, base, r"when = \[\{ start")
    field = page.locator(f'form.f[data-path="{LIGHTS}"] input[name=end]')
    field.fill("22:10")
    field.press("Tab")
    expect(page.locator("#number")).to_have_text("3")
    assert bar(page, LIGHTS).locator("rect").count() == 1
    end.press("ArrowRight")
    assert end.get_attribute("aria-valuetext") == "22:15"


def test_a_wrong_time_is_said_at_the_field_and_under_the_plan(page, server):
    base = begun(page, server)
    opened(page, base)
    field = page.locator(f'form.f[data-path="{LIGHTS}"] input[name=start]')
    field.fill("25:99")
    field.press("Tab")
    expect(page.locator(f'form.f[data-path="{LIGHTS}"] .problem')).to_contain_text("is no clock time")
    expect(page.locator(".plan-problem").first).to_contain_text(
        "Cabin lights on drive: '25:99' is no clock time"
    )
    expect(page.locator("#older")).to_be_visible()


def test_a_bar_that_overlaps_is_saved_and_said_at_the_field_and_under_the_plan_until_it_is_mended(
    page, server
):
    base = begun(page, server)
    page.goto(f"{base}at/day.0")
    page.locator("summary", has_text="Add a row").first.click()
    form = page.locator('form.adding:has(input[value="day.0.period"])')
    for name, value in (("start", "11:00"), ("end", "14:00")):
        form.locator(f'[name="{name}:value"]').fill(value)
    form.locator('[name="state:value"]').select_option("idle")
    form.get_by_role("button", name="Add").click()
    expect(page.locator("#number")).to_have_text("2")
    opened_path = 'form.f[data-path="day.0.period.1.start"] .at-field'
    expect(page.locator(opened_path)).to_contain_text("overlaps the period 'road'")
    page.goto(f"{base}days")
    expect(page.locator("#live")).to_contain_text("No verdict")
    expect(page.locator(".plan-problem").first).to_contain_text("overlaps the period 'road'")
    page.locator("#live .problems a").click()
    assert page.url.endswith("at/day.0#i-day.0.period.1.start")
    page.goto(f"{base}days")
    bar(page, "day.0.period.1", "start").press("PageUp")
    page.wait_for_selector(VERDICT)
    expect(page.locator(".plan-problem").first).to_have_text("")


def test_a_stretch_that_follows_the_sun_stands_still_until_it_goes_by_the_clock_again(page, server):
    base = begun(page, server)
    opened(page, base)
    field = page.locator(f'form.f[data-path="{LIGHTS}"] input[name=start]')
    field.fill("sunset-0:30")
    field.press("Tab")
    expect(page.locator(f'.bar[data-path="{LIGHTS}"]')).to_have_count(0)
    expect(page.locator('.bar-of-sun[aria-label^="Cabin lights"]')).to_have_count(2)
    assert '"sunset-0:30"' in written(page, base, r"when = \[\{ start")
    page.wait_for_selector(VERDICT)
    field.fill("20:00")
    field.press("Tab")
    expect(page.locator(f'.bar[data-path="{LIGHTS}"]')).to_have_count(2)
    assert bar(page, LIGHTS, "start").get_attribute("aria-valuetext") == "20:00"


def test_two_people_on_one_bar_both_learn_of_it(page, chromium, server):
    base = begun(page, server)
    opened(page, base)
    other = chromium.new_page()
    opened(other, base)
    bar(page, LIGHTS).press("ArrowLeft")
    expect(page.locator("#number")).to_have_text("2")
    bar(other, LIGHTS).press("ArrowRight")
    expect(other.locator(f'form.f[data-path="{LIGHTS}"] .problem')).to_contain_text("says 18:45 to 22:45 now")
    expect(other.locator("#older")).to_be_visible()
    assert "is-wrong" in other.locator(f'.bar[data-path="{LIGHTS}"]').first.get_attribute("class")
    other.close()
    assert '"18:45", end = "22:45"' in written(page, base, r"when = \[\{ start")


def test_a_move_that_does_not_reach_the_program_says_not_saved(page, tmp_path):
    with serving(tmp_path) as server:
        base = begun(page, server)
        opened(page, base)
        server.stop(signal.SIGKILL)
        bar(page, LIGHTS).press("ArrowLeft")
        expect(page.locator("#unsaved")).to_contain_text("NOT SAVED")
        expect(page.locator(".plan-problem").first).to_contain_text("NOT SAVED")
        port = server.port
    with serving(tmp_path, port):
        page.get_by_role("button", name="Send again").click()
        expect(page.locator("#unsaved")).to_be_hidden()
        assert '"18:45", end = "22:45"' in written(page, base, r"when = \[\{ start")


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_the_timeline_fits_keeps_to_the_policy_and_has_what_axe_wants(chromium, server, width, scheme):
    context = chromium.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
    page = context.new_page()
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    base = begun(page, server)
    opened(page, base)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert [url for url in asked if not url.startswith(server.url)] == []
    assert said == []
    context.close()
    plain = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page = plain.new_page()
    opened(page, base)
    violations = Axe().run(page).response["violations"]
    plain.close()
    assert [(each["id"], each["nodes"][0]["html"][:160]) for each in violations] == []


def test_a_finger_moves_a_bar_and_still_scrolls_the_page_over_the_rest(chromium, page, server):
    base = begun(page, server)
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    phone = context.new_page()
    opened(phone, base)
    thumb = bar(phone, LIGHTS)
    thumb.scroll_into_view_if_needed()
    box, session = thumb.bounding_box(), context.new_cdp_session(phone)
    whole = thumb.evaluate("each => each.closest('svg.hours').getBoundingClientRect().width")
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def touch(kind, *at):
        points = [{"x": at[0], "y": at[1]}] if at else []
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", x, y)
    for part in (0.25, 0.5, 0.75, 1.0):
        touch("touchMove", x - part * whole * 120 / 1440, y)
    touch("touchEnd")
    expect(phone.locator("#number")).to_have_text("2")
    assert '"17:00", end = "21:00"' in written(phone, base, r"when = \[\{ start")
    assert thumb.evaluate("each => getComputedStyle(each).touchAction") == "pan-y"
    context.close()


def test_without_script_bars_and_figures_are_there(chromium, page, server):
    base = begun(page, server)
    context = chromium.new_context(java_script_enabled=False)
    bare = context.new_page()
    bare.goto(f"{base}days")
    assert bare.locator(f'.bar[data-path="{LIGHTS}"]').count() == 2
    assert bare.locator(f'form.f[data-path="{LIGHTS}"] input[name=start]').input_value() == "19:00"
    assert bare.locator('[role="slider"]').count() == 0
    context.close()

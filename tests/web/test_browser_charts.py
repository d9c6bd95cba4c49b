"""The charts in a real browser: no dip is hidden, zoom by every means, read-out by pointer and keys, made anew when older."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import VERDICT, begun
from playwright.sync_api import expect


@pytest.fixture(scope="module")
def job(server, chromium):
    page = chromium.new_page()
    base = begun(page, server)
    page.goto(f"{base}charts")
    page.wait_for_selector("text=Full answer.", timeout=120_000)
    page.close()
    return base


@pytest.fixture
def charts(page, job):
    page.goto(f"{job}charts")
    page.wait_for_selector(".plots .course-W")
    page.wait_for_selector(VERDICT)
    return page


def shown(page):
    return page.locator(".zooming .shown").inner_text()


def window_minutes(page):
    ends = re.findall(r"Day (\d+) \(\w+\), (\d+):(\d+)", shown(page))
    first, last = (1440 * (int(day) - 1) + 60 * int(hour) + int(minute) for day, hour, minute in ends)
    return first, last


def drag(page, start, end):
    box = page.locator(".plots").bounding_box()
    left, width = box["x"] + 54, box["width"] - 68
    page.mouse.move(left + start * width, box["y"] + 90)
    page.mouse.down()
    page.mouse.move(left + end * width, box["y"] + 90, steps=4)
    page.mouse.up()


def test_a_dip_of_one_step_is_kept_at_every_width(charts):
    found = charts.evaluate(
        """() => {
            const values = Array.from({ length: 38401 }, (_, i) => 600 + (i % 7));
            values[20011] = 3; values[31] = 999;
            const whole = 38400 * 15, found = [];
            for (const width of [40, 333, 1200]) {
                const ys = chartScale.envelope(values, 15, { from: 0, to: whole }, width, 0).map((point) => point[1]);
                found.push([Math.min(...ys), Math.max(...ys), ys.length <= 4 * (width + 3)]);
            }
            const near = chartScale.envelope(values, 15, { from: 20000 * 15, to: 20020 * 15 }, 1200, 0);
            return [found, near.some(([x, y]) => y === 3 && Math.abs(x - 11 / 20 * 1200) < 0.01), chartScale.lowestNear(values, 20000, 15, { from: 0, to: whole }, 333)];
        }"""
    )
    assert found == [[[3, 999, True]] * 3, True, 20011]


def test_the_course_drawn_has_the_lowest_and_highest_of_the_figures(charts, job):
    data = charts.request.get(f"{job}charts/courses").json()
    heights = charts.evaluate(
        "() => document.querySelector('.plots .course-W').getAttribute('d').match(/ [0-9.]+/g).map(Number)"
    )
    values = data["courses"][1]["values"]
    assert abs(min(heights) - (24 + 210 * (1 - max(values) / 1000))) <= 0.06
    assert abs(max(heights) - (24 + 210 * (1 - min(values) / 1000))) <= 0.06


def test_zoom_by_drag_wheel_buttons_and_keys_and_back(charts):
    assert window_minutes(charts) == (0, 7200)
    drag(charts, 0.2, 0.4)
    first, last = window_minutes(charts)
    assert abs(first - 1440) <= 20
    assert abs(last - 2880) <= 20
    charts.locator(".plots").focus()
    charts.mouse.wheel(0, -100)
    narrow = window_minutes(charts)
    assert narrow[1] - narrow[0] < last - first
    charts.get_by_role("button", name="Later").click()
    assert window_minutes(charts)[0] > narrow[0]
    charts.get_by_role("button", name="Zoom out").click()
    wide = window_minutes(charts)
    assert wide[1] - wide[0] > narrow[1] - narrow[0]
    charts.locator(".plots").press("+")
    near = window_minutes(charts)
    assert near[1] - near[0] < wide[1] - wide[0]
    charts.get_by_role("button", name="Whole use").click()
    assert window_minutes(charts) == (0, 7200)
    assert charts.get_by_role("button", name="Zoom out").is_disabled()
    for _ in range(30):
        charts.locator(".plots").press("+")
    first, last = window_minutes(charts)
    assert last - first == 60  # four steps at least
    charts.locator(".plots").press("0")
    assert window_minutes(charts) == (0, 7200)


def test_the_wheel_scrolls_the_page_while_the_chart_is_not_chosen(charts):
    box = charts.locator(".plots").bounding_box()
    charts.mouse.move(box["x"] + 400, box["y"] + 90)
    charts.mouse.wheel(0, -100)
    charts.wait_for_timeout(200)
    assert window_minutes(charts) == (0, 7200)


def test_two_fingers_zoom_and_one_finger_moves(chromium, job):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(f"{job}charts")
    page.wait_for_selector(".plots .course-W")
    page.locator(".plots").scroll_into_view_if_needed()
    box = page.locator(".plots").bounding_box()
    y, session = box["y"] + 100, context.new_cdp_session(page)

    def touch(kind, *xs):
        points = [{"x": box["x"] + x, "y": y, "id": number} for number, x in enumerate(xs)]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", 150, 220)
    for spread in range(0, 50, 10):
        touch("touchMove", 150 - spread, 220 + spread)
    touch("touchEnd")
    first, last = window_minutes(page)
    assert last - first < 4500
    touch("touchStart", 250)
    for by in range(0, 80, 10):
        touch("touchMove", 250 - by)
    touch("touchEnd")
    moved = window_minutes(page)
    assert abs((moved[1] - moved[0]) - (last - first)) <= 1
    assert moved[0] > first
    context.close()


def test_the_read_out_follows_pointer_and_arrow_keys(charts, job):
    data = charts.request.get(f"{job}charts/courses").json()
    plots, readout = charts.locator(".plots"), charts.locator(".readout")
    plots.focus()
    for key in ("PageUp", "PageUp", "ArrowRight", "ArrowRight", "ArrowRight"):
        plots.press(key)
    index = 2 * 96 + 3
    expect(readout).to_contain_text("Day 3 (stay), 00:45")
    for each in data["courses"]:
        expect(readout).to_contain_text(f"{each['letter']} {each['values'][index] / 10:.1f} %")
    for each in data["power"]:
        expect(readout).to_contain_text(f"{each['letter']} {each['values'][index]} W")
    assert plots.get_attribute("aria-valuenow") == str(index)
    assert "Day 3 (stay), 00:45" in plots.get_attribute("aria-valuetext")
    box = plots.bounding_box()
    charts.mouse.move(box["x"] + 54 + 0.5 * (box["width"] - 68), box["y"] + 80)
    expect(readout).to_contain_text("Day 3 (stay), 12:00")
    plots.press("End")
    expect(readout).to_contain_text("Day 5 (drive), 24:00")


def test_a_newer_answer_is_drawn_and_the_window_stays(page, chromium, server):
    base = begun(page, server)
    page.goto(f"{base}charts")
    page.wait_for_selector(".plots .course-W", timeout=120_000)
    drag(page, 0.2, 0.4)
    before = window_minutes(page)
    other = chromium.new_page()
    other.goto(f"{base}page/loads")
    field = other.locator('form.f[data-path="load.2.power_w"] input[name=value]')
    field.fill("70")
    field.press("Tab")
    expect(other.locator("#number")).to_have_text("2")
    other.close()
    page.evaluate("window.htmx.trigger(document.getElementById('live'), 'reckon')")
    expect(page.locator(".stagenote")).to_contain_text("Drawn from revision 2.")
    page.wait_for_selector(".plots .course-W", timeout=120_000)
    expect(page.locator("#superseded")).to_be_hidden()
    assert window_minutes(page) == before


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_the_charts_fit_keep_to_the_policy_and_have_what_axe_wants(chromium, server, job, width, scheme):
    context = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, reduced_motion="reduce"
    )
    page = context.new_page()
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{job}charts")
    page.wait_for_selector(".plots .course-W")
    page.wait_for_selector(VERDICT)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.getAnimations().length") == 0
    assert [url for url in asked if not url.startswith(server.url)] == []
    assert said == []
    context.close()
    plain = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page = plain.new_page()
    page.goto(f"{job}charts")
    page.wait_for_selector(".plots .course-W")
    violations = Axe().run(page).response["violations"]
    plain.close()
    assert [(each["id"], each["nodes"][0]["html"][:160]) for each in violations] == []

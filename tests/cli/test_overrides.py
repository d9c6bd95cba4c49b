"""Overrides on the screen, in the JSON and in the exit code; the clock is read at the command line only."""

import datetime as dt
import json

import pypdfium2
import pytest
from job_files import put, saved, starting
from runs import ampwright, refused

TODAY = dt.datetime.now().astimezone().date()
RUN = next(index for index, run in enumerate(starting()["run"]) if run["id"] == "W6")
HELD = {
    "rule": "device-at-source",
    "subject": "W6",
    "by": "A. Person",
    "reason": "steel tube up to the breaker, seen on the bench",
    "granted": TODAY - dt.timedelta(days=30),
    "expires": TODAY + dt.timedelta(days=30),
}


def job(tmp_path, **change):
    """Save the starting job with a breaker too far from its source, and an override of it."""
    raw = put(starting(), "run", RUN, "device", 0, "distance_m", 0.3)
    return saved(tmp_path, raw | {"override": [HELD | change]})


@pytest.fixture(scope="module")
def held(tmp_path_factory):
    folder = tmp_path_factory.mktemp("held")
    path = job(folder)
    report = folder / "report.pdf"
    return ampwright("check", path, "--report", report), ampwright("check", path, "--json"), report


def test_screen_tells_who_why_and_until_when_before_the_findings(held):
    text = " ".join(held[0].stdout.split())
    head = text.index(f"Overrides in force on {TODAY}")
    said = text[head:]
    assert head < text.index("First to run out")
    assert said.index("device-at-source of W6, fail without it. Overridden by A. Person") < said.index(
        "First to run out"
    )
    assert "overridden by A. Person (device-at-source)" in text
    assert "WIRING AND PROTECTION NOT FULLY CHECKED" in text


def test_exit_code_is_not_fully_checked(held):
    assert (held[0].returncode, held[1].returncode) == (4, 4)


def test_json_keeps_the_finding_its_figures_and_the_override(held):
    answer = json.loads(held[1].stdout)
    (one,) = answer["overrides"]
    assert one == {
        "rule": "device-at-source",
        "subject": "W6",
        "by": "A. Person",
        "reason": HELD["reason"],
        "granted": HELD["granted"].isoformat(),
        "expires": HELD["expires"].isoformat(),
        "was": "fail",
    }
    (finding,) = [f for f in answer["findings"] if f["override"]]
    assert (finding["severity"], finding["value"], finding["override"]) == ("condition", 0.3, one)
    assert finding["margin_frac"] < 0
    assert answer["wiring_verdict"] == "not fully checked"


def test_report_carries_it_on_every_page(held):
    for page in pypdfium2.PdfDocument(held[2]):
        text = " ".join(page.get_textpage().get_text_bounded().split())
        assert "A. Person" in text
        assert HELD["expires"].isoformat() in text


def test_one_that_expired_yesterday_leaves_do_not_energise(tmp_path):
    done = ampwright("check", job(tmp_path, expires=TODAY - dt.timedelta(days=1)))
    assert done.returncode == 3
    text = " ".join(done.stdout.split())
    assert "Overrides in force" not in text
    assert f"expired on {TODAY - dt.timedelta(days=1)}" in text


def test_a_rule_nobody_may_override_is_refused_with_its_line(tmp_path):
    said = refused(ampwright("check", job(tmp_path, rule="breaking-capacity", subject="F1")))
    assert "nobody may override 'breaking-capacity'" in said
    assert "line " in said

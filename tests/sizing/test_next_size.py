"""The next size that satisfies every rule: laying it makes the finding go and raises no other."""

import sys
from pathlib import Path

import pytest

from ampwright.api import sun_of
from ampwright.assessment.assess import assess
from ampwright.findings import Severity
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.next_size import with_next_sizes
from ampwright.sizing.wiring_trial import rewired, same_make, troubles_of

sys.path.append(str(Path(__file__).parents[1] / "cases"))
import planted

CATALOGUE = shipped_catalogue()


def _named(finding, design):
    """Return the run and cable a way out names."""
    words = finding.way_out.partition("keeps every rule")[2].strip(" :.")
    where, _, said = words.rpartition(": ")
    run_id = where.removeprefix("in run ") or finding.subject
    run = next(run for run in design.runs if run.id == run_id)
    return run, CATALOGUE.parts[said.split(" ")[0]]


@pytest.mark.parametrize(
    ("case", "rule"),
    [
        ("cable-too-thin", "cable-capacity"),
        ("fault-cleared-too-late", "far-fault-clears"),
        ("cable-too-small-mechanically", "cable-minimum-size"),
        ("cable-too-thick-for-clamp", "terminals-fit"),
        ("terminal-hotter-than-its-class", "terminal-temperature"),
        ("device-of-1-2-times-the-cable", "device-against-cable"),
        ("output-fails-shorted", "output-fails-shorted"),
    ],
)
def test_laying_it_mends_the_finding_and_raises_no_other(case, rule):
    before = planted.faulty(case)
    finding = next(
        f
        for f in with_next_sizes(before, CATALOGUE).findings
        if f.rule == rule and f.severity in {Severity.FAIL, Severity.CONDITION}
    )
    run, cable = _named(finding, before.design)
    raw = planted.edited(planted.base_job(planted.params(case)["base"]), planted.params(case).get("both", {}))
    raw = planted.edited(
        planted.edited(raw, planted.params(case)["fault"]), {"set": {f"run/{run.id}/cable": cable.id}}
    )
    for each in raw["run"]:
        if each["id"] == run.id:
            each.pop("back_cable", None)
    after = planted.assessed(raw)
    assert (rule, finding.subject) not in {(r, s) for r, s, _ in troubles_of(after.findings)}
    assert troubles_of(after.findings) <= troubles_of(before.findings)


def test_no_smaller_cable_of_its_make_would_do():
    before = planted.faulty("cable-too-thin")
    found = with_next_sizes(before, CATALOGUE)
    finding = next(f for f in found.findings if f.rule == "cable-capacity" and f.severity == Severity.FAIL)
    run, chosen = _named(finding, before.design)
    smaller = [
        cable
        for cable in CATALOGUE.of_kind(Cable)
        if same_make(cable, run.cable) and run.cable.area_mm2 < cable.area_mm2 < chosen.area_mm2
    ]
    assert [cable.id for cable in smaller] == ["cable-6-awg"]
    for cable in smaller:
        tried = assess(rewired(before.design, {run.index: cable}, {}), sun_of(before.design, planted.HERE))
        assert not troubles_of(tried.findings) <= troubles_of(before.findings)


def test_where_no_cable_alone_mends_it_that_is_said():
    found = with_next_sizes(planted.faulty("load-below-its-voltage"), CATALOGUE)
    finding = next(f for f in found.findings if f.rule == "lowest-voltage" and f.severity == Severity.FAIL)
    assert finding.way_out.endswith("No other cable of its make alone mends it and keeps every rule.")


def test_a_sound_job_is_left_as_it_is():
    sound = planted.twin("cable-too-thin")
    assert with_next_sizes(sound, CATALOGUE) is sound

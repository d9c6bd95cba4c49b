"""What a closed relay gives back to a vehicle whose alternator is held low."""

import dataclasses

import planted
import pytest
from base_jobs import studies_of

from ampwright.assessment.relays import RELAY_PICK_UP
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity


def _given_back(returned_wh: float, came_w: float) -> list[Finding]:
    """Return what is said of the battery with these books; the case has one relay."""
    found = planted.twin("relay-opens-on-the-road")
    energy = found.energy
    source_w = energy.source_w.copy()
    source_w[:, energy.source_labels.index("relay")] = came_w
    ledger = dataclasses.replace(energy.ledger, returned_wh=returned_wh * energy.day_count)
    changed = dataclasses.replace(energy, ledger=ledger, source_w=source_w)
    studies = dataclasses.replace(studies_of(found), energy=changed)
    return [f for f in RELAY_PICK_UP.check(found.design, studies) if f.subject == "battery"]


def test_nothing_given_back_is_not_mentioned() -> None:
    assert _given_back(0.0, 10.0) == []


@pytest.mark.parametrize(("came_w", "severity"), [(10.0, Severity.ADVICE), (1.0, Severity.CONDITION)])
def test_what_flows_back_is_held_against_what_comes_in(came_w: float, severity: Severity) -> None:
    (finding,) = _given_back(100.0, came_w)
    assert finding.severity == severity
    assert (finding.value, finding.limit) == (pytest.approx(100.0), pytest.approx(24.0 * came_w))


SECOND = {
    "feeds": "auxiliary",
    "rating_a": 100,
    "regulation": "fixed",
    "voltage_v": 14.2,
    "lowest_v": 13.6,
    "highest_v": 14.6,
    "hot_road_frac": 0.8,
    "hot_idle_frac": 0.5,
}
CABLE = {
    "id": "W30",
    "start": "bar",
    "end": "second-alternator",
    "cable": "cable-50",
    "length_m": 3,
    "zones": ["floor", "bench"],
    "device": [{"id": "F30", "part": "fuse-t-150", "distance_m": 0.05}],
}


def _straight(battery: str = "lfp-200", **second: object) -> Assessment:
    """Return the sound van with a second alternator in place of its alternator charger."""
    edit = {
        "remove": ["part/charger", "run/W2", "run/W3", "setting/charger"],
        "add": {"run": [CABLE]},
        "set": {"vehicle/second_alternator": {**SECOND, **second}, "part/battery/part": battery},
    }
    return planted.assessed(planted.edited(planted.base_job("base-12v"), edit))


def _said(found: Assessment, rule: str, subject: str) -> list[Finding]:
    return [f for f in found.findings if (f.rule, f.subject) == (rule, subject)]


@pytest.mark.parametrize(
    ("limits", "severity"),
    [(True, Severity.PASS), (False, Severity.FAIL), (None, Severity.NOT_CHECKED)],
)
def test_straight_on_lithium_its_heat_must_limit_it(*, limits: bool | None, severity: Severity) -> None:
    more = {} if limits is None else {"limits_by_heat": limits}
    found = _said(_straight(**more), "relay-charging", "second-alternator")
    assert [(f.severity, f.value) for f in found if f.unit == "V"] == [(Severity.PASS, 14.6)]
    assert [f.severity for f in found if f.unit != "V"] == [severity]


def test_its_highest_voltage_is_the_batterys() -> None:
    found = _straight("agm-200", highest_v=15.6)
    (voltage,) = _said(found, "relay-charging", "second-alternator")
    assert (voltage.severity, voltage.value) == (Severity.FAIL, 15.6)
    (fridge,) = _said(found, "highest-voltage", "fridge")
    assert fridge.value == pytest.approx(15.6, abs=0.3)  # and what the charge current lifts it by


def test_its_label_counts_among_the_chargers() -> None:
    """100 A beside the 20 A of the panel controller; hot by day it spares 80 A."""
    found = _straight()
    (current,) = _said(found, "charge-current", "battery")
    assert current.value == 120.0
    (spare,) = _said(found, "alternator-spare", "second alternator road day")
    assert (spare.severity, spare.limit) == (Severity.CONDITION, pytest.approx(80.0))
    assert "Nothing but a charger sets a limit" in spare.way_out
    (both_ends,) = _said(found, "fed-from-both-ends", "W30")
    assert both_ends.value == 100.0


def test_a_load_dump_comes_to_all_that_hangs_there_but_no_jump_start() -> None:
    dumped = [f.message for f in _straight().findings if f.rule == "load-dump"]
    assert any("fridge" in text and "load dump" in text for text in dumped)
    assert not any("fridge (a jump start" in text for text in dumped)

"""What a closed relay gives back to a vehicle whose alternator is held low."""

import dataclasses

import planted
import pytest
from base_jobs import studies_of

from ampwright.assessment.relays import RELAY_PICK_UP
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

"""Clips and edges of cable runs, beyond the planted faults."""

from __future__ import annotations

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.cable_support import CABLE_SUPPORT
from ampwright.findings import Severity


def test_nothing_said_is_one_advice_and_no_pass():
    found = of_rule(studied(), CABLE_SUPPORT)
    assert [f.severity for f in found] == [Severity.ADVICE]
    assert "W1" in found[0].message


@pytest.mark.parametrize(
    ("spacing_mm", "severity"),
    [(450, Severity.PASS), (451, Severity.ADVICE), (1219, Severity.ADVICE), (1220, Severity.CONDITION)],
)
def test_distance_of_clips(spacing_mm, severity):
    found = of_rule(studied(change={"run/W2/clip_spacing_mm": spacing_mm}), CABLE_SUPPORT, "W2")
    assert [f.severity for f in found] == [severity]


@pytest.mark.parametrize(
    ("passes", "severity"),
    [(["gland", "conduit"], Severity.PASS), (["grommet", "bare"], Severity.CONDITION)],
)
def test_edges(passes, severity):
    found = of_rule(studied(change={"run/W2/passes": passes}), CABLE_SUPPORT, "W2")
    assert [f.severity for f in found] == [severity]
    assert str(found[0].source).startswith("33 CFR 183.445")


def test_an_unknown_distance_is_not_a_pass():
    change = {"run/W2/clip_spacing_mm": {"unknown": [200, 2000]}}
    # the middle of the range counts here, the ends with the rest of what is unknown
    found = of_rule(studied(change=change), CABLE_SUPPORT, "W2")
    assert [(f.severity, f.value) for f in found] == [(Severity.ADVICE, 1100.0)]

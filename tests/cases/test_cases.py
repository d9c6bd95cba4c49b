"""Every planted fault is found by its rule and by no other, and the mended job passes.

A case is a folder with params.toml: a sound base job, edits for both jobs, the fault, and what must be said of it.
Values and limits are computed by hand, by the reason given there.
"""

from __future__ import annotations

import planted as cases
import pytest

from ampwright.assessment.rules import RULES
from ampwright.findings import Finding, Severity

BASES = ("base-12v", "base-24v", "base-module", "base-mains")
NAMES = cases.case_names()
WITH_ADVICE = (*cases.HEAVY, Severity.ADVICE)


def _keys(findings: list[Finding]) -> set[tuple[str, str, Severity]]:
    return {(f.rule, f.subject, f.severity) for f in findings}


@pytest.mark.parametrize("base", BASES)
def test_base_jobs_are_sound(base: str) -> None:
    found = cases.assessed(cases.base_job(base))
    assert cases.troubles(found) == []
    assert found.use_verdict == "suits"
    assert found.wiring_verdict == "not fully checked"
    assert set(found.wiring_rules.open_rules) <= {cases.FROM_MEMORY[0]}


@pytest.mark.parametrize("name", NAMES)
def test_fault_is_found(name: str) -> None:
    case = cases.params(name)
    expected = (case["rule"], case["subject"], case["severity"])
    assert expected in _keys(cases.troubles(cases.faulty(name), WITH_ADVICE))


@pytest.mark.parametrize("name", NAMES)
def test_no_other_rule_finds_it(name: str) -> None:
    case = cases.params(name)
    severities = WITH_ADVICE if case["severity"] == "advice" else cases.HEAVY
    before = _keys(cases.troubles(cases.twin(name), WITH_ADVICE))
    new = _keys(cases.troubles(cases.faulty(name), severities)) - before
    new.discard((case["rule"], case["subject"], case["severity"]))
    if case.get("is_all_unchecked", False):
        new = {key for key in new if key[2] != Severity.NOT_CHECKED}
    assert {f"{rule} {subject}" for rule, subject, _ in new} == set(case.get("also", []))


@pytest.mark.parametrize("name", NAMES)
def test_mended_twin_passes(name: str) -> None:
    case = cases.params(name)
    found = cases.twin(name)
    assert cases.troubles(found) == []
    verdicts = {f.severity for f in found.findings if (f.rule, f.subject) == (case["rule"], case["subject"])}
    assert verdicts <= {Severity.PASS}


@pytest.mark.parametrize("name", [name for name in NAMES if "figure" in cases.params(name)])
def test_figures_agree_with_the_hand_calculation(name: str) -> None:
    case = cases.params(name)
    figure = case["figure"]
    finding = next(
        f
        for f in cases.faulty(name).findings
        if (f.rule, f.subject, f.severity) == (case["rule"], case["subject"], case["severity"])
    )
    assert finding.unit == figure["unit"]
    if "value" in figure:
        assert finding.value == pytest.approx(figure["value"], abs=figure["value_tolerance"] + 1e-9)
    if "limit" in figure:
        assert finding.limit == pytest.approx(figure["limit"], abs=figure["limit_tolerance"] + 1e-9)


def test_twin_really_differs() -> None:
    for name in NAMES:
        case = cases.params(name)
        sound = cases.edited(cases.base_job(case["base"]), case.get("both", {}))
        assert cases.edited(sound, case["fault"]) != sound, name


def test_every_rule_has_a_planted_fault() -> None:
    planted = {cases.params(name)["rule"] for name in NAMES}
    implemented = {rule.name for rule in RULES}
    assert planted == implemented

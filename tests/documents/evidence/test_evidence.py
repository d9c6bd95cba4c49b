import dataclasses
import datetime as dt

import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.evidence.evidence import FEW_COUNT, evidence_report
from ampwright.findings import OverrideInForce, Severity


def blocks(found):
    return {block.name: block for _, group in evidence_report(found).groups for block in group}


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_every_finding_is_there(name):
    found = material(name)
    printed = blocks(found)
    for finding in found.found.findings:
        block = printed[finding.rule.replace("-", " ")]
        told = {(line.subject, line.severity) for line in block.lines}
        weight = {"not checked": "not checked", "pass": "passes", "fail": "fails"}.get(
            finding.severity, str(finding.severity)
        )
        assert (finding.subject, weight) in told or finding.subject in block.gathered, finding


def test_what_does_not_pass_is_told_in_full():
    found = material("bicycle-repair-truck")
    lines = [line for block in blocks(found).values() for line in block.lines if line.is_trouble]
    troubles = [each for each in found.found.findings if each.severity != Severity.PASS]
    assert len(lines) == len(troubles)
    assert all(any(each.message in line.message for line in lines) for each in troubles)


def test_passes_of_a_rule_with_many_are_gathered_behind_the_tightest():
    found = material("bicycle-repair-truck")
    block = blocks(found)["cable capacity"]
    passes = [each for each in found.found.findings if each.rule == "cable-capacity"]
    assert len(passes) > FEW_COUNT
    assert len(block.lines) == 1
    tightest = min(passes, key=lambda each: each.margin_frac)
    assert block.lines[0].subject == tightest.subject


def test_sources_are_numbered_once_and_listed():
    report = evidence_report(material("base-12v"))
    listed = next(each for each in report.after if each.title == "Sources").items
    assert len(set(listed)) == len(listed)
    numbers = {line.source for _, group in report.groups for block in group for line in block.lines} - {""}
    assert {f"[{number}]" for number in numbers} <= {item.split(" ")[0] for item in listed}


def test_hash_version_and_what_was_not_checked_stand_at_the_head():
    report = evidence_report(material("base-12v"))
    facts = dict(report.facts)
    assert material("base-12v").answer.job_hash in facts["job file"]
    assert facts["program"].startswith("Ampwright")
    assert report.before[0].title == "Not checked"
    assert any("far fault clears" in item for item in report.before[0].items)


def test_override_is_told_with_what_it_was_without():
    found = material("base-12v")
    first = found.found.findings[0]
    held = OverrideInForce(
        by="R. Lind",
        reason="looked at on the vehicle by hand",
        granted=dt.date(2026, 1, 1),
        expires=dt.date(2026, 6, 1),
        was=Severity.NOT_CHECKED,
    )
    taken = dataclasses.replace(first, severity=Severity.CONDITION, override=held)
    assessment = dataclasses.replace(found.found, findings=(taken, *found.found.findings[1:]))
    answer = dataclasses.replace(found.answer, assessment=assessment, worst=assessment)
    report = evidence_report(dataclasses.replace(found, answer=answer))
    headings = {each.title: each.items for each in report.before}
    assert "R. Lind" in headings["Overrides"][0]
    assert first.rule.replace("-", " ") in " ".join(headings["Not checked"])

"""Base jobs of the planted faults, edited and studied, for tests of single rules."""

from __future__ import annotations

from functools import cache
from typing import Any

import planted

from ampwright.assessment.circuits import circuits
from ampwright.assessment.result import Assessment
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding
from ampwright.job.design import Design
from ampwright.network.heat import enclosure_heat
from ampwright.switching.plan import switch_plan

BASES = ("base-12v", "base-24v", "base-module")


@cache
def base(name: str) -> Assessment:
    return planted.assessed(planted.base_job(name))


def job(
    name: str = "base-12v",
    *,
    change: dict[str, Any] | None = None,
    add: dict[str, list[dict[str, Any]]] | None = None,
    remove: list[str] | None = None,
) -> dict[str, Any]:
    edit = {"set": change or {}, "add": add or {}, "remove": remove or []}
    return planted.edited(planted.base_job(name), edit)


def design(name: str = "base-12v", **edits: Any) -> Design:
    return planted.design_from(job(name, **edits))


def studied(name: str = "base-12v", **edits: Any) -> Assessment:
    return planted.assessed(job(name, **edits))


def studies_of(found: Assessment) -> Studies:
    return Studies(
        network=found.network,
        energy=found.energy,
        switching=switch_plan(found.design),
        circuits=circuits(found.design, found.network),
        heat=enclosure_heat(found.design, found.network.peak_a),
        on=found.on,
    )


def of_rule(found: Assessment, rule: Rule, subject: str | None = None) -> list[Finding]:
    return [
        finding
        for finding in rule.check(found.design, studies_of(found))
        if subject is None or finding.subject == subject
    ]

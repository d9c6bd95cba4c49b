"""The answer as plain dictionaries and lists, the same for the command line and any other program."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from ampwright.assessment.added_mass import mass_sentence
from ampwright.assessment.result import Assessment
from ampwright.documents.cautions import hazards
from ampwright.documents.electrician import electrician_list
from ampwright.documents.plain_types import (
    PlainAnswer,
    PlainChance,
    PlainContents,
    PlainElectrician,
    PlainFinding,
    PlainMass,
    PlainOverride,
    PlainQuick,
    PlainRealYears,
    PlainRules,
    PlainRunOut,
)
from ampwright.documents.words.words import english
from ampwright.findings import Finding
from ampwright.sizing.chance import Chance
from ampwright.sizing.contents import ContentsChance
from ampwright.sizing.interval import share_interval
from ampwright.sizing.outlook import Outlook
from ampwright.sizing.real_years import RealYears
from ampwright.sizing.result import Answer

__all__ = ["plain_answer", "plain_quick"]


def plain_answer(answer: Answer) -> PlainAnswer:
    """Return what one check says; numbers that are not known are null."""
    return {
        "file": answer.file,
        "job": answer.assessment.design.job.job.id,
        "revision": answer.assessment.design.job.job.revision,
        "job_hash": answer.job_hash,
        "program_version": answer.program_version,
        "use_verdict": answer.use_verdict,
        "use_sentence": answer.use_sentence,
        "wiring_verdict": answer.wiring_verdict,
        "wiring_sentence": answer.wiring_sentence,
        "use_rules": _count(answer.assessment, "use"),
        "wiring_rules": _count(answer.assessment, "wiring"),
        "run_out": _run_out(answer.assessment),
        "added_mass": _mass(answer.assessment),
        "changes": [
            {
                "kind": change.kind,
                "description": change.description,
                "cost_eur": _number(change.cost_eur),
                "cures": list(change.cures),
                "is_cure": change.is_cure,
                "use_verdict": change.use_verdict,
                "wiring_verdict": change.wiring_verdict,
                "caution": change.caution,
                "held_count": change.held_count,
            }
            for change in answer.changes
        ],
        "questions": [
            {
                "input": question.input.label,
                "low": question.input.low,
                "high": question.input.high,
                "unit": question.input.unit,
                "turns_at": _number(question.turns_at),
                "margin_swing_frac": _number(question.margin_swing_frac),
                "message": question.message,
            }
            for question in answer.questions
        ],
        "overrides": [held for finding in answer.overridden if (held := _override(finding)) is not None],
        "findings": [_finding(finding) for finding in answer.assessment.findings],
        "electrician": _electrician(answer.assessment),
        "cautions": list(hazards(answer.assessment.design, english())),
        "assumptions": list(answer.assumptions),
        "chance": _chance(answer.chance) if answer.chance is not None else None,
        "real_years": _real_years(answer.real_years) if answer.real_years is not None else None,
        "outlook": _outlook(answer.outlook) if answer.outlook is not None else None,
        "ledger_wh": _ledger(answer.assessment),
    }


def plain_quick(found: Assessment) -> PlainQuick:
    """Return what is known of a job at its likely values, before its full answer is there."""
    return {
        "likely_use_verdict": found.use_verdict,
        "likely_wiring_verdict": found.wiring_verdict,
        "use_rules": _count(found, "use"),
        "wiring_rules": _count(found, "wiring"),
        "run_out": _run_out(found),
        "findings": [_finding(finding) for finding in found.findings],
        "cautions": list(hazards(found.design, english())),
    }


def _run_out(found: Assessment) -> PlainRunOut:
    return {
        "subject": found.run_out.subject,
        "runs_out": found.run_out.runs_out,
        "day_count": found.run_out.day_count,
        "clock": found.run_out.clock,
        "margin_frac": _number(found.run_out.margin_frac),
        "message": found.run_out.message,
    }


def _outlook(outlook: Outlook) -> dict[str, Any]:
    """Return the outlook; endless times are null, as everything that is no number."""
    plain = dataclasses.asdict(outlook)
    return {name: _number(value) if isinstance(value, float) else value for name, value in plain.items()}


def _ledger(assessment: Assessment) -> dict[str, Any]:
    """Return the books of the whole use, loads by id."""
    books, loads = assessment.energy.ledger, assessment.design.loads
    plain: dict[str, Any] = {}
    for field in dataclasses.fields(books):
        value = getattr(books, field.name)
        is_load = field.name.endswith("load_wh")
        plain[field.name] = {load.id: float(value[load.index]) for load in loads} if is_load else float(value)
    each = zip(assessment.energy.source_labels, assessment.energy.source_wh_per_day.tolist(), strict=True)
    plain["source_wh"] = {label: wh * assessment.energy.day_count for label, wh in each}
    plain["imbalance_wh"] = books.imbalance_wh
    return plain


def _chance(chance: Chance) -> PlainChance:
    low, high = share_interval(chance.held_count, chance.run_count)
    return {
        "run_count": chance.run_count,
        "seed": chance.seed,
        "held_count": chance.held_count,
        "held_low_frac": low,
        "held_high_frac": high,
        "loads": [dataclasses.asdict(one) for one in chance.loads],
        "band_frac": list(chance.band_frac),
        "daily_low_frac": chance.daily_low_frac.tolist(),
        "margin_frac": chance.margin_frac.tolist(),
        "sun_kwh_m2_day": chance.sun_kwh_m2_day.tolist(),
        "first_failure_day": list(chance.first_failure_day),
        "worst_run": chance.worst_run,
        "worst_message": chance.worst_message,
        "shares_frac": dict(chance.shares_frac),
        "contents": [_contents(one) for one in chance.contents],
    }


def _contents(one: ContentsChance) -> PlainContents:
    return {
        "load": one.load,
        "name": one.name,
        "low_degc": one.low_degc,
        "high_degc": one.high_degc,
        "is_stated": one.is_stated,
        "lowest_degc": one.lowest_degc.tolist(),
        "highest_degc": one.highest_degc.tolist(),
        "out_h": one.out_h.tolist(),
        "hold_over_h": [_number(hours) for hours in one.hold_over_h.tolist()],
    }


def _real_years(years: RealYears) -> PlainRealYears:
    low, high = share_interval(years.held_count, len(years.labels))
    return {
        "labels": list(years.labels),
        "is_held": list(years.is_held),
        "held_count": years.held_count,
        "held_low_frac": low,
        "held_high_frac": high,
        "margin_frac": years.margin_frac.tolist(),
        "sun_kwh_m2_day": years.sun_kwh_m2_day.tolist(),
        "worst_message": years.worst_message,
        "left_out": list(years.left_out),
        "notes": list(years.notes),
        "other_weeks": None
        if years.other_weeks is None
        else {
            "labels": list(years.other_weeks.labels),
            "held_counts": list(years.other_weeks.held_counts),
            "start_count": years.other_weeks.start_count,
        },
    }


def _mass(assessment: Assessment) -> PlainMass:
    mass = assessment.mass
    return {
        "added_kg": _number(mass.added_kg),
        "centre_from_front_axle_mm": _number(mass.centre_from_front_axle_mm),
        "centre_above_ground_mm": _number(mass.centre_above_ground_mm),
        "front_kg": _number(mass.front_kg),
        "rear_kg": _number(mass.rear_kg),
        "gross_kg": _number(mass.gross_kg),
        "without_mass": list(mass.without_mass),
        "without_place": list(mass.without_place),
        "message": mass_sentence(assessment.design, mass),
    }


def _electrician(assessment: Assessment) -> PlainElectrician | None:
    sheet = electrician_list(assessment)
    return None if sheet is None else {"facts": list(sheet.facts), "points": list(sheet.points)}


def _count(assessment: Assessment, which: str) -> PlainRules:
    count = assessment.use_rules if which == "use" else assessment.wiring_rules
    return {
        "checked_count": count.checked_count,
        "total_count": count.total_count,
        "open_rules": list(count.open_rules),
    }


def _finding(finding: Finding) -> PlainFinding:
    return {
        "rule": finding.rule,
        "group": str(finding.group),
        "severity": str(finding.severity),
        "subject": finding.subject,
        "message": finding.message,
        "value": _number(finding.value),
        "limit": _number(finding.limit),
        "unit": finding.unit,
        "margin_frac": _number(finding.margin_frac),
        "source": str(finding.source) if finding.source else None,
        "way_out": finding.way_out,
        "caution": finding.caution,
        "override": _override(finding),
    }


def _override(finding: Finding) -> PlainOverride | None:
    held = finding.override
    if held is None:
        return None
    return {
        "rule": finding.rule,
        "subject": finding.subject,
        "by": held.by,
        "reason": held.reason,
        "granted": held.granted.isoformat(),
        "expires": held.expires.isoformat(),
        "was": str(held.was),
    }


def _number(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else float(value)

"""Candidates that only change a setting: they cost no parts."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from ampwright.assessment.result import Assessment
from ampwright.assessment.setting_range import is_settable
from ampwright.assessment.settings_advice import advised_cutoff, advised_input_a
from ampwright.findings import Severity
from ampwright.job.as_left import with_setting
from ampwright.job.design import Design
from ampwright.job.device_settings import as_charger
from ampwright.job.records import Job
from ampwright.parts.catalogue import Catalogue
from ampwright.said import said
from ampwright.sizing.candidate import Candidate, Family

__all__ = ["battery_type", "moved_cutoff", "same_voltages", "weaker_inlet"]

VOLTAGES = frozenset({"charge-voltage", "float-voltage"})
CUTOFFS = frozenset({"cutoff-ladder", "cutoff-restart", "lowest-voltage", "inverter-overload"})


def _is_in_trouble(found: Assessment, rules: frozenset[str]) -> bool:
    heavy = {Severity.FAIL, Severity.CONDITION}
    return any(f.rule in rules and f.severity in heavy for f in found.findings)


def same_voltages(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the battery's own voltages for every charger, where all of them can be set so."""
    del catalogue
    if not _is_in_trouble(found, VOLTAGES):
        return
    design = found.design
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    wanted = {"charge_v": battery.charge_v * series, "float_v": battery.float_v * series}
    chargers = [placed for placed in design.parts if as_charger(placed) is not None]
    if not all(is_settable(one.part, name, value) for one in chargers for name, value in wanted.items()):
        return
    changed = job
    for placed in chargers:
        changed = with_setting(changed, placed.id, **wanted)
    yield (_setting(said("set every charger to {charge_v:.1f} V, float {float_v:.1f} V", **wanted), changed),)


def moved_cutoff(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the load cut-off computed from the battery's curve and the sag of the loads."""
    del catalogue
    if not _is_in_trouble(found, CUTOFFS):
        return
    design = found.design
    advice = advised_cutoff(design, found.network, found.energy).cutoff
    old = job.load_cutoff
    new = (
        advice
        if old is None
        else dataclasses.replace(old, open_v=advice.open_v, close_v=advice.close_v, as_left=None)
    )
    limits = {"open_v": new.open_v, "close_v": new.close_v}
    words = (
        said("load cut-off at {open_v:.1f} V, back at {close_v:.1f} V", **limits)
        if old is None
        else said("move the load cut-off at {open_v:.1f} V, back at {close_v:.1f} V", **limits)
    )
    yield (_setting(words, dataclasses.replace(job, load_cutoff=new)),)


def battery_type(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the battery's own type, nothing equalised, for each charger that does what the battery does not want."""
    del catalogue
    subjects = {
        f.subject
        for f in found.findings
        if f.rule == "charge-habits" and f.severity in {Severity.FAIL, Severity.CONDITION}
    }
    if not subjects:
        return
    changed = job
    for name in sorted(subjects):
        changed = _with_battery_type(changed, found.design, name)
    kind = found.design.battery_part().chemistry
    names = ", ".join(sorted(subjects))
    yield (
        _setting(said("battery type {kind}, nothing equalised: {names}", kind=kind, names=names), changed),
    )


def _with_battery_type(job: Job, design: Design, name: str) -> Job:
    kind = design.battery_part().chemistry
    off = {"equalise_v": 0.0} | ({"compensation_v_per_k": 0.0} if kind == "lfp" else {})
    changed = with_setting(job, name, **off)
    setting = tuple(
        dataclasses.replace(
            each,
            programme=kind,
            as_left=dataclasses.replace(each.as_left, programme=None) if each.as_left else None,
        )
        if each.part == name
        else each
        for each in changed.setting
    )
    return dataclasses.replace(changed, setting=setting)


def weaker_inlet(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose the input limit that post and inlet allow, for each mains charger that would take more."""
    del catalogue
    if not _is_in_trouble(found, frozenset({"inlet-rating"})):
        return
    changed, words = job, []
    for placed in found.design.parts:
        limit_a = advised_input_a(found.design, placed)
        if limit_a is not None:
            changed = with_setting(changed, placed.id, input_limit_a=limit_a)
            words.append(f"{placed.id} {limit_a:g} A")
    if words:
        limits = ", ".join(words)
        yield (_setting(said("set mains input limits: {limits}", limits=limits), changed),)


def _setting(description: str, job: Job) -> Candidate:
    return Candidate(kind="setting", description=description, cost_eur=0.0, job=job)

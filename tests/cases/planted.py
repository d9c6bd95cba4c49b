"""Planted faults: a sound job, one edit, and what the rules must say of it."""

from __future__ import annotations

import copy
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from ampwright.api import sun_of
from ampwright.assessment.assess import assess
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity
from ampwright.job.design import Design
from ampwright.job.load import LoadedJob, load_definition
from ampwright.job.own_tables import load_own_tables
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.validation import validated

HERE = Path(__file__).parent
# the shipped opening times of many devices are from memory; what rests on them is said and is no trouble of the job
FROM_MEMORY = ("far-fault-clears", Severity.NOT_CHECKED)
HEAVY = (Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED)


def case_names() -> list[str]:
    return sorted(folder.name for folder in HERE.iterdir() if (folder / "params.toml").is_file())


def params(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / name / "params.toml").read_text(encoding="utf-8"))


def base_job(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / name / "job.toml").read_text(encoding="utf-8"))


def edited(raw: dict[str, Any], edit: dict[str, Any]) -> dict[str, Any]:
    """Return a copy with `remove` (paths), `add` (tables) and `set` (path -> value) applied, in this order."""
    result = copy.deepcopy(raw)
    for path in edit.get("remove", []):
        holder, key = _place(result, path)
        del holder[key]
    for kind, tables in edit.get("add", {}).items():
        result.setdefault(kind, []).extend(copy.deepcopy(tables))
    for path, value in edit.get("set", {}).items():
        holder, key = _place(result, path)
        holder[key] = value
    return result


def _place(raw: Any, path: str) -> tuple[Any, Any]:
    """Return holder and key of a path such as "run/W6/device/Q6/part"; list entries go by id, part, name, at or legend."""
    *steps, last = path.split("/")
    for step in steps:
        raw = raw[_key(raw, step)]
    return raw, _key(raw, last)


def _key(raw: Any, step: str) -> Any:
    if isinstance(raw, dict):
        return step
    for field in ("id", "part", "name", "at", "legend"):
        for position, entry in enumerate(raw):
            if entry.get(field) == step:
                return position
    raise KeyError(step)


def design_from(raw: dict[str, Any]) -> Design:
    job = validated(Job, raw)
    loaded = LoadedJob(
        job=job, file=HERE / "job.toml", text="", raw=raw, sha256="", tables=load_own_tables(job.tables, HERE)
    )
    return resolve(job, shipped_catalogue(), definition=load_definition(loaded), loaded=loaded)


def assessed(raw: dict[str, Any]) -> Assessment:
    design = design_from(raw)
    return assess(design, sun_of(design, HERE))


@cache
def twin(name: str) -> Assessment:
    """Return the mended job: the base with everything of the case but its fault."""
    case = params(name)
    return assessed(edited(base_job(case["base"]), case.get("both", {})))


@cache
def faulty(name: str) -> Assessment:
    case = params(name)
    sound = edited(base_job(case["base"]), case.get("both", {}))
    return assessed(edited(sound, case["fault"]))


def troubles(found: Assessment, severities: tuple[Severity, ...] = HEAVY) -> list[Finding]:
    """Return what weighs, opening times from memory left out."""
    return [f for f in found.findings if f.severity in severities and (f.rule, f.severity) != FROM_MEMORY]

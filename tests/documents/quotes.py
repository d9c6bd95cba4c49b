"""Materials with a quote, or with changes to offer, for tests of the bill."""

import dataclasses

from materials import material

from ampwright.job.quote import Quote
from ampwright.sizing.chance import Chance
from ampwright.sizing.result import Change


def with_design(found, design):
    assessment = dataclasses.replace(found.answer.assessment, design=design)
    return dataclasses.replace(found, answer=dataclasses.replace(found.answer, assessment=assessment))


def quoted(name, **quote):
    found = material(name)
    job = dataclasses.replace(found.design.job, quote=Quote(**quote) if quote else None)
    return with_design(found, dataclasses.replace(found.design, job=job))


def change_of(found, **changed):
    parts = tuple(
        dataclasses.replace(p, strings=p.strings + 1) if p.id == "panels" else p
        for p in found.design.job.part
    )
    known = {
        "kind": "panel",
        "description": "Add one panel",
        "cost_eur": 145.0,
        "cures": ("reserve-kept",),
        "use_verdict": "suits",
        "wiring_verdict": "not fully checked",
        "is_cure": True,
        "held_count": 48,
        "job": dataclasses.replace(found.design.job, part=parts),
    }
    return Change(**{**known, **changed})


def with_changes(*changes, name="night-survey-van"):
    found = material(name)
    chance = object.__new__(Chance)
    for field, value in {"run_count": 50, "held_count": 41}.items():
        object.__setattr__(chance, field, value)
    answer = dataclasses.replace(found.answer, changes=tuple(change_of(found, **each) for each in changes))
    return dataclasses.replace(found, answer=dataclasses.replace(answer, chance=chance))


def unsaid(found):
    """Return the material with no quote in its job, nor in the jobs of its changes."""
    changes = tuple(
        dataclasses.replace(each, job=dataclasses.replace(each.job, quote=None))
        for each in found.answer.changes
    )
    job = dataclasses.replace(found.design.job, quote=None)
    bare = with_design(found, dataclasses.replace(found.design, job=job))
    return dataclasses.replace(bare, answer=dataclasses.replace(bare.answer, changes=changes))

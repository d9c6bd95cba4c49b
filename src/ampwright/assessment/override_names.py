"""Whether the overrides of a job name rules that exist and may be overridden; told before anything is calculated."""

from __future__ import annotations

from ampwright.assessment.overrides import OVERRIDE
from ampwright.assessment.rules import RULES
from ampwright.job.complaints import Complaints, meant
from ampwright.job.loaded import LoadedJob

__all__ = ["check_override_names"]


def check_override_names(loaded: LoadedJob) -> None:
    """Raise JobError where an override names no rule, or one that nobody may override."""
    complaints = Complaints()
    locks = {rule.name: rule.no_override for rule in RULES if rule is not OVERRIDE}
    for index, each in enumerate(loaded.job.override):
        path = ("override", index, "rule")
        if each.rule not in locks:
            complaints.add(path, f"no rule '{each.rule}'; {meant(each.rule, locks)}")
        elif locks[each.rule]:
            complaints.add(path, f"nobody may override '{each.rule}'. {locks[each.rule]}")
    complaints.raise_if_any(str(loaded.file), loaded.text, loaded.raw)

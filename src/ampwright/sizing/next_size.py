"""The next size that satisfies every rule together: the way out of findings about cables."""

from __future__ import annotations

import dataclasses

from ampwright.assessment.result import Assessment
from ampwright.assessment.wording import cable_text
from ampwright.findings import Finding, Severity
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.said import Said, said, said_together
from ampwright.sizing.wiring_trial import (
    Trouble,
    paths,
    rewired,
    same_make,
    troubles_of,
    wiring_findings,
)

__all__ = ["BY_CABLE", "with_next_sizes"]

BY_CABLE = frozenset(
    {
        "cable-capacity", "cable-minimum-size", "device-against-cable", "far-fault-clears", "feed-carries-load",
        "fed-from-both-ends", "inverter-overload", "lowest-voltage", "module-port", "output-fails-shorted",
        "plug-rating", "terminal-temperature", "terminals-fit",
    }
)  # fmt: skip
"""Rules whose findings another cable may mend."""
MOST_TRIALS = 60
"""Cables tried for one answer; about a second (docs/choices.md#next-size)."""


def with_next_sizes(found: Assessment, catalogue: Catalogue) -> Assessment:
    """Return the assessment with the smallest cable that satisfies every rule named in the way out of cable findings."""
    wanted = [f for f in found.findings if _is_wanted(f)]
    if not wanted:
        return found
    search = _Search(found, catalogue)
    ways = {_key(f): search.way_out(_key(f)) for f in wanted}
    findings = tuple(
        dataclasses.replace(f, way_out=said_together((f.way_out, ways[_key(f)]))) if _is_wanted(f) else f
        for f in found.findings
    )
    return dataclasses.replace(found, findings=findings)


def _is_wanted(finding: Finding) -> bool:
    return finding.rule in BY_CABLE and finding.severity in {Severity.FAIL, Severity.CONDITION}


def _key(finding: Finding) -> Trouble:
    return finding.rule, finding.subject, finding.severity


class _Search:
    """Tries cables one run at a time and remembers what each try found."""

    def __init__(self, found: Assessment, catalogue: Catalogue) -> None:
        """Begin with nothing tried."""
        self._found = found
        self._before = troubles_of(found.findings)
        self._paths = paths(found.design, found.network)
        self._cables = sorted(catalogue.of_kind(Cable), key=_size)
        self._tried: dict[tuple[int, str], frozenset[Trouble]] = {}

    def way_out(self, trouble: Trouble) -> Said:
        """Return the words for one trouble."""
        runs = self._found.design.runs
        rule, subject, _ = trouble
        near = self._paths.by_subject.get(subject, ())
        is_of_run = any(run.id == subject for run in runs)
        chosen: list[tuple[float, str, Said]] = []
        for index in near[:1] if is_of_run and rule != "far-fault-clears" else near:
            run = runs[index]
            cable = None if run.is_inside_module else self._smallest(run, trouble)
            if cable is not None:
                metres = run.length_m + (run.back_length_m if cable.core_count == 1 else 0.0)
                words = said("{name} ({area})", name=cable.id, area=cable_text(cable))
                chosen.append((cable.price_eur_per_m * metres, run.id, words))
        if not chosen:
            return said("No other cable of its make alone mends it and keeps every rule.")
        _, run_id, words = min(chosen)
        if run_id == subject:
            return said("The smallest cable of its make that keeps every rule: {cable}.", cable=words)
        return said(
            "The smallest cable of its make that keeps every rule in run {run}: {cable}.",
            run=run_id,
            cable=words,
        )

    def _smallest(self, run: DesignRun, trouble: Trouble) -> Cable | None:
        """Return the smallest cable in one run that mends a trouble and makes no other."""
        return next(
            (
                cable
                for cable in self._cables
                if same_make(cable, run.cable) and self._mends(run, cable, trouble)
            ),
            None,
        )

    def _mends(self, run: DesignRun, cable: Cable, trouble: Trouble) -> bool:
        key = (run.index, cable.id)
        if key not in self._tried:
            if len(self._tried) >= MOST_TRIALS:
                return False
            design = rewired(self._found.design, {run.index: cable}, {})
            self._tried[key] = troubles_of(wiring_findings(design, self._found.energy, on=self._found.on))
        after = self._tried[key]
        same_thing = {(rule, subject) for rule, subject, _ in after}
        return after <= self._before and trouble[:2] not in same_thing


def _size(cable: Cable) -> tuple[float, float]:
    return cable.area_mm2, cable.price_eur_per_m

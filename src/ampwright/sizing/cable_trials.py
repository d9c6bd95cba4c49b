"""The job with other cables, assessed as a whole at the likely values and at the ends of what is unknown."""

from __future__ import annotations

from collections.abc import Mapping

from ampwright.assessment.assess import studies_of
from ampwright.assessment.cables import CABLE_CAPACITY
from ampwright.assessment.fault_time import FAR_FAULT_CLEARS
from ampwright.assessment.overload import INVERTER_OVERLOAD
from ampwright.assessment.overrides import overridden
from ampwright.assessment.result import Assessment
from ampwright.assessment.rules import RULES
from ampwright.assessment.terminals import TERMINAL_TEMPERATURE, TERMINALS_FIT
from ampwright.assessment.voltage import LOWEST_VOLTAGE
from ampwright.findings import Finding
from ampwright.job.design import Design
from ampwright.job.unknowns import Path, unknown_inputs, with_values
from ampwright.parts.cable import Cable
from ampwright.sizing.bench import Bench
from ampwright.sizing.over_range import badness
from ampwright.sizing.standard import standard_of, worse
from ampwright.sizing.wiring_trial import rewired

__all__ = ["LIKELY", "CableTrials", "Cables"]

Cables = Mapping[int, Cable]
"""What is laid anew, by index of the run."""
LIKELY = 0
"""Number of the case with the likely values."""
FIRST_ASKED = (
    FAR_FAULT_CLEARS,
    LOWEST_VOLTAGE,
    CABLE_CAPACITY,
    TERMINALS_FIT,
    TERMINAL_TEMPERATURE,
    INVERTER_OVERLOAD,
)
"""Rules that most often forbid a cable and ask nothing of the energy: where they find more, no other need be asked."""


class CableTrials:
    """Holds sets of cables against a set that is kept as the standard."""

    def __init__(self, bench: Bench) -> None:
        """Assess the present job in every case."""
        self._bench = bench
        self._designs: list[Design] = []
        self.before: list[Assessment] = []
        self._add({})
        together: dict[Path, float] = {}
        unknowns = unknown_inputs(bench.job)
        for unknown in unknowns:
            low, high = self._add({unknown.path: unknown.low}), self._add({unknown.path: unknown.high})
            together[unknown.path] = unknown.low if badness(low) >= badness(high) else unknown.high
        if unknowns:
            self._add(together)
        self._standards = [standard_of(each.findings) for each in self.before]
        self.held = [LIKELY]

    def _add(self, values: Mapping[Path, float]) -> Assessment:
        bench = self._bench
        self._designs.append(bench.design_of(with_values(bench.job, values)) if values else bench.design)
        self.before.append(bench.assessed_design(self._designs[-1]))
        return self.before[-1]

    def assessed(self, cables: Cables, case: int = LIKELY) -> Assessment:
        """Return the complete assessment with these cables."""
        if not cables:
            return self.before[case]
        return self._bench.assessed_design(rewired(self._designs[case], cables, {}))

    def keep_as_standard(self, cables: Cables) -> None:
        """Hold every later set against this one, so that what it mends stays mended."""
        self._standards = [
            standard_of(self.assessed(cables, case).findings) for case in range(len(self._designs))
        ]

    def worse_in(self, cables: Cables, case: int) -> tuple[Finding, ...]:
        """Return what is worse than the standard in one case."""
        return worse(self.assessed(cables, case).findings, self._standards[case])

    def worse_in_held(self, cables: Cables) -> tuple[Finding, ...]:
        """Return what is worse in the first held case where something is."""
        return next(filter(None, (self.worse_in(cables, case) for case in self.held)), ())

    def is_sound(self, cables: Cables) -> bool:
        """Tell whether nothing is worse in any held case; most sets fail by the rules asked first."""
        return not any(
            worse(self._found_first(cables, case), self._standards[case]) for case in self.held
        ) and not self.worse_in_held(cables)

    def _found_first(self, cables: Cables, case: int) -> list[Finding]:
        design = rewired(self._designs[case], cables, {})
        energy = self.before[case].energy
        warm, studies = studies_of(design, self._bench.sun, on=self._bench.on, energy=energy)
        found = [finding for rule in FIRST_ASKED for finding in rule.check(warm, studies)]
        held = overridden(found, design.job.override, on=studies.on, rules=RULES)
        return [finding for finding in held if any(finding.rule == rule.name for rule in FIRST_ASKED)]

    def hold_more(self, cables: Cables) -> bool:
        """Hold from now on every case in which these cables are worse; False where there is none."""
        others = [case for case in range(len(self._designs)) if case not in self.held]
        failing = [case for case in others if self.worse_in(cables, case)]
        self.held += failing
        return bool(failing)

    def new_findings(self, cables: Cables) -> tuple[Finding, ...]:
        """Return what is worse than in the present job in any case, each thing once."""
        found: dict[tuple[str, str], Finding] = {}
        for case, before in enumerate(self.before):
            for each in worse(self.assessed(cables, case).findings, standard_of(before.findings)):
                found.setdefault((each.rule, each.subject), each)
        return tuple(found.values())

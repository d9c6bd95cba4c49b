"""What an assessment says: findings, two verdicts, what runs out first."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from ampwright.assessment.added_mass import AddedMass
from ampwright.energy.result import EnergyResult
from ampwright.findings import Finding
from ampwright.job.design import Design
from ampwright.network.result import NetworkResult
from ampwright.records import record

__all__ = ["Assessment", "RuleCount", "RunOut", "UseVerdict", "WiringVerdict"]

UseVerdict = Literal["suits", "suits with conditions", "does not suit"]
"""Fit for the use."""
WiringVerdict = Literal["no fault found", "not fully checked", "do not energise"]
"""Wiring and protection."""


@record
class RunOut:
    """The first thing to run out, or the one that comes nearest to it."""

    subject: str
    """Id of the battery, load, inverter or charger."""
    runs_out: bool
    """True when it does run out within the use."""
    day_count: int
    """Day of the use, counted from 1; 0 when it is not tied to a moment."""
    clock: str
    """Clock time "HH:MM"; empty when it is not tied to a moment."""
    margin_frac: float
    """Distance from running out as a fraction of what there is; negative = by how much it is short."""
    message: str
    """One sentence with the figures."""


@record
class RuleCount:
    """How many rules of a verdict could be evaluated."""

    checked_count: int
    """Rules evaluated for every subject they apply to."""
    total_count: int
    """Rules that apply to this job."""
    open_rules: tuple[str, ...]
    """Names of the rules not (fully) checked, overridden or not."""


@record
class Assessment:
    """A design with everything that was found about it at one set of values."""

    design: Design
    """What was assessed."""
    network: NetworkResult
    """Operating points and fault currents."""
    energy: EnergyResult
    """Energy over the use."""
    findings: tuple[Finding, ...]
    """Findings, heaviest first."""
    use_verdict: UseVerdict
    """Fit for the use."""
    wiring_verdict: WiringVerdict
    """Wiring and protection."""
    use_rules: RuleCount
    """How many rules of the first verdict were checked."""
    wiring_rules: RuleCount
    """How many rules of the second verdict were checked."""
    run_out: RunOut
    """What runs out first."""
    mass: AddedMass
    """What it adds to the vehicle."""
    on: dt.date
    """Day on which overrides had to be in force."""

    @property
    def overridden(self) -> tuple[Finding, ...]:
        """Findings that a named person took on."""
        return tuple(finding for finding in self.findings if finding.override is not None)

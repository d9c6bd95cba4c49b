"""What a rule is, and what the studies hand to it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator

from ampwright.assessment.circuits import Circuits
from ampwright.energy.result import EnergyResult
from ampwright.findings import Finding, Group
from ampwright.job.design import Design
from ampwright.network.heat import EnclosureHeat
from ampwright.network.result import NetworkResult
from ampwright.records import record
from ampwright.switching.plan import SwitchPlan

__all__ = ["Check", "Rule", "Studies"]


@record
class Studies:
    """Everything that was calculated about one design."""

    network: NetworkResult
    """Operating points and fault currents."""
    energy: EnergyResult
    """Energy over the use."""
    switching: SwitchPlan
    """Loads on output channels."""
    circuits: Circuits
    """How each run is fed and protected."""
    heat: tuple[EnclosureHeat, ...]
    """Air inside the enclosures."""
    on: dt.date
    """Day on which overrides must be in force."""


Check = Callable[[Design, Studies], Iterator[Finding]]


@record
class Rule:
    """One rule: a name, the verdict it feeds, the question it answers and the check."""

    name: str
    """Name, as in docs/rules.md."""
    group: Group
    """Which verdict it feeds."""
    asks: str
    """The question it answers."""
    check: Check
    """One finding for each subject it applies to, passes included."""
    no_override: str = ""
    """Why no finding of it may be overridden; empty = a named person may."""

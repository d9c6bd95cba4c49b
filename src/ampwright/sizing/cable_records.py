"""What the search for the cheapest or lightest set of cables hands out: records only."""

from __future__ import annotations

from typing import Literal

from ampwright.assessment.result import UseVerdict, WiringVerdict
from ampwright.findings import Finding
from ampwright.parts.cable import Cable
from ampwright.records import record

__all__ = ["By", "CableAnswer", "CableChoice", "Proof"]

By = Literal["price", "mass"]
"""What is to be less."""
Proof = Literal["least", "pairs", "runs", "stopped"]
"""All cheaper sets were tried; no run and no pair on a shared feed can be less; no run can be less; not finished."""


@record
class CableChoice:
    """What one run has, and what it gets."""

    run: str
    """Label of the run."""
    old_cable: Cable
    """Present cable."""
    new_cable: Cable
    """Chosen cable, out and back alike where it differs from the present one."""
    is_changed: bool
    """True when it is laid anew, out or back."""
    old_price_eur: float
    """Price of its present cable."""
    new_price_eur: float
    """Price of the chosen cable."""
    old_mass_kg: float
    """Mass of its present cable."""
    new_mass_kg: float
    """Mass of the chosen cable."""
    next_cable: str
    """Catalogue id of the next cheaper or lighter cable of its make; empty = there is none."""
    binds: tuple[str, ...]
    """What is worse with that one alone, as "rule of subject"."""


@record
class CableAnswer:
    """The chosen set for a whole job, with what complete assessments say of the job that has it."""

    by: By
    """What is less."""
    choices: tuple[CableChoice, ...]
    """One for each run outside the module."""
    proof: Proof
    """How far nothing less is proved."""
    tries_count: int
    """Sets assessed."""
    case_count: int
    """Sets of values at which the choice was held against the present one: the likely ones and the ends of what is unknown."""
    mended: tuple[str, ...]
    """Failures of cables at present that are gone with the set, as "rule of subject"."""
    left: tuple[Finding, ...]
    """Failures of cables that no set tried mends."""
    new_findings: tuple[Finding, ...]
    """What is found with the set, at any of these values, and not at present; empty = none."""
    without_figure: tuple[str, ...]
    """Cables that say no price or mass, and were left out."""
    margin_before_frac: float
    """Margin of what runs out first at present."""
    margin_after_frac: float
    """The same with the set."""
    use_before: UseVerdict
    """First verdict at present, at the likely values."""
    use_after: UseVerdict
    """First verdict with the set, at the likely values."""
    wiring_before: WiringVerdict
    """Second verdict at present, at the likely values."""
    wiring_after: WiringVerdict
    """Second verdict with the set, at the likely values."""

"""Types of the plain answer: what `ampwright check --json` prints and the web app's interface gives, key by key.

The types describe plain dictionaries; the interface's description for other programs is made from them.
Numbers that are not known are None.
"""

from __future__ import annotations

from typing import Any

from typing_extensions import TypedDict

from ampwright.assessment.result import UseVerdict, WiringVerdict

__all__ = [
    "PlainAnswer",
    "PlainChance",
    "PlainChange",
    "PlainElectrician",
    "PlainFinding",
    "PlainMass",
    "PlainOtherWeeks",
    "PlainOverride",
    "PlainQuestion",
    "PlainQuick",
    "PlainRealYears",
    "PlainRules",
    "PlainRunOut",
]


class PlainRules(TypedDict):
    """How many rules of one verdict were checked, and which are open."""

    checked_count: int
    total_count: int
    open_rules: list[str]


class PlainRunOut(TypedDict):
    """What runs out first."""

    subject: str
    runs_out: bool
    day_count: int
    clock: str
    margin_frac: float | None
    message: str


class PlainMass(TypedDict):
    """Mass added to the vehicle and where it acts."""

    added_kg: float | None
    centre_from_front_axle_mm: float | None
    centre_above_ground_mm: float | None
    front_kg: float | None
    rear_kg: float | None
    gross_kg: float | None
    without_mass: list[str]
    without_place: list[str]
    message: str


class PlainChange(TypedDict):
    """One single change that mends a verdict, or the best of its kind."""

    kind: str
    description: str
    cost_eur: float | None
    cures: list[str]
    is_cure: bool
    use_verdict: UseVerdict
    wiring_verdict: WiringVerdict
    caution: str
    held_count: int | None


class PlainQuestion(TypedDict):
    """One unknown amount and how far it moves the verdict."""

    input: str
    low: float
    high: float
    unit: str
    turns_at: float | None
    margin_swing_frac: float | None
    message: str


class PlainOverride(TypedDict):
    """One finding that a named person took on; days as YYYY-MM-DD."""

    rule: str
    subject: str
    by: str
    reason: str
    granted: str
    expires: str
    was: str


class PlainFinding(TypedDict):
    """What one rule found about one subject; value and limit in the unit named beside them."""

    rule: str
    group: str
    severity: str
    subject: str
    message: str
    value: float | None
    limit: float | None
    unit: str
    margin_frac: float | None
    source: str | None
    way_out: str
    caution: str
    override: PlainOverride | None


class PlainElectrician(TypedDict):
    """What is for the licensed electrician."""

    facts: list[str]
    points: list[str]


class PlainContents(TypedDict):
    """What the contents of a refrigerator go through, a figure for each run; hold-over null = beyond 60 days."""

    load: str
    name: str
    low_degc: float | None
    high_degc: float | None
    is_stated: bool
    lowest_degc: list[float]
    highest_degc: list[float]
    out_h: list[float]
    hold_over_h: list[float | None]


class PlainChance(TypedDict):
    """In how many runs of weather and doubt the use holds."""

    run_count: int
    seed: int
    held_count: int
    held_low_frac: float
    held_high_frac: float
    loads: list[dict[str, Any]]
    band_frac: list[float]
    daily_low_frac: list[list[float]]
    margin_frac: list[float]
    sun_kwh_m2_day: list[float]
    first_failure_day: list[int]
    worst_run: int
    worst_message: str
    shares_frac: dict[str, float]
    contents: list[PlainContents]


class PlainOtherWeeks(TypedDict):
    """What the same real years show where the use begins one or two weeks earlier or later as well."""

    labels: list[str]
    held_counts: list[int]
    start_count: int


class PlainRealYears(TypedDict):
    """What each real year of a weather file shows, in the order of the labels."""

    labels: list[str]
    is_held: list[bool]
    held_count: int
    held_low_frac: float
    held_high_frac: float
    margin_frac: list[float]
    sun_kwh_m2_day: list[float]
    worst_message: str
    left_out: list[str]
    notes: list[str]
    other_weeks: PlainOtherWeeks | None


class PlainAnswer(TypedDict):
    """The full answer to one job."""

    file: str
    job: str
    revision: int
    job_hash: str
    program_version: str
    use_verdict: UseVerdict
    use_sentence: str
    wiring_verdict: WiringVerdict
    wiring_sentence: str
    use_rules: PlainRules
    wiring_rules: PlainRules
    run_out: PlainRunOut
    added_mass: PlainMass
    changes: list[PlainChange]
    questions: list[PlainQuestion]
    overrides: list[PlainOverride]
    findings: list[PlainFinding]
    electrician: PlainElectrician | None
    cautions: list[str]
    assumptions: list[str]
    chance: PlainChance | None
    real_years: PlainRealYears | None
    outlook: dict[str, Any] | None
    ledger_wh: dict[str, Any]


class PlainQuick(TypedDict):
    """What is known at once, at the likely values alone: never the verdict."""

    likely_use_verdict: UseVerdict
    likely_wiring_verdict: WiringVerdict
    use_rules: PlainRules
    wiring_rules: PlainRules
    run_out: PlainRunOut
    findings: list[PlainFinding]
    cautions: list[str]

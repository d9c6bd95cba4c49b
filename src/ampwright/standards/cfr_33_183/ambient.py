"""How the surroundings lower the current of Table 5: engine space, other ambients, bundles."""

from __future__ import annotations

import math
from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = [
    "BASE_DEGC",
    "ENGINE_SPACE_DEGC",
    "Correction",
    "ambient_correction",
    "bundle_correction",
    "engine_space_correction",
    "heat_balance_factor",
]

BASE_DEGC = 30.0  # ambient of Table 5 (second hand, two reprints)
ENGINE_SPACE_DEGC = 50.0  # ambient of note 1 (second hand, two reprints)
BUNDLE_RULE_V = 50.0  # 183.435(b), read


@record
class Correction:
    """One factor on the current of Table 5."""

    correction_factor: float
    """Multiplier, 0 to 1."""
    source: Source
    """Where the factor comes from."""
    note: str
    """What was applied, for the reader; empty when nothing was."""


def heat_balance_factor(rating_degc: float, *, ambient_degc: float, base_degc: float = BASE_DEGC) -> float:
    """Return the current at an ambient over the current at the table's own ambient.

    Heat balance of a conductor: I² is in proportion to its rise above the ambient, so the factor is
    √((T_r − T_a)/(T_r − T_base)); 0 at and above the rating.

    Notes
    -----
    Engineering practice; it reproduces the ambient tables of NFPA 70 (310.15(B)(2)) to their two decimals.
    Copper resistance and heat transfer are taken at the rating, which both ambients share.

    Examples
    --------
    >>> round(heat_balance_factor(90.0, ambient_degc=50.0), 2)
    0.82
    """
    if rating_degc <= base_degc:
        raise TableError(
            f"rating {rating_degc:g} degC is not above the table's ambient of {base_degc:g} degC"
        )
    return math.sqrt(max(rating_degc - ambient_degc, 0.0) / (rating_degc - base_degc))


def ambient_correction(rating_degc: float, *, ambient_degc: float) -> Correction:
    """Return the factor for an ambient outside engine spaces; never above 1.

    No note of the regulation covers it: heat balance, this project's choice.
    """
    if ambient_degc <= BASE_DEGC:
        source = Source(
            document="33 CFR 183.425",
            edition="text in force",
            place="Table 5 at 30 degC",
            standing="second hand",
        )
        return Correction(correction_factor=1.0, source=source, note="")
    factor = heat_balance_factor(rating_degc, ambient_degc=ambient_degc)
    state = (
        said("at or above the insulation rating")
        if factor == 0.0
        else said("factor {factor:.3f} by heat balance", factor=factor)
    )
    return Correction(
        correction_factor=factor,
        source=Source(
            document="heat balance sqrt((Tr-Ta)/(Tr-30))",
            place="agrees with NFPA 70 310.15(B)(2) ambient tables",
            standing="derived",
        ),
        note=said(
            "ambient {ambient_degc:g} degC: {state}, not from the regulation",
            ambient_degc=ambient_degc,
            state=state,
        ),
    )


@cache
def _note_1() -> dict[float, tuple[float, str]]:
    """Factor and standing by insulation rating."""
    rows = table_rows(__package__, "note_1.csv")
    return {float(row["insulation_degc"]): (float(row["ambient_factor"]), row["standing"]) for row in rows}


def engine_space_correction(rating_degc: float, *, ambient_degc: float) -> Correction:
    """Return the factor in an engine space: note 1 up to 50 °C, the lower of it and heat balance above.

    33 CFR 183.425(c), Table 5, note 1.

    Examples
    --------
    >>> engine_space_correction(105.0, ambient_degc=40.0).correction_factor
    0.85
    """
    if rating_degc not in _note_1():
        raise TableError(
            f"rating {rating_degc:g} degC: note 1 holds {', '.join(f'{key:g}' for key in _note_1())}"
        )
    factor, standing = _note_1()[rating_degc]
    by_note = Correction(
        correction_factor=factor,
        source=Source(
            document="33 CFR 183.425", edition="text in force", place="Table 5, note 1", standing=standing
        ),
        note=said("engine space taken as 50 degC: factor {factor:.2f} of note 1", factor=factor),
    )
    if ambient_degc <= ENGINE_SPACE_DEGC:
        return by_note
    return min(by_note, ambient_correction(rating_degc, ambient_degc=ambient_degc), key=_by_factor)


def _by_factor(correction: Correction) -> float:
    """Sort key."""
    return correction.correction_factor


@cache
def _note_2() -> tuple[tuple[int, float, str], ...]:
    """Smallest count, factor and standing of each step, ascending."""
    rows = table_rows(__package__, "note_2.csv")
    return tuple((int(row["bundle_min_count"]), float(row["bundle_factor"]), row["standing"]) for row in rows)


def bundle_correction(bundle_count: int, *, system_v: float) -> Correction:
    """Return the factor for conductors of a bundle that are loaded together.

    33 CFR 183.435(b) and 183.425, Table 5, note 2: for circuits of 50 V and more. Below 50 V the regulation
    sets none; the same factors are applied to conductors loaded together by this project's choice.

    Examples
    --------
    >>> bundle_correction(4, system_v=12.0).correction_factor
    0.6
    """
    if bundle_count < 1:
        raise TableError(f"bundle of {bundle_count}: count the conductor itself, 1 or more")
    _, factor, standing = max(step for step in _note_2() if step[0] <= bundle_count)
    source = Source(
        document="33 CFR 183.425", edition="text in force", place="Table 5, note 2", standing=standing
    )
    if factor == 1.0:
        return Correction(correction_factor=factor, source=source, note="")
    whose = (
        said("183.435(b) asks for it from 50 V")
        if system_v >= BUNDLE_RULE_V
        else said("the regulation asks for it from 50 V only; applied below 50 V by this project's choice")
    )
    note = said(
        "{bundle_count} conductors loaded together: factor {factor:.2f} of note 2; {whose}",
        bundle_count=bundle_count,
        factor=factor,
        whose=whose,
    )
    return Correction(correction_factor=factor, source=source, note=note)

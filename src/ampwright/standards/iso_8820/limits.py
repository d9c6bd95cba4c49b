"""Limits of a fuse family: voltage, breaking capacity and the times in which it may and must open.

Families without a table that could be sourced (UL 248-15 class T, IEC 60269-6 gPV) are known by name
only: their look-up is None until a user's file describes them (`user_file.py`).
"""

from __future__ import annotations

from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows, weakest_standing

__all__ = ["FAMILIES", "FuseLimits", "OpeningPoint", "opening_limits", "opening_point", "shipped_points"]

FAMILIES = (
    "iso-8820-3-c",
    "iso-8820-3-e",
    "iso-8820-3-f",
    "iso-8820-5-sf30",
    "iso-8820-5-sf51",
    "ul-248-15-t",
    "iec-60269-6-gpv",
)
"""Standard and type of every fuse family known by name."""


@record
class OpeningPoint:
    """Times of opening at one multiple of the rated current."""

    family: str
    """Standard and type of the fuse."""
    current_factor: float
    """Current over rated current."""
    opening_min_s: float | None
    """Time for which it must stay closed; None = not stated."""
    opening_max_s: float | None
    """Time within which it must open; None = not stated."""
    rating_min_a: float | None
    """Smallest rated current the point holds for; None = the family's."""
    rating_max_a: float | None
    """Largest rated current the point holds for; None = the family's."""
    source: Source
    """Where the times come from."""

    def holds_for(self, rating_a: float) -> bool:
        """Tell whether the point speaks of a fuse of this rated current."""
        return (self.rating_min_a is None or rating_a >= self.rating_min_a) and (
            self.rating_max_a is None or rating_a <= self.rating_max_a
        )


@record
class FuseLimits:
    """What the standard says of one family."""

    family: str
    """Standard and type of the fuse."""
    rated_dc_v: float | None
    """Rated voltage; None = not held here, the part's own figure counts."""
    breaking_capacity_a: float | None
    """Breaking capacity the standard asks for; None = not held here."""
    rating_min_a: float | None
    """Smallest rated current of the family; None = not held here."""
    rating_max_a: float | None
    """Largest rated current of the family; None = not held here."""
    points: tuple[OpeningPoint, ...]
    """Opening times by ascending multiple of the rated current."""
    source: Source
    """Where voltage, breaking capacity and ratings come from; its standing is the weakest of all figures."""


@cache
def _family_rows() -> dict[str, dict[str, str]]:
    """Scope rows by family."""
    return {row["family"]: row for row in table_rows(__package__, "families.csv")}


@cache
def shipped_points() -> tuple[OpeningPoint, ...]:
    """Return the opening times shipped with the project.

    Examples
    --------
    >>> {point.family for point in shipped_points()} <= set(FAMILIES)
    True
    """
    rows = table_rows(__package__, "opening.csv")
    return tuple(opening_point(row, _family_rows()[row["family"]]) for row in rows)


def opening_point(row: dict[str, str], about: dict[str, str]) -> OpeningPoint:
    """Return one row of a table of opening times; `about` names the document and its edition."""
    return OpeningPoint(
        family=row["family"],
        current_factor=float(row["current_factor"]),
        opening_min_s=_number(row["opening_min_s"]),
        opening_max_s=_number(row["opening_max_s"]),
        rating_min_a=_number(row["rating_min_a"]),
        rating_max_a=_number(row["rating_max_a"]),
        source=Source(
            document=about["document"],
            edition=about["edition"],
            place=row["place"],
            standing=row["standing"],
        ),
    )


def _number(text: str) -> float | None:
    """Return the number, or None for an empty cell."""
    return float(text) if text else None


def opening_limits(family: str, *, points: tuple[OpeningPoint, ...] | None = None) -> FuseLimits | None:
    """Return the limits of a family, or None when neither the project nor the user holds its table.

    ISO 8820-3 and ISO 8820-5.

    Parameters
    ----------
    points
        Result of `load_limits` when the user supplied a file; the shipped points otherwise.

    Examples
    --------
    >>> limits = opening_limits("iso-8820-5-sf51")
    >>> limits.rated_dc_v, limits.breaking_capacity_a, len(limits.points)
    (32.0, 2000.0, 4)
    >>> opening_limits("ul-248-15-t") is None
    True
    """
    if family not in FAMILIES:
        raise TableError(f'fuse family "{family}" is not known: use one of {", ".join(FAMILIES)}')
    held = shipped_points() if points is None else points
    own = tuple(sorted((point for point in held if point.family == family), key=_by_factor))
    row = _family_rows().get(family)
    if row is not None:
        return _with_scope(row, own)
    if not own:
        return None
    return FuseLimits(
        family=family,
        rated_dc_v=None,
        breaking_capacity_a=None,
        rating_min_a=None,
        rating_max_a=None,
        points=own,
        source=own[0].source,
    )


def _by_factor(point: OpeningPoint) -> float:
    """Sort key."""
    return point.current_factor


def _with_scope(row: dict[str, str], own: tuple[OpeningPoint, ...]) -> FuseLimits:
    """Limits of a family whose scope is held."""
    return FuseLimits(
        family=row["family"],
        rated_dc_v=float(row["rated_dc_v"]),
        breaking_capacity_a=float(row["breaking_capacity_a"]),
        rating_min_a=float(row["rating_min_a"]),
        rating_max_a=float(row["rating_max_a"]),
        points=own,
        source=Source(
            document=row["document"],
            edition=row["edition"],
            place="scope; operating time",
            standing=weakest_standing(
                row["standing"], row["rating_standing"], *(point.source.standing for point in own)
            ),
        ),
    )

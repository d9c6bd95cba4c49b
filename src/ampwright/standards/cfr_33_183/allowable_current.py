"""Allowable current of a conductor: Table 5 with the factors of its surroundings."""

from __future__ import annotations

from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.sources import Source
from ampwright.standards.cfr_33_183.ambient import (
    ambient_correction,
    bundle_correction,
    engine_space_correction,
)
from ampwright.standards.cfr_33_183.table_5 import Table5Current, table_5_current
from ampwright.standards.csv_table import weakest_standing

__all__ = ["AllowableCurrent", "allowable_current_a"]


@record
class AllowableCurrent:
    """What one conductor may carry where it lies."""

    current_a: float
    """Allowable current; 0 when the ambient leaves the insulation no room."""
    table_current_a: float
    """Current of Table 5 at 30 degC, alone."""
    ambient_factor: float
    """Factor for the ambient or the engine space."""
    bundle_factor: float
    """Factor for conductors loaded together."""
    source: Source
    """Places used; the standing is that of the weakest figure."""
    note: str
    """What was applied and whose choice it is, in plain words; empty for a plain table value."""


def allowable_current_a(
    area_mm2: float,
    *,
    insulation_degc: float,
    ambient_degc: float,
    bundle_count: int,
    is_engine_space: bool,
    system_v: float = 12.0,
) -> AllowableCurrent:
    """Return the allowable current of one copper conductor.

    33 CFR 183.425(b)(c), Table 5 with notes 1 and 2.

    Parameters
    ----------
    bundle_count
        Current-carrying conductors that lie together and are loaded together, this one included.
    system_v
        Decides only whose bundling rule the note names (see `bundle_correction`).

    Examples
    --------
    >>> allowed = allowable_current_a(
    ...     21.15, insulation_degc=105.0, ambient_degc=50.0, bundle_count=3, is_engine_space=True
    ... )
    >>> allowed.table_current_a, allowed.ambient_factor, allowed.bundle_factor, round(allowed.current_a, 1)
    (160.0, 0.85, 0.7, 95.2)
    """
    table = table_5_current(area_mm2, insulation_degc=insulation_degc)
    correction = engine_space_correction if is_engine_space else ambient_correction
    ambient = correction(table.rating_degc, ambient_degc=ambient_degc)
    bundle = bundle_correction(bundle_count, system_v=system_v)
    used = [table.source, *(part.source for part in (ambient, bundle) if part.note)]
    notes = [*_table_notes(table, insulation_degc), ambient.note, bundle.note]
    return AllowableCurrent(
        current_a=table.current_a * ambient.correction_factor * bundle.correction_factor,
        table_current_a=table.current_a,
        ambient_factor=ambient.correction_factor,
        bundle_factor=bundle.correction_factor,
        source=_joined(used),
        note=said_together(notes, between="; "),
    )


def _table_notes(table: Table5Current, insulation_degc: float) -> list[str]:
    """Return what the reader must know of the look-up itself."""
    notes: list[str] = []
    if table.rating_degc != insulation_degc:
        notes.append(
            said(
                "insulation of {insulation_degc:g} degC read in the {rating_degc:g} degC column",
                insulation_degc=insulation_degc,
                rating_degc=table.rating_degc,
            )
        )
    if table.lower_awg != table.upper_awg:
        notes.append(
            said(
                "interpolated over area between {lower_awg} and {upper_awg} AWG",
                lower_awg=table.lower_awg,
                upper_awg=table.upper_awg,
            )
        )
    return notes


def _joined(sources: list[Source]) -> Source:
    """Name every place used under the standing of the weakest figure."""
    first, *others = sources
    places = [
        source.place if source.document == first.document else f"{source.document} ({source.place})"
        for source in others
    ]
    return Source(
        document=first.document,
        edition=first.edition,
        place="; ".join([first.place, *places]),
        standing=weakest_standing(*(source.standing for source in sources)),
    )

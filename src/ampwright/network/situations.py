"""What is attached: every combination in the day plans, and everything at once."""

from __future__ import annotations

import dataclasses

from ampwright.job.design import Design
from ampwright.job.joins import relay_joins
from ampwright.job.wiring import Attached
from ampwright.network.loads import attachments, carriers
from ampwright.network.tree import EVERYTHING, Forest, forest_of
from ampwright.records import record
from ampwright.said import all_of, said

__all__ = ["Situation", "situations", "with_relays_closed"]


@record
class Situation:
    """The wiring with some of what is carried on body and trailer away."""

    present: frozenset[Attached]
    """What is there."""
    forest: Forest
    """Its islands."""
    suffix: str
    """Words for the name of a corner, ", trailer detached"; empty where nothing is away."""
    joined: Forest | None = None
    """Its islands with the relays between the batteries closed; None without such a relay."""
    is_planned: bool
    """False where no day plan in use has it: then no loads are known to run in it."""


def with_relays_closed(here: Situation) -> Situation | None:
    """Return the same with the relays between the batteries closed; None without one."""
    if here.joined is None:
        return None
    return dataclasses.replace(
        here, forest=here.joined, joined=None, suffix=said("{suffix}, relay closed", suffix=here.suffix)
    )


def situations(design: Design, forest: Forest) -> tuple[Situation, ...]:
    """Return everything attached first, whether planned or not, then what else the day plans have.

    Parameters
    ----------
    forest : the islands with everything attached
    """
    has_joins = bool(relay_joins(design))
    planned = attachments(design)
    carried = carriers(design)
    whole = Situation(
        present=carried,
        forest=forest,
        joined=_joined(design, carried, has_joins=has_joins),
        suffix="",
        is_planned=carried in planned or not planned,
    )
    others = tuple(
        Situation(
            present=present,
            forest=forest_of(design, present),
            joined=_joined(design, present, has_joins=has_joins),
            suffix=said(
                ", {parts} detached",
                parts=all_of(said(each) for each in sorted(EVERYTHING & carried - present)),
            ),
            is_planned=True,
        )
        for present in planned
        if present != carried
    )
    return (whole, *others)


def _joined(design: Design, present: frozenset[Attached], *, has_joins: bool) -> Forest | None:
    return forest_of(design, present, is_joined=True) if has_joins else None

"""What is attached: every combination in the day plans, and everything at once."""

from __future__ import annotations

from ampwright.job.design import Design
from ampwright.job.wiring import Attached
from ampwright.network.loads import attachments, carriers
from ampwright.network.tree import EVERYTHING, Forest, forest_of
from ampwright.records import record

__all__ = ["Situation", "situations"]


@record
class Situation:
    """The wiring with some of what is carried on body and trailer away."""

    present: frozenset[Attached]
    """What is there."""
    forest: Forest
    """Its islands."""
    suffix: str
    """Words for the name of a corner, ", trailer detached"; empty where nothing is away."""
    is_planned: bool
    """False where no day plan in use has it: then no loads are known to run in it."""


def situations(design: Design, forest: Forest) -> tuple[Situation, ...]:
    """Return everything attached first, whether planned or not, then what else the day plans have.

    Parameters
    ----------
    forest : the islands with everything attached
    """
    planned = attachments(design)
    carried = carriers(design)
    whole = Situation(present=carried, forest=forest, suffix="", is_planned=carried in planned or not planned)
    others = tuple(
        Situation(
            present=present,
            forest=forest_of(design, present),
            suffix=f", {' and '.join(sorted(EVERYTHING & carried - present))} detached",
            is_planned=True,
        )
        for present in planned
        if present != carried
    )
    return (whole, *others)

"""Hours of work by counts of circuits, parts and panels."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampwright.documents.cabling.pieces import supplier
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.job.quote import Quote
from ampwright.parts.panel import Panel

__all__ = ["THICK_FROM_MM2", "hour_counts"]

FIXED_HOURS = 6.0
MODULE_HOURS = 3.0
PART_HOURS = 0.5
PANEL_HOURS = 1.5
THICK_RUN_HOURS = 1.0
THIN_RUN_HOURS = 0.75
"""Hours of each (own choice, docs/choices.md#quote-hours)."""
THICK_FROM_MM2 = 16.0
"""A run is thick from here on (own choice, docs/choices.md#quote-hours)."""
OWN = noted("own choice")


def hour_counts(design: Design, quote: Quote, words: Words) -> Iterator[tuple[str, Decimal, bool]]:
    """Yield what is done, the hours it takes, and whether the hours are this project's own choice."""
    parts = [p for p in design.parts if not p.is_inside_module and p.owner in {"workshop", "customer"}]
    panels = sum(p.case_count for p in parts if isinstance(p.part, Panel))
    others = sum(p.case_count for p in parts if not isinstance(p.part, Panel))
    runs = [r for r in design.runs if not r.is_inside_module and supplier(design, r) != "electrician"]
    thick = sum(run.cable.area_mm2 >= THICK_FROM_MM2 for run in runs)
    counted = (
        (words("Plan, test and hand over"), 1, quote.fixed_hours, FIXED_HOURS),
        (words("Place the power module"), int(design.module is not None), quote.module_hours, MODULE_HOURS),
        (words("Mount parts"), others, quote.part_hours, PART_HOURS),
        (words("Mount solar panels"), panels, quote.panel_hours, PANEL_HOURS),
        (words("Lay and connect thick runs"), thick, quote.thick_run_hours, THICK_RUN_HOURS),
        (words("Lay and connect thin runs"), len(runs) - thick, quote.thin_run_hours, THIN_RUN_HOURS),
    )
    for what, count, said, own in counted:
        hours = own if said is None else said
        if count and hours:
            each = words.decimal(f"{hours:g}")
            text = (
                what
                if count == 1
                else words("{what}: {count} of {each} h", what=what, count=count, each=each)
            )
            yield text, Decimal(repr(hours)) * count, said is None

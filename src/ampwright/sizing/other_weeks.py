"""The same use in the same real years, begun some weeks earlier or later: how much one window a year hides.

Starts of one year overlap or follow each other closely: years are counted, never starts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ampwright.records import record
from ampwright.said import Said, said
from ampwright.sizing.interval import share_interval

__all__ = ["MOST_DAYS", "SHIFTS_D", "OtherWeeks", "other_weeks", "other_weeks_sentence"]

SHIFTS_D = (-14, -7, 7, 14)
"""Days by which the use begins earlier or later (docs/choices.md#other-weeks)."""
MOST_DAYS = 31
"""Longer uses are not moved: most of their days would be the same (docs/choices.md#other-weeks)."""


@record
class OtherWeeks:
    """What real years show where the use begins in several weeks; in the order of `labels`."""

    labels: tuple[str, ...]
    """Years whose days are whole for every start."""
    held_counts: tuple[int, ...]
    """Starts of each year with which every essential load is served."""
    start_count: int
    """Starts looked at in each year."""

    @property
    def always_count(self) -> int:
        """Years in which every essential load is served whenever the use begins."""
        return sum(held == self.start_count for held in self.held_counts)


def other_weeks(
    starts: Sequence[tuple[tuple[str, ...], tuple[bool, ...]]],
) -> OtherWeeks | None:
    """Return what several starts show; None where no year is whole for all of them.

    Parameters
    ----------
    starts : names of the years and what holds in them, for each start
    """
    held = [dict(zip(labels, is_held, strict=True)) for labels, is_held in starts]
    shared = tuple(label for label in held[0] if all(label in each for each in held))
    if not shared:
        return None
    return OtherWeeks(
        labels=shared,
        held_counts=tuple(sum(each[label] for each in held) for label in shared),
        start_count=len(held),
    )


def other_weeks_sentence(found: OtherWeeks, named: Callable[[tuple[str, ...]], str]) -> Said:
    """Return the count of starts and, with its interval, of years.

    Parameters
    ----------
    named : writes some years, the rest counted
    """
    low, high = share_interval(found.always_count, len(found.labels))
    counted = {
        "held": sum(found.held_counts),
        "starts": len(found.labels) * found.start_count,
        "always": found.always_count,
        "count": len(found.labels),
        "low": 100 * low,
        "high": 100 * high,
    }
    sometimes = tuple(
        label for label, held in zip(found.labels, found.held_counts, strict=True) if held < found.start_count
    )
    if not sometimes:
        return said(
            "Begun one or two weeks earlier or later as well: {held} of {starts} starts hold; whatever the week, in {always} of "
            "{count} years ({low:.0f}-{high:.0f} %).",
            **counted,
        )
    return said(
        "Begun one or two weeks earlier or later as well: {held} of {starts} starts hold; whatever the week, in {always} of "
        "{count} years ({low:.0f}-{high:.0f} %), not in {years}.",
        years=named(sometimes),
        **counted,
    )

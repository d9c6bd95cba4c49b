"""How sure a count is: the exact interval of a share of runs, and the words for it."""

from __future__ import annotations

import math

from ampwright.said import Said, said

__all__ = ["count_text", "plain_chance", "plain_ratio", "share_interval"]

CONFIDENCE = 0.95
HALVINGS = 60
PLAIN_NUMBERS = (2, 3, 4, 5, 7, 10, 15, 20, 25, 30, 50, 100)


def share_interval(count: int, total: int, *, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """Return the shares between which the true one lies with this confidence.

    C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404: exact binomial limits, each with half of the rest.

    Examples
    --------
    >>> tuple(round(share, 3) for share in share_interval(47, 50))
    (0.835, 0.987)
    >>> tuple(round(share, 3) for share in share_interval(50, 50))
    (0.929, 1.0)
    """
    if not 0 <= count <= total or total < 1:
        message = f"{count} of {total} is no share"
        raise ValueError(message)
    tail = 0.5 * (1.0 - confidence)
    high = 1.0 if count == total else _share_where(count, total, tail)
    low = 0.0 if count == 0 else 1.0 - _share_where(total - count, total, tail)
    return low, high


def _share_where(count: int, total: int, tail: float) -> float:
    """Return the share of hits at which at most this many hits have the probability `tail`."""
    below, above = 0.0, 1.0
    for _ in range(HALVINGS):
        share = 0.5 * (below + above)
        if _at_most(count, total, share) > tail:
            below = share
        else:
            above = share
    return 0.5 * (below + above)


def _at_most(count: int, total: int, share: float) -> float:
    """Return the binomial probability of at most this many hits."""
    if share <= 0.0:
        return 1.0
    if share >= 1.0:
        return float(count >= total)
    logs = (
        math.lgamma(total + 1) - math.lgamma(k + 1) - math.lgamma(total - k + 1)
        + k * math.log(share) + (total - k) * math.log1p(-share)
        for k in range(count + 1)
    )  # fmt: skip
    return math.fsum(math.exp(value) for value in logs)


def count_text(count: int, total: int) -> Said:
    """Return a count of runs with its interval.

    Examples
    --------
    >>> count_text(47, 50)
    '47 of 50 runs (83-99 %)'
    """
    low, high = share_interval(count, total)
    return said(
        "{count} of {total} runs ({low:.0f}-{high:.0f} %)",
        count=count,
        total=total,
        low=100 * low,
        high=100 * high,
    )


def plain_chance(failed: int, total: int) -> Said:
    """Return how often something fails in words for a customer.

    Examples
    --------
    >>> plain_chance(0, 50), plain_chance(5, 50), plain_chance(25, 50)
    ('no failure seen in 50 trips reckoned', 'in about 1 trip in 10', 'in about 1 trip in 2')
    """
    if failed == 0:
        return said("no failure seen in {count} trips reckoned", count=total)
    if failed == total:
        return said("in every trip reckoned")
    trips, of_trips = plain_ratio(failed, total)
    if trips == 1:
        return said("in about 1 trip in {count}", count=of_trips)
    return said("in about {trips} trips in {count}", trips=trips, count=of_trips)


def plain_ratio(failed: int, total: int) -> tuple[int, int]:
    """Return how often something fails as people say it: 1 trip in so many, or so many trips in 10.

    Examples
    --------
    >>> plain_ratio(3, 50), plain_ratio(40, 50), plain_ratio(49, 50)
    ((1, 15), (8, 10), (9, 10))
    """
    share = failed / total
    return (min(round(10 * share), 9), 10) if share > 0.6 else (1, _rounded(1.0 / share))


def _rounded(number: float) -> int:
    """Return the nearest of the numbers people use."""
    gaps = {abs(math.log(choice / number)): choice for choice in PLAIN_NUMBERS}
    return gaps[min(gaps)]

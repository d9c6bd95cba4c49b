"""Figures of a job whose order is fixed: what is called lowest is not above what is called highest.

Only what is sure is complained of: of a range, the end that fits best counts.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.job.complaints import Complaints, Path
from ampwright.job.quantity import span
from ampwright.job.records import Job
from ampwright.units import symbol

__all__ = ["check_order"]

_MAY_BE_EQUAL = (("coldest_degc", "hottest_degc"), ("lowest_v", "voltage_v"), ("voltage_v", "highest_v"))
_MUST_DIFFER = (("min_v", "max_v"), ("open_v", "close_v"))


def check_order(job: Job, complaints: Complaints) -> None:
    """Complain of every figure that is above another one that must be the higher."""
    for path, table in _tables(job):
        for lower, upper in (*_MAY_BE_EQUAL, *_MUST_DIFFER):
            low, high = getattr(table, lower, None), getattr(table, upper, None)
            if low is None or high is None:
                continue
            lowest, highest = span(low)[0], span(high)[1]
            may_be_equal = (lower, upper) in _MAY_BE_EQUAL
            if lowest > highest or (lowest == highest and not may_be_equal):
                word = "above" if may_be_equal else "not below"
                unit = symbol(lower)
                said = f"{lowest:g} {unit} is {word} {upper}, {highest:g} {unit}; mend one of the two"
                complaints.add((*path, lower), said)


def _tables(job: Job) -> Iterator[tuple[Path, object]]:
    yield ("season",), job.season
    yield ("vehicle", "alternator"), job.vehicle.alternator
    yield ("vehicle", "second_alternator"), job.vehicle.second_alternator
    yield from ((("load", index), load) for index, load in enumerate(job.load))
    yield ("load_cutoff",), job.load_cutoff

"""Makes a sound set of cables less, step by step, and says how far nothing less is proved.

Runs share feeds, so one run's cable moves the voltage of others and no run can be chosen by itself. A sound set is
kept at every step: each run alone is made less, then, where few sets are less, all of these are tried, else each
pair of runs on a shared feed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from ampwright.sizing.cable_options import Options
from ampwright.sizing.cable_records import Proof

__all__ = ["CableSearch", "Chosen"]

Chosen = Mapping[int, int]
"""Number of the option of each run, by the run's index."""
HARDLY = 1e-9
"""Sums that differ by less are equal."""
MOST_SETS = 300
"""Where no more sets are less, all are tried (docs/choices.md#cable-set)."""
MOST_TRIES = 1500
"""Sets tried in one search (docs/choices.md#cable-set)."""


class CableSearch:
    """One search: the options, and what is known of sets."""

    def __init__(
        self,
        options: Options,
        is_sound: Callable[[Chosen], bool],
        shares_feed: Callable[[int, int], bool],
    ) -> None:
        """Begin with nothing tried."""
        self._options = options
        self._is_sound = is_sound
        self._shares_feed = shares_feed
        self._known: dict[tuple[int, ...], bool] = {}
        self._is_stopped = False

    @property
    def tries_count(self) -> int:
        """Sets tried."""
        return len(self._known)

    def least(self, start: Chosen) -> tuple[Chosen, Proof]:
        """Return a set that costs or weighs no more than a sound one, and how far nothing less is proved."""
        chosen = self._each_run(start)
        while not self._is_stopped:
            lesser = self._lesser(chosen)
            if lesser is not None:
                chosen = next(filter(self._holds, lesser), chosen)
                return chosen, "runs" if self._is_stopped else "least"
            better = next(filter(self._holds, self._pairs(chosen)), None)
            if better is None:
                return chosen, "runs" if self._is_stopped else "pairs"
            chosen = self._each_run(better)
        return chosen, "stopped"

    def _holds(self, chosen: Chosen) -> bool:
        key = tuple(chosen.values())
        if key not in self._known:
            if len(self._known) >= MOST_TRIES:
                self._is_stopped = True
                return False
            self._known[key] = self._is_sound(chosen)
        return self._known[key]

    def _total(self, chosen: Chosen) -> float:
        return sum(self._options[run][number].total for run, number in chosen.items())

    def _each_run(self, chosen: Chosen) -> Chosen:
        """Make each run as little as it can be while the others stay, until none can be less."""
        is_done = False
        while not is_done:
            is_done = True
            for run, options in self._options.items():
                now = options[chosen[run]].total - HARDLY
                lesser = ({**chosen, run: number} for number, each in enumerate(options) if each.total < now)
                better = next(filter(self._holds, lesser), None)
                if better is not None:
                    chosen, is_done = better, False
        return chosen

    def _pairs(self, chosen: Chosen) -> list[Chosen]:
        """Return the sets that are less and differ in two runs on a shared feed, the least first."""
        runs = list(chosen)
        found: list[tuple[float, Chosen]] = []
        for position, first in enumerate(runs):
            for second in runs[position + 1 :]:
                if self._shares_feed(first, second):
                    found += self._of_pair(chosen, first, second)
        return [each for _, each in sorted(found, key=_first)]

    def _of_pair(self, chosen: Chosen, first: int, second: int) -> Iterator[tuple[float, Chosen]]:
        one, other = self._options[first], self._options[second]
        now = one[chosen[first]].total + other[chosen[second]].total - HARDLY
        for number, option in enumerate(one):
            for another, with_it in enumerate(other):
                total = option.total + with_it.total
                if total < now and number != chosen[first] and another != chosen[second]:
                    yield total - now, {**chosen, first: number, second: another}

    def _lesser(self, chosen: Chosen) -> list[Chosen] | None:
        """Return every set that is less, the least first; None where there are more than are tried."""
        runs = list(chosen)
        rest = [0.0]  # least that the runs from a position on can be
        for run in reversed(runs):
            rest.insert(0, rest[0] + min(option.total for option in self._options[run]))
        most = self._total(chosen) - HARDLY
        found: list[tuple[float, Chosen]] = []
        begun: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
        while begun:
            total, numbers = begun.pop()
            if total + rest[len(numbers)] >= most:
                continue
            if len(numbers) == len(runs):
                found.append((total, dict(zip(runs, numbers, strict=True))))
                if len(found) > MOST_SETS:
                    return None
                continue
            options = self._options[runs[len(numbers)]]
            begun += [(total + each.total, (*numbers, number)) for number, each in enumerate(options)]
        return [each for _, each in sorted(found, key=_first)]


def _first(entry: tuple[float, Chosen]) -> float:
    return entry[0]

"""Other cables where those of the job fail: the starting set of the search, nothing in it worse than before."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity
from ampwright.sizing.cable_options import Options
from ampwright.sizing.cable_set import Chosen
from ampwright.sizing.next_size import BY_CABLE
from ampwright.sizing.standard import Standard, standard_of, worse
from ampwright.sizing.wiring_trial import Paths

__all__ = ["CableMender", "cable_failures", "present"]

OF_THE_PATH = frozenset({"feed-carries-load", "inverter-overload", "lowest-voltage"})
"""Rules on a voltage, to which every run on the way adds."""
MOST_RAISES = 60
"""Steps of one size tried for one failure (docs/choices.md#cable-set)."""


def present(options: Options) -> Chosen:
    """Return the set that the job has."""
    return {
        run: next(n for n, each in enumerate(each_run) if each.is_present)
        for run, each_run in options.items()
    }


def cable_failures(found: Assessment) -> tuple[Finding, ...]:
    """Return the failures that another cable may mend; what a person took on is none."""
    return tuple(f for f in found.findings if f.rule in BY_CABLE and f.severity == Severity.FAIL)


class CableMender:
    """Tries other cables for one failure after the other; nothing may become worse on the way."""

    def __init__(self, options: Options, assessed: Callable[[Chosen], Assessment], near: Paths) -> None:
        """Keep what it needs; `near` tells the runs between a source and what a finding speaks of."""
        self._options = options
        self._assessed = assessed
        self._near = near

    def mended(self, found: Assessment) -> Chosen:
        """Return a set with as many failures mended as could be, the present one where there are none."""
        chosen = present(self._options)
        given_up: set[tuple[str, str]] = set()
        while True:
            open_ones = [f for f in cable_failures(found) if _name(f) not in given_up]
            if not open_ones:
                return chosen
            better = self._without(open_ones[0], chosen, standard_of(found.findings))
            if better is None:
                given_up.add(_name(open_ones[0]))
            else:
                chosen, found = better, self._assessed(better)

    def _without(self, trouble: Finding, chosen: Chosen, standard: Standard) -> Chosen | None:
        """Return a set without one failure: with one run changed, or with runs raised step by step."""
        for tried in self._one_changed(trouble, chosen):
            if not self._left(trouble, tried, standard):
                return tried
        for _ in range(MOST_RAISES):
            left = self._left(trouble, chosen, standard)
            if not left:
                return chosen
            raised = self._raised(left[0], chosen)
            if raised is None:
                return None
            chosen = raised
        return None

    def _left(self, trouble: Finding, tried: Chosen, standard: Standard) -> list[Finding]:
        """Return the failure where it is still there, then what has become worse."""
        found = self._assessed(tried)
        return [f for f in cable_failures(found) if _name(f) == _name(trouble)] + list(
            worse(found.findings, standard)
        )

    def _one_changed(self, trouble: Finding, chosen: Chosen) -> Iterator[Chosen]:
        """Yield the sets with one run changed: those near the failure first, the least first."""
        path = self._near.by_subject.get(trouble.subject, ())
        near = [run for run in path if run in self._options]
        for runs in (near, [run for run in self._options if run not in near]):
            each = [
                (option.total - self._options[run][chosen[run]].total, run, number)
                for run in runs
                for number, option in enumerate(self._options[run])
                if number != chosen[run]
            ]
            yield from ({**chosen, run: number} for _, run, number in sorted(each))

    def _raised(self, finding: Finding, chosen: Chosen) -> Chosen | None:
        """Return the set with one run one size larger: of a path's voltage the thinnest, else the nearest."""
        path = [run for run in self._near.by_subject.get(finding.subject, ()) if run in self._options]
        larger = {run: number for run in path if (number := self._next_larger(run, chosen)) is not None}
        if not larger:
            return None
        run = next(iter(larger))
        if finding.rule in OF_THE_PATH:
            run = min(larger, key=lambda each: self._options[each][chosen[each]].cable.area_mm2)
        return {**chosen, run: larger[run]}

    def _next_larger(self, run: int, chosen: Chosen) -> int | None:
        options = self._options[run]
        now = options[chosen[run]].cable.area_mm2
        larger = [(each.cable.area_mm2, n) for n, each in enumerate(options) if each.cable.area_mm2 > now]
        return min(larger)[1] if larger else None


def _name(finding: Finding) -> tuple[str, str]:
    return finding.rule, finding.subject

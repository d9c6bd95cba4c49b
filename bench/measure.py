"""How the benches take times, and the line that each figure prints."""

from __future__ import annotations

import os
import statistics
import subprocess
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One measured figure, with its limit where it has one."""

    what: str
    value: float
    unit: str
    limit: float | None = None
    note: str = ""
    is_least: bool = False

    @property
    def is_failed(self) -> bool:
        if self.limit is None:
            return False
        return self.value < self.limit if self.is_least else self.value > self.limit

    def line(self) -> str:
        verdict = "" if self.limit is None else "FAIL" if self.is_failed else "pass"
        limit = "" if self.limit is None else f"{'at least' if self.is_least else 'at most'} {self.limit:g}"
        return f"{self.what:44} {self.value:9.2f} {self.unit:7} {limit:14} {verdict:5} {self.note}".rstrip()


def process_s(arguments: list[str], *, runs: int) -> float:
    """Median seconds of a whole process, with the byte code kept as an installed program keeps it."""
    space = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    times: list[float] = []
    for _ in range(runs):
        began = time.perf_counter()
        subprocess.run(
            arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False, env=space
        )
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def call_ms(function: Callable[[], object], *, runs: int) -> float:
    """Median milliseconds of a call, the first one not counted."""
    function()
    return statistics.median(_once_ms(function) for _ in range(runs))


def pairs_ratio(first: Callable[[], object], second: Callable[[], object], *, runs: int) -> float:
    """Median over pairs, taken in turn, of the time of the first call over that of the second."""
    first(), second()
    return statistics.median(_once_ms(first) / _once_ms(second) for _ in range(runs))


def _once_ms(function: Callable[[], object]) -> float:
    began = time.perf_counter()
    function()
    return 1000.0 * (time.perf_counter() - began)

"""Assessment -> every predicted reading of the finished build: the room's one public list."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.fieldwork.bench import bench_of
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.fieldwork.predicted_chargers import charger_tests
from ampwright.fieldwork.predicted_circuits import circuit_tests
from ampwright.fieldwork.predicted_system import system_tests

__all__ = ["predicted_tests"]


def predicted_tests(found: Assessment) -> tuple[PredictedTest, ...]:
    """Return every reading with its predicted value: the whole system, then circuits, then chargers."""
    bench = bench_of(found.design)
    return (*system_tests(found), *circuit_tests(found, bench), *charger_tests(found, bench))

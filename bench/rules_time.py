"""What one assessment costs: network, energy and rules, for the demonstration jobs and a large one."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from bench.large_job import large_job_text
from bench.measure import Figure, call_ms
from bench.start_up import EXAMPLES

from ampwright import api
from ampwright.assessment.assess import assess, studies_of
from ampwright.assessment.rules import RULES
from ampwright.energy.simulate import energy_result
from ampwright.network.box_air import box_air
from ampwright.network.solve import network_result

RULES_LIMIT_MS = 60.0
RUNS = 11


def rules_figures() -> Iterator[Figure]:
    """Yield the parts of an assessment of each job in milliseconds."""
    for job in sorted(EXAMPLES.glob("*.toml")):
        yield from _figures(job, limit_ms=None)
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "sixty-circuits.toml"
        job.write_text(large_job_text(), encoding="utf-8")
        yield from _figures(job, limit_ms=RULES_LIMIT_MS)


def _figures(job: Path, *, limit_ms: float | None) -> Iterator[Figure]:
    loaded = api.load(job)
    design, sun = loaded.design, loaded.sun
    warm, studies = studies_of(design, sun)
    path_ohm, peak_a = studies.network.path_ohm, studies.network.peak_a
    counts = Counter(finding.severity.name.lower() for finding in assess(design, sun).findings)
    circuits = sum(bool(run.devices) for run in design.runs)
    yield Figure(
        what=f"{job.stem}: all rules",
        value=call_ms(
            lambda: [finding for rule in RULES for finding in rule.check(warm, studies)], runs=RUNS
        ),
        unit="ms",
        limit=limit_ms,
        note=f"{len(design.runs)} runs, {circuits} with devices; "
        + ", ".join(f"{count} {name}" for name, count in sorted(counts.items())),
    )
    yield Figure(what="  network", value=call_ms(lambda: network_result(warm), runs=RUNS), unit="ms")
    energy_ms = call_ms(
        lambda: energy_result(warm, sun, path_ohm=path_ohm, box_air=box_air(warm, peak_a)), runs=RUNS
    )
    yield Figure(what="  energy", value=energy_ms, unit="ms")
    yield Figure(what="  whole assessment", value=call_ms(lambda: assess(design, sun), runs=RUNS), unit="ms")

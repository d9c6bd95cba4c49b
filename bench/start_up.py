"""How long the command line takes as a whole process, against bare Python in the same run."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from bench.measure import Figure, process_s

EXAMPLES = Path(__file__).parent.parent / "src" / "ampwright" / "examples"
COMMAND = [sys.executable, "-m", "ampwright.cli.main"]
HELP_LIMIT = 15.0
CHECK_LIMIT_S = 1.5


def start_up_figures() -> Iterator[Figure]:
    """Yield the times of `--help` and of a second check of each demonstration job."""
    bare_s = process_s([sys.executable, "-c", "pass"], runs=11)
    yield Figure(what="bare python", value=1000.0 * bare_s, unit="ms")
    help_s = process_s([*COMMAND, "--help"], runs=11)
    yield Figure(what="--help", value=help_s / bare_s, unit="x bare", limit=HELP_LIMIT)
    for job in sorted(EXAMPLES.glob("*.toml")):
        check = [*COMMAND, "check", str(job)]
        process_s(check, runs=1)
        check_s = process_s(check, runs=5)
        yield Figure(
            what=f"second check of {job.stem}",
            value=check_s,
            unit="s",
            limit=CHECK_LIMIT_S,
            note=f"{check_s / bare_s:.0f} x bare",
        )

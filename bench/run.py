"""Speed of the command line and of one assessment; ratios against a reference in the same run.

Run by `make bench`. Nothing here fails a build: the figures are for reading.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parent.parent
EXAMPLES = ROOT / "src" / "ampwright" / "examples"
COMMAND = [sys.executable, "-c", "from ampwright.cli.main import main; main()"]
HELP_LIMIT = 15.0
CHECK_LIMIT_S = 1.5


def process_s(arguments: list[str], *, runs: int) -> float:
    """Median seconds of a whole process."""
    times: list[float] = []
    for _ in range(runs):
        began = time.perf_counter()
        subprocess.run(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def call_ms(function: Callable[[], object], *, runs: int) -> float:
    """Median milliseconds of a call, the first one not counted."""
    function()
    times: list[float] = []
    for _ in range(runs):
        began = time.perf_counter()
        function()
        times.append(time.perf_counter() - began)
    return 1000.0 * statistics.median(times)


def main() -> None:
    """Print the figures."""
    bare_s = process_s([sys.executable, "-c", "pass"], runs=11)
    help_s = process_s([*COMMAND, "--help"], runs=11)
    print(f"bare python            {1000 * bare_s:8.1f} ms")
    print(
        f"--help                 {1000 * help_s:8.1f} ms  {help_s / bare_s:5.1f} x bare (at most {HELP_LIMIT:g})"
    )
    for job in sorted(EXAMPLES.glob("*.toml")):
        process_s([*COMMAND, "check", str(job)], runs=1)
        check_s = process_s([*COMMAND, "check", str(job)], runs=5)
        print(f"second check, whole    {check_s:8.2f} s   {job.stem} (at most {CHECK_LIMIT_S:g})")
    from ampwright import api
    from ampwright.assessment.assess import assess
    from ampwright.energy.simulate import energy_result
    from ampwright.network.solve import network_result

    for job in sorted(EXAMPLES.glob("*.toml")):
        loaded = api.load(job)
        design, sun = loaded.design, loaded.sun
        network = network_result(design)
        network_ms = call_ms(lambda: network_result(design), runs=21)  # noqa: B023 - called at once
        energy_ms = call_ms(
            lambda: energy_result(design, sun, path_ohm=network.path_ohm),  # noqa: B023
            runs=21,
        )
        whole_ms = call_ms(lambda: assess(design, sun), runs=21)  # noqa: B023
        rules_ms = whole_ms - network_ms - energy_ms
        print(
            f"{job.stem:24} network {network_ms:5.2f} ms  energy {energy_ms:5.2f} ms  "
            f"rules {rules_ms:5.2f} ms  assess {whole_ms:5.2f} ms"
        )


if __name__ == "__main__":
    main()

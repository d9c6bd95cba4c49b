"""Speed of command line, web app, network solution, energy step, rules and documents; ratios and limits. Run by `make bench`.

A figure beyond its limit is told; only `--strict` makes that an exit code, since times depend on the machine.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator

from bench.measure import Figure


def figures() -> Iterator[Figure]:
    """Yield every figure; whole processes first, before this one has grown."""
    from bench.start_up import start_up_figures

    yield from start_up_figures()
    from bench.web_time import web_figures

    yield from web_figures()
    from bench.rules_time import rules_figures
    from bench.solver import solver_figures

    yield from solver_figures()
    yield from rules_figures()
    from bench.documents_time import documents_figures

    yield from documents_figures()
    from bench.energy_time import energy_figures

    yield from energy_figures()


def main(arguments: list[str]) -> int:
    """Print the figures; 1 where one is beyond its limit and `--strict` is given."""
    failed = 0
    for figure in figures():
        print(figure.line(), flush=True)
        failed += figure.is_failed
    print(f"{failed} beyond their limits" if failed else "all within their limits")
    return int(failed > 0 and "--strict" in arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""A job of 60 circuits, made from a demonstration job: seven blocks of seven circuits more."""

from __future__ import annotations

from collections.abc import Iterator

from bench.start_up import EXAMPLES

BLOCK_COUNT = 7
CIRCUITS_PER_BLOCK = 7
BASE = "bicycle-repair-truck"
HOURS = ("08:00", "10:00", "12:30", "14:00")


def large_job_text() -> str:
    """Return the text of the job."""
    text = (EXAMPLES / f"{BASE}.toml").read_text(encoding="utf-8")
    text = text.replace(f'id = "{BASE}"', 'id = "sixty-circuits"', 1)
    return "\n".join((text, *_main_bar(), *(line for block in range(BLOCK_COUNT) for line in _block(block))))


def _main_bar() -> Iterator[str]:
    """A second bus bar on the first, from which the blocks are fed."""
    yield '[[part]]\nid = "blocks"\npart = "bus-600"\nzone = "battery-locker"'
    yield _run("W100", "bar", "blocks", cable="cable-1-0-awg", length_m=0.4, device="fuse-t-150")


def _block(block: int) -> Iterator[str]:
    """A bus bar in the tool room with its feed, its circuits and their loads."""
    bar = f"block-{block + 1}"
    yield f'[[part]]\nid = "{bar}"\npart = "bus-100"\nzone = "tool-room"'
    yield _run(f"W{110 + block}", "blocks", bar, cable="cable-6-awg", length_m=1.5, device="breaker-hm-50")
    for circuit in range(CIRCUITS_PER_BLOCK):
        number = CIRCUITS_PER_BLOCK * block + circuit
        load = f"tool-{number + 1}"
        length_m = 2.0 + 0.5 * circuit
        yield _run(
            f"W{200 + number}", bar, load, cable="cable-10-awg", length_m=length_m, device="breaker-hm-20"
        )
        start = HOURS[number % len(HOURS)]
        yield (
            f'[[load]]\nid = "{load}"\nname = "Tool charger {number + 1}"\npower_w = {20 + 5 * circuit}\n'
            f'behaves = "{("power", "current", "resistance")[number % 3]}"\npriority = "comfort"\n'
            f"min_v = 20\nmax_v = 32\n"
            f'when = [{{ start = "{start}", end = "{start[:2]}:50", duty_frac = 0.1, days = ["work"] }}]'
        )


def _run(run: str, start: str, end: str, *, cable: str, length_m: float, device: str) -> str:
    return (
        f'[[run]]\nid = "{run}"\nstart = "{start}"\nend = "{end}"\ncable = "{cable}"\nlength_m = {length_m}\n'
        f'zones = ["tool-room"]\ndevice = [{{ id = "F-{run}", part = "{device}", distance_m = 0.06 }}]'
    )

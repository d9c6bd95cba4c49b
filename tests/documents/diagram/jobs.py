"""Generated jobs of many circuits: radial ones, and ones with loops, all from one seed."""

import copy
import random
import tomllib

from materials import CASES


def base():
    return tomllib.loads((CASES / "base-12v" / "job.toml").read_text(encoding="utf-8"))


def run(name, start, end, *, cable="cable-4", device="breaker-hm-20"):
    return {
        "id": name, "start": start, "end": end, "cable": cable, "length_m": 3, "zones": ["bench"],
        "device": [{"id": f"F-{name}", "part": device, "distance_m": 0.06}],
    }  # fmt: skip


def load(name, words):
    return {
        "id": name, "name": words, "power_w": 20, "priority": "comfort", "min_v": 10, "max_v": 15.5,
        "when": [{"start": "10:00", "end": "11:00"}],
    }  # fmt: skip


NAMES = (
    "Lamp", "Water pump under the floor", "Radio with a long name and a display", "Fan", "Heater", "Charger for tools",
    "Winch", "Uninterruptedsupplyofmedicalinstruments",
)  # fmt: skip


def generated(seed, circuits, *, loops=0):
    """Return a job of so many more circuits on bars that hang on bars, with so many lines that close a loop."""
    chance = random.Random(seed)  # noqa: S311 - a test job, no secret
    raw = copy.deepcopy(base())
    bars = ["bar"]
    for number in range(circuits):
        start = chance.choice(bars)
        if chance.random() < 0.15:
            raw["part"].append({"id": f"bar-{number}", "part": "bus-100", "zone": "bench"})
            raw["run"].append(run(f"W{100 + number}", start, f"bar-{number}", cable="cable-16"))
            bars.append(f"bar-{number}")
            continue
        name = f"load-{number}" if chance.random() < 0.8 else f"load-with-a-very-long-name-{number}"
        raw["load"].append(load(name, f"{chance.choice(NAMES)} {number}"))
        raw["run"].append(run(f"W{100 + number}", start, name))
    ends = [*bars, "charger.in", "outputs.in", "inverter"]
    for number in range(loops):
        start, end = chance.sample(ends, 2)
        raw["run"].append(run(f"W{300 + number}", start, end))
    return raw

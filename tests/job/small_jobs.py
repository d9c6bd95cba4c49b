"""A small job of two loads behind one long feed, so that each cable moves the voltage of the other load."""

from job_files import starting

RUNS = ("W1", "W6", "W7")
PLACED = ("battery", "bar")


def two_loads_on_a_feed(*, cable="cable-6", min_v=11.6):
    """Return the tables of the job; all runs alike, every device small enough for the thinnest cable."""
    raw = starting()
    raw["part"] = [part for part in raw["part"] if part["id"] in PLACED]
    raw["run"] = [run for run in raw["run"] if run["id"] in RUNS]
    raw["load"] = [load for load in raw["load"] if load["id"] in {"lights", "laptop"}]
    raw["use"]["days"] = ["stay"]
    raw.pop("setting")
    raw["part"][0]["part"] = "lfp-50"
    for run, length_m, end in zip(raw["run"], (1, 3, 2), ("bar", "laptop", "lights"), strict=True):
        run |= {"cable": cable, "length_m": length_m, "end": end}
        run["device"][0]["part"] = "breaker-hm-20" if run["id"] == "W1" else "fuse-c-10"
    for load in raw["load"]:
        load |= {"power_w": 60, "min_v": min_v, "count": 1}
        load.pop("peak_w", None)
    return raw

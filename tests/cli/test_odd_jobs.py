"""Jobs that are valid but odd: they get two verdicts and a report, or a refusal in words; nothing breaks."""

import dataclasses
import json
import runpy
from pathlib import Path
from typing import get_origin

import pytest
from job_files import put, saved, starting, van
from runs import ampwright

from ampwright import api
from ampwright.field_types import hint_at, options
from ampwright.job.quantity import Unknown
from ampwright.job.records import Job

ODD = {}
CLIMATE = runpy.run_path(str(Path(__file__).parents[1] / "climate" / "test_sources.py"))
OWN = {"name": "Far away", "longitude_deg": 15.0, "utc_offset_h": 1}
NORTH = [0, 0.0, 0.9, 3, 5, 6, 5, 3, 1, 0.1, 0, 0]


def odd(change):
    ODD[change.__name__] = change
    return change


def without(raw, **ids):
    for table, names in ids.items():
        raw[table] = [row for row in raw[table] if row["id"] not in names]


def mains(part, zone="bench"):
    part = {"id": "mains", "part": part, "zone": zone}
    device = [{"id": "Q9", "part": "breaker-hm-30", "distance_m": 0.05}]
    run = {
        "id": "W9",
        "start": "bar",
        "end": "mains.out",
        "cable": "cable-10",
        "length_m": 1,
        "device": device,
    }
    return part, run


@odd
def no_alternator(raw):
    del raw["vehicle"]["alternator"]


@odd
def alternator_without_starter_battery(raw):
    del raw["vehicle"]["starter_battery"]
    without(raw, run=["W2"])


@odd
def no_loads(raw):
    raw["load"] = []
    without(raw, run=["W6", "W7", "W8"])


@odd
def no_runs(raw):
    raw["run"] = []


@odd
def battery_alone(raw):
    for table in ("run", "load", "setting", "zone", "bond"):
        raw[table] = []
    raw["part"] = [{"id": "battery", "part": "lfp-100"}]
    raw["vehicle"] = {"description": "Box", "system_v": 12}
    del raw["load_cutoff"]


@odd
def trailer_alone(raw):
    del raw["vehicle"]["alternator"], raw["vehicle"]["starter_battery"]
    without(raw, run=["W2", "W3"], part=["charger"])
    raw["setting"] = raw["setting"][1:]
    for table in ("part", "run", "load"):
        for row in raw[table]:
            row["part_of"] = "trailer"
    for day in raw["day"]:
        day["is_trailer_attached"] = True


@odd
def everything_on_a_trailer_never_attached(raw):
    for table in ("part", "run", "load"):
        for row in raw[table]:
            row["part_of"] = "trailer"


@odd
def body_left_behind(raw):
    for table in ("part", "run", "load"):
        for row in raw[table]:
            row["part_of"] = "body"
    raw["day"][1]["is_body_attached"] = False


@odd
def four_hundred_days(raw):
    raw["use"]["days"] = ["200 x drive", "200 x stay"]


@odd
def one_day(raw):
    raw["use"]["days"] = ["stay"]


@odd
def vehicle_of_24_v_with_12_v_battery(raw):
    raw["vehicle"]["system_v"] = 24


@odd
def battery_of_24_v_with_12_v_loads(raw):
    raw["part"][0]["part"] = "lfp-200-24v"


@odd
def two_batteries_in_series(raw):
    raw["part"][0] |= {"in_series": 2, "strings": 2, "string_device": "fuse-t-100"}


@odd
def lead_acid(raw):
    raw["part"][0]["part"] = "agm-100"


@odd
def flooded(raw):
    raw["part"][0]["part"] = "flooded-90"


@odd
def duty_of_zero(raw):
    for load in raw["load"][1:]:
        load["when"] = [{"start": "10:00", "end": "11:00", "duty_frac": 0}]


@odd
def tiny_loads(raw):
    for load in raw["load"][1:]:
        load["power_w"] = 1e-9


@odd
def loads_of_a_power_station(raw):
    for load in raw["load"][1:]:
        load |= {"power_w": 9e8, "peak_w": 9e8, "count": 10_000}


@odd
def polar_night(raw):
    raw["place"] = {
        **OWN,
        "latitude_deg": 80,
        "ghi_kwh_m2_day": NORTH,
        "max_degc": [-10] * 12,
        "min_degc": [-20] * 12,
    }
    raw["season"] |= {"month": 12, "coldest_degc": -40}


@odd
def at_the_pole(raw):
    raw["place"] = {
        **OWN,
        "latitude_deg": -90,
        "ghi_kwh_m2_day": [0] * 12,
        "max_degc": [-10] * 12,
        "min_degc": [-90] * 12,
    }
    raw["season"]["coldest_degc"] = -89


@odd
def winter_of_ninety_days(raw):
    """Its battery lies empty in the cold for weeks, a panel at dawn giving thousandths of a watt."""
    raw["season"]["month"] = 11
    raw["use"]["days"] = ["drive", "88 x stay", "drive"]


@odd
def hot_desert(raw):
    raw["place"] = {
        **OWN,
        "latitude_deg": 0,
        "ghi_kwh_m2_day": [7] * 12,
        "max_degc": [60] * 12,
        "min_degc": [59] * 12,
    }
    raw["season"]["hottest_degc"] = 60


@odd
def hooked_up_without_a_charger(raw):
    for day in raw["day"]:
        day["otherwise"] = "hooked-up"


@odd
def hooked_up(raw):
    part, run = mains("mains-20")
    raw["day"][1]["otherwise"] = "hooked-up"
    raw["part"].append(part)
    raw["run"].append(run)


@odd
def inverter_not_wired(raw):
    raw["part"].append({"id": "inv", "part": "inv-1000"})
    raw["load"].append({"id": "kettle", "name": "Kettle", "power_w": 900, "through": "inv"})


@odd
def stored_all_the_time(raw):
    raw["day"] = [{"id": "park", "otherwise": "stored"}]
    raw["use"]["days"] = ["30 x park"]
    raw["load"][2]["when"] = []


@odd
def driving_all_day(raw):
    raw["day"][0]["period"] = [{"start": "00:00", "end": "24:00", "state": "road"}]


@odd
def us_units(raw):
    raw["job"] |= {"units": "us", "region": "us-ca"}


@odd
def no_zones(raw):
    raw["zone"] = []
    for row in (*raw["part"], *raw["load"], *raw["run"]):
        row.pop("zone", None)
        row.pop("zones", None)


@odd
def cables_of_no_length(raw):
    for run in raw["run"]:
        run["length_m"] = 1e-6
        for device in run.get("device", ()):
            device["distance_m"] = 0


@odd
def cables_of_a_thousand_kilometres(raw):
    for run in raw["run"]:
        run["length_m"] = 1e6


@odd
def return_by_the_chassis(raw):
    for run in raw["run"]:
        run["back"] = "chassis"


@odd
def runs_the_wrong_way_round(raw):
    for run in raw["run"]:
        run["start"], run["end"] = run["end"], run["start"]


@odd
def a_loop_of_cable(raw):
    raw["run"].append({"id": "W9", "start": "fridge", "end": "lights", "cable": "cable-10", "length_m": 1})


@odd
def starter_battery_on_the_bar(raw):
    raw["run"].append(
        {"id": "W9", "start": "starter-battery", "end": "bar", "cable": "cable-25", "length_m": 4}
    )


@odd
def panel_on_the_bar(raw):
    raw["run"][4]["end"] = "bar"


@odd
def battery_never_charged(raw):
    raw["season"]["sun_factor"] = 0
    raw["use"] |= {"start_soc_frac": 0, "reserve_frac": 1}


@odd
def settings_of_nonsense(raw):
    names = ("charge_v", "float_v", "output_limit_a", "input_limit_a", "start_v", "stop_v", "idle_limit_a")
    raw["setting"] = [
        {"part": "charger", **dict.fromkeys(names, 1e-6)},
        {"part": "controller", "charge_v": 9e8},
    ]
    raw["load_cutoff"] = {"open_v": 1, "close_v": 100, "delay_s": 1e8}


@odd
def alternator_of_nothing(raw):
    names = ("rating_a", "voltage_v", "lowest_v", "highest_v")
    raw["vehicle"]["alternator"] |= {**dict.fromkeys(names, 1e-6), "hot_road_frac": 0, "hot_idle_frac": 0}


@odd
def fridge_beyond_all_reason(raw):
    raw["load"][0] |= {
        "count": 3,
        "set_degc": 1500,
        "draw_factor": 1e8,
        "contents_low_degc": -50,
        "contents_high_degc": -40,
    }


@odd
def signs_in_names(raw):
    raw["job"]["title"] = "[bold]x[/bold] [/] #strong[x] $x$ \\ \u0007 \u202e"
    raw["load"][0]["name"] = "[red]#x[/] <b>&amp;"


def with_all_unknown(value, path=()):
    """Turn every figure that may be unknown into a range of a tenth around it."""
    if isinstance(value, dict):
        if "unknown" in value:
            return value
        return {key: with_all_unknown(item, (*path, key)) for key, item in value.items()}
    if isinstance(value, list):
        return [with_all_unknown(item, (*path, index)) for index, item in enumerate(value)]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    if not any(get_origin(option) is Unknown for option in options(hint_at(Job, path))):
        return value
    low, high = (0, 0.1) if value == 0 else sorted((0.9 * value, 1.1 * value))
    return {"unknown": [low, min(high, 1.0) if path[-1].endswith("_frac") else high]}


def verdicts(path):
    answer = api.check(path)
    assert answer.use_verdict in {"suits", "suits with conditions", "does not suit"}
    assert answer.wiring_verdict in {"no fault found", "not fully checked", "do not energise"}
    assert all(dataclasses.is_dataclass(finding) for finding in answer.assessment.findings)
    return answer


@pytest.mark.parametrize("name", ODD)
def test_odd_jobs_get_two_verdicts(tmp_path, name):
    raw = starting()
    ODD[name](raw)
    verdicts(saved(tmp_path, raw))


@pytest.mark.parametrize(
    "name", ["battery_alone", "no_loads", "signs_in_names", "us_units", "four_hundred_days"]
)
def test_odd_jobs_get_a_report(tmp_path, name):
    raw = starting()
    ODD[name](raw)
    assert api.report(verdicts(saved(tmp_path, raw))).startswith(b"%PDF-")


@pytest.mark.parametrize("job", [starting, van])
def test_everything_unknown(tmp_path, job):
    raw = with_all_unknown(job())
    for load in raw["load"]:
        load.pop("peak_w", None)
    answer = verdicts(saved(tmp_path, raw))
    assert len(answer.questions) == 3


@pytest.mark.parametrize(
    "change",
    [
        ("options", ["mains-charger"]),
        ("change", [{"part": "bar", "becomes": "bus-100", "reason": "at hand"}]),
    ],
)
def test_a_module_with_an_option_or_a_change(tmp_path, change):
    verdicts(saved(tmp_path, put(van(), "module", *change)))


@pytest.mark.parametrize("days", [["stay"], ["drive", "3 x stay"], ["366 x stay", "34 x drive"]])
def test_a_year_of_hours_as_weather(tmp_path, days):
    path = tmp_path / "place.epw"
    path.write_text(CLIMATE["epw_text"](), encoding="utf-8")
    raw = put(starting(), "use", "days", days)
    raw["place"] = {"weather_file": "place.epw"}
    raw["season"] |= {"month": 12, "first_day": 31}
    assert "place.epw" in " ".join(verdicts(saved(tmp_path, raw)).assumptions)


@pytest.mark.parametrize("name", ["battery_alone", "polar_night", "signs_in_names"])
def test_odd_jobs_through_the_command(tmp_path, name):
    raw = starting()
    ODD[name](raw)
    path = saved(tmp_path, raw)
    done = ampwright("check", path, "--all")
    assert done.returncode in {0, 1, 3, 4}
    assert done.stderr == ""
    assert "FIT FOR THE USE" in done.stdout
    assert json.loads(ampwright("check", path, "--json").stdout)["job"] == "my-van"

"""Every complaint about a job is provoked once: place, line, words and way out."""

import pytest
from job_files import EXAMPLES, design_of, example_text, position, problems_of, put, saved, starting, van

from ampwright.errors import JobError
from ampwright.job.load import load_definition, load_job
from ampwright.job.resolve import resolve
from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import shipped_catalogue

RAW = starting()
RUN = {run["id"]: index for index, run in enumerate(RAW["run"])}
LOAD = {load["id"]: index for index, load in enumerate(RAW["load"])}
PART = {part["id"]: index for index, part in enumerate(RAW["part"])}
LAPTOP, LIGHTS, FRIDGE = LOAD["laptop"], LOAD["lights"], LOAD["fridge"]
TWELVE = [2.5] * 12
OWN = {"latitude_deg": 45.0, "longitude_deg": 9.0, "max_degc": [20.0] * 12, "min_degc": [10.0] * 12}
OUTPUTS = {"id": "outs", "part": "out-8", "zone": "bench"}
KETTLE = {"id": "kettle", "name": "Kettle", "power_w": 900}
NEW_RUN = {"id": "W20", "start": "bar", "end": "charger.in", "cable": "cable-10", "length_m": 2}

# (path and value put into the starting job, place said, words said, text in the line said)
CASES = {
    # names that lead nowhere
    "part": (("part", 1, "part", "bus-10"), "part 'bar' > part", "no part 'bus-10' in the catalogue; did you mean 'bus-100'", "bus-10"),
    "part zone": (("part", 1, "zone", "bensh"), "part 'bar' > zone", "no zone 'bensh'; did you mean 'bench'?", "bensh"),
    "part string device": (("part", 0, "string_device", "bus-100"), "part 'battery' > string_device", "'bus-100' is of kind bus-bar; a fuse or breaker is needed", "string_device"),
    "run start": (("run", 0, "start", "batery"), "run 'W1' > start", "no node 'batery'; did you mean 'battery'", "batery"),
    "run end": (("run", RUN["W2"], "end", "charger"), "run 'W2' > end", "no node 'charger'; it has charger.in, charger.out", '"charger"'),
    "run cable": (("run", 0, "cable", "cable-24"), "run 'W1' > cable", "no part 'cable-24' in the catalogue; a cable is needed: did you mean 'cable-", "cable-24"),
    "run cable kind": (("run", 0, "cable", "fuse-t-100"), "run 'W1' > cable", "'fuse-t-100' is of kind fuse; a cable is needed", "cable"),
    "run back cable": (("run", 0, "back_cable", "wire"), "run 'W1' > back_cable", "a cable is needed: known: 'cable-", "back_cable"),
    "run zone": (("run", 0, "zones", ["bench", "attic"]), "run 'W1' > zones number 2", "no zone 'attic'; known: 'bench', 'engine-bay', 'roof'", "attic"),
    "run plug": (("run", 0, "plugs", ["plug-51"]), "run 'W1' > plugs number 1", "a plug is needed: did you mean 'plug-50'", "plug-51"),
    "run device": (("run", 0, "device", 0, "part", "fuse-t-101"), "run 'W1' > device 'F1' > part", "a fuse, breaker or isolator is needed: did you mean 'fuse-t-1", "fuse-t-101"),
    "run round": (("run", 0, "end", "battery"), "run 'W1' > end", "run 'W1' starts and ends at the same node", "end"),
    "load part": (("load", FRIDGE, "part", "fridge-46"), "load 'fridge' > part", "a refrigerator is needed: did you mean 'fridge-4", "fridge-46"),
    "load zone": (("load", LAPTOP, "zone", "x"), "load 'laptop' > zone", "no zone 'x'; known:", "zone"),
    "load at": (("load", LAPTOP, "at", "desk"), "load 'laptop' > at", "no node 'desk'", "desk"),
    "load through": (("load", LAPTOP, "through", "bar"), "load 'laptop' > through", "no inverter 'bar'; none is defined", "through"),
    "load day": (("load", LAPTOP, "when", 0, "days", ["stai"]), "load 'laptop' > when number 1 > days number 1", "no day plan 'stai'; did you mean 'stay'?", "stai"),
    "use day without x": (("use", "days", ["3 stay"]), "use > days number 1", "no day plan '3 stay'; write '3 x stay' for 3 such days", "3 stay"),
    "use day": (("use", "days", ["3 x stya"]), "use > days number 1", "no day plan 'stya'; did you mean 'stay'?", "stya"),
    "setting": (("setting", 0, "part", "chargr"), "setting number 1 > part", "no part 'chargr'; did you mean 'charger'?", "chargr"),
    "channel module": (("channel", [{"module": "bar", "number": 1, "name": "x"}]), "channel number 1 > module", "no output module 'bar'; none is defined", "module"),
    "site": (("place", "site", "potsdam"), "place > site", "no site 'potsdam'; did you mean 'potsdam-de'", "potsdam"),
    "enclosure": (("part", 1, "inside", "crate"), "part 'bar' > inside", "no enclosure 'crate' is placed; known: 'box'", "inside"),
    "no enclosure": (("part", 1, "inside", "battery"), "part 'bar' > inside", "'battery' is no enclosure", "inside"),
    # the same name twice, or a name that is none
    "two parts": (("part", 1, "id", "battery"), "part 'battery' > id", "'battery' is already the id of a part; ids must differ", "battery"),
    "part and load": (("load", LAPTOP, "id", "bar"), "load 'bar' > id", "'bar' is already the id of a part", "bar"),
    "two runs": (("run", 1, "id", "W1"), "run 'W1' > id", "'W1' is already the id of a run", "W1"),
    "two devices": (("run", 0, "device", 1, "id", "F1"), "run 'W1' > device 'F1' > id", "'F1' is already the id of a device", "F1"),
    "starter node": (("part", 1, "id", "starter-battery"), "part 'starter-battery' > id", "already the id of a starter battery", "starter-battery"),
    "two zones": (("zone", 1, "id", "bench"), "zone 'bench' > id", "'bench' is used twice; ids must differ", "bench"),
    "two days": (("day", 1, "id", "drive"), "day 'drive' > id", "'drive' is used twice; ids must differ", "drive"),
    "two settings": (("setting", 1, "part", "charger"), "setting number 2 > part", "'charger' is set twice", "charger"),
    "job id": (("job", "id", "../van"), "job > id", "'../van' is no id; use 1 to 60 letters, digits, '-' and '_', no space", "../van"),
    "part id": (("part", 1, "id", "bar.in"), "part 'bar.in' > id", "'bar.in' is no id", "bar.in"),
    "load id": (("load", LAPTOP, "id", ""), "load number 3 > id", "'' is no id", "id"),
    "long id": (("load", LAPTOP, "id", "a" * 61), f"load '{'a' * 60}' > id", "is no id; use 1 to 60", "aaa"),
    "zone id": (("zone", 2, "id", "the roof"), "zone 'the roof' > id", "'the roof' is no id", "the roof"),
    "day id": (("day", 1, "id", "3 x stay"), "day '3 x stay' > id", "'3 x stay' is no id", "3 x stay"),
    # figures that contradict each other
    "device beyond": (("run", 0, "device", 0, "distance_m", 0.6), "run 'W1' > device 'F1' > distance_m", "0.6 m is beyond the run's length of 0.5 m", "0.6"),
    "ranges cross": (("run", 0, "length_m", {"unknown": [0.2, 2.0]}), "run 'W1' > device 'S1' > distance_m", "0.3 m is beyond the run's length of 0.2 m", "device"),
    "peak": (("load", LAPTOP, "peak_w", 10), "load 'laptop' > peak_w", "10 W is below the power of 60 W", "peak_w"),
    "peak range": (("load", LAPTOP, "power_w", {"unknown": [50, 90]}), "load 'laptop' > peak_w", "80 W is below the power of 90 W", "peak_w"),
    "no power": (("load", LAPTOP, "power_w", None), "load 'laptop' > power_w", "load 'laptop' needs power_w, or the part of a refrigerator", "load"),
    "power twice": (("load", FRIDGE, "power_w", 50), "load 'fridge' > power_w", "a refrigerator's power is its part's; remove power_w or part", "power_w"),
    "contents": (("load", FRIDGE, {**RAW["load"][FRIDGE], "contents_low_degc": 8, "contents_high_degc": 2}), "load 'fridge' > contents_low_degc", "8 degC is not below contents_high_degc, 2 degC", "contents_low_degc"),
    "uses alone": (("load", LAPTOP, "when", [{"uses": 2}]), "load 'laptop' > when number 1", "give uses and use_minutes together", "uses"),
    "uses too long": (("load", LAPTOP, "when", [{"start": "10:00", "end": "10:30", "uses": 4, "use_minutes": 10}]), "load 'laptop' > when number 1 > uses", "40 minutes of use do not fit between 10:00 and 10:30", "uses"),
    "reversed": (("vehicle", "alternator", "rating_a", "unknown", [150, 90]), "vehicle > alternator > rating_a > unknown", "150 is not below 90; write [low, high]", "rating_a"),
    "likely": (("vehicle", "alternator", "rating_a", "likely", 160), "vehicle > alternator > rating_a > likely", "160 lies outside the range", "rating_a"),
    "hot below cold": (("season", "hottest_degc", -35), "season > coldest_degc", "0 °C is above hottest_degc, -35 °C; mend one of the two", "coldest_degc"),
    "alternator low": (("vehicle", "alternator", "lowest_v", 15), "vehicle > alternator > lowest_v", "15 V is above voltage_v, 14.2 V", "lowest_v"),
    "alternator high": (("vehicle", "alternator", "highest_v", 14), "vehicle > alternator > voltage_v", "14.2 V is above highest_v, 14 V", "voltage_v"),
    "load's voltages": (("load", LAPTOP, "min_v", 15.5), "load 'laptop' > min_v", "15.5 V is not below max_v, 15.5 V", "min_v"),
    "cut-off": (("load_cutoff", "open_v", 13.8), "load_cutoff > open_v", "13.8 V is not below close_v, 12.8 V", "open_v"),
    # clock and days
    "clock": (("load", LAPTOP, "when", 0, "start", "25:00"), "load 'laptop' > when number 1 > start", "'25:00' is no clock time; write it like \"06:30\"", "25:00"),
    "dusk": (("load", LAPTOP, "when", 0, "start", "dusk"), "load 'laptop' > when number 1 > start", "'dusk' is no clock time; write it like \"06:30\", at most \"24:00\", or \"sunset\", \"sunrise+0:30\"", "dusk"),
    "period clock": (("day", 0, "period", 0, "end", "noon"), "day 'drive' > period number 1 > end", "'noon' is no clock time", "noon"),
    "no length": (("load", LAPTOP, "when", 0, "end", "18:00"), "load 'laptop' > when number 1 > end", "the stretch has no length; start and end are the same", "18:00"),
    "midnight twice": (("day", 0, "period", [{"start": "24:00", "end": "00:00", "state": "road"}]), "day 'drive' > period number 1 > end", "the stretch has no length", "24:00"),
    "overlap": (("day", 0, "period", 1, {"start": "11:00", "end": "13:00", "state": "idle"}), "day 'drive' > period number 2 > start", "overlaps the period 'road'; a day can be in one state at a time", "11:00"),
    "overlap at night": (("day", 0, "period", 1, {"start": "22:00", "end": "09:30", "state": "idle"}), "day 'drive' > period number 2 > start", "overlaps the period 'road'", "22:00"),
    "repeat": (("use", "days", ["stay", "0 x stay"]), "use > days number 2", "'0 x stay' repeats a day too often; 1 to 366 times", "0 x stay"),
    "too many days": (("use", "days", ["366 x stay", "35 x stay"]), "use > days", "401 days; at most 400 can be calculated", "366"),
    "day of month": (("season", "first_day", 31), "season > first_day", "June has 30 days", "first_day"),
    # parts that do not belong where they are
    "fuse placed": (("part", 1, "part", "fuse-t-100"), "part 'bar' > part", "'fuse-t-100' is a fuse; name it as a device of a run", "fuse-t-100"),
    "breaker placed": (("part", 1, "part", "breaker-hm-20"), "part 'bar' > part", "is a circuit breaker; name it as a device of a run", "breaker-hm-20"),
    "isolator placed": (("part", 1, "part", "isolator-150"), "part 'bar' > part", "is an isolator; name it as a device of a run", "isolator-150"),
    "cable placed": (("part", 1, "part", "cable-25"), "part 'bar' > part", "is cable; name it in a run", "cable-25"),
    "plug placed": (("part", 1, "part", "plug-50"), "part 'bar' > part", "is a plug; name it in the plugs of a run", "plug-50"),
    "fridge placed": (("part", 1, "part", "fridge-45"), "part 'bar' > part", "is a refrigerator; name it as the part of a load", "fridge-45"),
    "second battery": (("part", 5, {"id": "spare", "part": "agm-100"}), "part 'spare' > part", "'spare' is a second auxiliary battery beside 'battery'", "agm-100"),
    "no battery": (("part", 0, "part", "bus-100"), "part", "no battery is placed; add one, e.g. part = 'lfp-100'", "[["),
    "strings": (("part", 0, "strings", 21), "part 'battery' > strings", "21 strings of batteries; at most 20 can be calculated", "strings"),
    # place
    "no place": (("place", {}), "place", "give one of: site, weather_file, or latitude_deg", '["place"]'),
    "two places": (("place", "weather_file", "year.epw"), "place", "give one of: site, weather_file", '["place"]'),
    "half a place": (("place", {"latitude_deg": 40.0}), "place", "own figures also need longitude_deg, ghi_kwh_m2_day, max_degc, min_degc", '["place"]'),
    "too sunny": (("place", {**OWN, "ghi_kwh_m2_day": [30.0] * 12}), "place > ghi_kwh_m2_day", "30 is impossible; at latitude 45", "ghi_kwh_m2_day"),
    "cold maximum": (("place", {**OWN, "ghi_kwh_m2_day": [1.0] * 12, "min_degc": [25.0] * 12}), "place > max_degc", "20 °C is below min_degc 25 °C", "max_degc"),
    "weather name": (("place", {"weather_file": "a\nb"}), "place > weather_file", "a file name cannot hold a control character", "weather_file"),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_each_complaint_says_place_line_and_way_out(tmp_path, case):
    change, place, words, line_text = CASES[case]
    problems, lines = problems_of(saved(tmp_path, put(starting(), *change)))
    told = [problem for problem in problems if problem.path == place and words in problem.message]
    assert told, [str(problem) for problem in problems]
    assert line_text in lines[told[0].line]


def test_what_names_a_part_that_is_not_found_is_not_complained_of_again(tmp_path):
    for wrong in ("lfp-100x", "fridge-45"):
        problems, _ = problems_of(saved(tmp_path, put(starting(), "part", 0, "part", wrong)))
        assert [problem.path for problem in problems] == ["part 'battery' > part"]
    wrong_charger = put(starting(), "part", PART["charger"], "part", "dcdc-12-41")
    assert [problem.path for problem in problems_of(saved(tmp_path, wrong_charger))[0]] == [
        "part 'charger' > part"
    ]


def test_ranges_that_only_may_cross_are_no_problem(tmp_path):
    job = put(starting(), "vehicle", "alternator", "lowest_v", {"unknown": [13.0, 14.8]})
    assert design_of(saved(tmp_path, job)).vehicle.has_alternator


# several changes at once: (changes, place, words)
WIDER_CASES = {
    "AC load at a node": (
        [
            ("part", 5, {"id": "inv", "part": "inv-300"}),
            ("load", 3, {**KETTLE, "through": "inv", "at": "bar"}),
        ],
        "load 'kettle' > at",
        "an AC load (with 'through') has no DC node; remove one of the two",
    ),
    "AC refrigerator": (
        [("part", 5, {"id": "inv", "part": "inv-300"}), ("load", FRIDGE, "through", "inv")],
        "load 'fridge' > through",
        "a DC refrigerator is not fed through an inverter; remove 'through'",
    ),
    "channel number": (
        [("part", 5, OUTPUTS), ("channel", [{"module": "outs", "number": 99, "name": "x"}])],
        "channel number 1 > number",
        "'outs' has channels 1 to 8",
    ),
    "channel twice": (
        [("part", 5, OUTPUTS), ("channel", [{"module": "outs", "number": 2, "name": name} for name in "ab"])],
        "channel number 2 > number",
        "channel 2 of 'outs' is named twice",
    ),
}


@pytest.mark.parametrize("case", WIDER_CASES)
def test_complaints_that_need_several_changes(tmp_path, case):
    changes, place, words = WIDER_CASES[case]
    raw = starting()
    for change in changes:
        put(raw, *change)
    problems, _ = problems_of(saved(tmp_path, raw))
    assert [(p.path, p.line is not None) for p in problems if words in p.message] == [(place, True)]


def test_too_many_nodes(tmp_path):
    raw = starting()
    raw["load"] += [{**KETTLE, "id": f"k{number}"} for number in range(2000)]
    problems, _ = problems_of(saved(tmp_path, raw))
    assert ["electrical nodes; at most 2000 can be calculated" in each.message for each in problems] == [True]


def test_all_problems_come_at_once_in_the_order_of_the_file(tmp_path):
    raw = starting()
    for change in (
        ("load", LAPTOP, "zone", "x"),
        ("use", "days", ["nowhere"]),
        ("run", 0, "cable", "y"),
        ("part", 1, "part", "z"),
        ("place", "site", "q"),
    ):
        put(raw, *change)
    problems, _ = problems_of(saved(tmp_path, raw))
    places = [problem.path for problem in problems]
    wanted = [
        "place > site",
        "use > days number 1",
        "part 'bar' > part",
        "run 'W1' > cable",
        "load 'laptop' > zone",
    ]
    assert [place for place in places if place in wanted] == wanted
    lines = [problem.line for problem in problems]
    assert lines == sorted(lines)


def test_a_wrong_cable_hides_no_other_name_of_its_run(tmp_path):
    raw = starting()
    for change in (
        ("run", 1, "cable", "cable-52"),
        ("run", 1, "zones", ["benhc"]),
        ("run", 1, "plugs", ["plgu"]),
        ("run", 1, "device", 0, "part", "fus"),
    ):
        put(raw, *change)
    problems, _ = problems_of(saved(tmp_path, raw))
    assert {problem.path for problem in problems} == {
        "run 'W2' > cable",
        "run 'W2' > zones number 1",
        "run 'W2' > plugs number 1",
        "run 'W2' > device 'F2' > part",
    }


def test_a_job_without_a_file_is_refused_without_lines(tmp_path):
    loaded = load_job(saved(tmp_path, put(starting(), "run", 0, "cable", "y")))
    with pytest.raises(JobError) as caught:
        resolve(loaded.job, shipped_catalogue())
    assert [problem.line for problem in caught.value.problems] == [None]
    assert caught.value.file == "job"


@pytest.mark.parametrize("name", EXAMPLES)
def test_shipped_jobs_are_resolved(tmp_path, name):
    design = design_of(saved(tmp_path, example_text(name)))
    assert isinstance(design.parts[design.battery].part, Battery)
    assert design.battery_part().nominal_v == design.system_v
    assert [part.index for part in design.parts] == list(range(len(design.parts)))
    assert [load.index for load in design.loads] == list(range(len(design.loads)))
    assert all(isinstance(run.cable, Cable) for run in design.runs)
    assert all(0 <= end < len(design.nodes) for run in design.runs for end in (run.start, run.end))
    assert len(set(design.nodes)) == len(design.nodes)
    assert all(0 <= day < len(design.plans) for day in design.days)


def test_starting_job_in_numbers(tmp_path):
    design = design_of(saved(tmp_path, starting()))
    assert [design.plans[day].id for day in design.days] == ["drive", "stay", "stay", "stay", "drive"]
    assert design.vehicle.alternator_a == 120.0
    assert design.plans[1].sun_factor == pytest.approx(0.8)
    lights = design.loads[LIGHTS]
    assert (lights.power_w, lights.peak_w, lights.when[0].start_min, lights.when[0].end_min) == (
        20,
        20,
        1140,
        1380,
    )
    assert design.loads[LAPTOP].peak_w == 80
    assert design.nodes[lights.node] == "lights"
    assert design.runs[RUN["W2"]].is_engine_space
    assert design.runs[RUN["W2"]].ambient_max_degc == 50
    assert design.node_of("charger.out") >= 0
    assert design.node_of("charger") == -1


def test_nodes_of_parts_with_two_terminals_channels_and_none(tmp_path):
    raw = starting()
    raw["part"] += [
        OUTPUTS,
        {"id": "shunt", "part": "shunt-300"},
        {"id": "mains", "part": "mains-10"},
        {"id": "inlet", "part": "inlet-230v-10"},
        {"id": "probe", "part": "temperature-probe"},
    ]
    nodes = design_of(saved(tmp_path, raw)).nodes
    for name in ("outs.in", "outs.1", "outs.8", "shunt.in", "shunt.out", "mains.out", "charger.in", "probe"):
        assert name in nodes
    for name in ("outs", "outs.9", "shunt", "mains.in", "inlet", "charger"):
        assert name not in nodes


def test_return_paths(tmp_path):
    raw = starting()
    put(raw, "run", 0, "back", "chassis")
    put(raw, "run", RUN["W2"], "back_cable", "cable-35")
    put(raw, "run", RUN["W2"], "back_length_m", 3.0)
    runs = design_of(saved(tmp_path, raw)).runs
    assert (runs[0].back_cable, runs[0].back_length_m, runs[0].chassis_ohm) == (None, 0.0, 0.002)
    back = runs[RUN["W2"]]
    assert (back.back_cable.id, back.back_length_m, back.chassis_ohm) == ("cable-35", 3.0, 0.0)


def test_a_run_without_zone_takes_the_hottest_outside_air(tmp_path):
    raw = put(starting(), "run", 0, "zones", None)
    run = design_of(saved(tmp_path, raw)).runs[0]
    assert (run.ambient_max_degc, run.ambient_is_stated) == (35.0, False)


def test_own_figures_and_weather_files_are_places(tmp_path):
    raw = put(starting(), "place", {**OWN, "ghi_kwh_m2_day": TWELVE, "name": "Camp"})
    assert design_of(saved(tmp_path, raw)).site.name == "Camp"
    raw = put(starting(), "place", {"weather_file": "year.epw"})
    assert design_of(saved(tmp_path, raw)).site is None


def test_uses_become_a_duty(tmp_path):
    when = [{"start": "23:00", "end": "01:00", "uses": 3, "use_minutes": 10}]
    design = design_of(saved(tmp_path, put(starting(), "load", LAPTOP, "when", when)))
    (entry,) = design.loads[LAPTOP].when
    assert (entry.start_min, entry.end_min, entry.duty_frac) == (1380, 60, 0.25)


@pytest.mark.parametrize(
    ("start", "end", "minutes"),
    [("00:00", "24:00", (0, 1440)), ("22:00", "00:00", (1320, 1440)), ("24:00", "06:00", (0, 360))],
)
def test_midnight_is_written_either_way(tmp_path, start, end, minutes):
    raw = put(starting(), "load", LAPTOP, "when", [{"start": start, "end": end}])
    raw["day"][0]["period"] = [{"start": start, "end": end, "state": "road"}]
    design = design_of(saved(tmp_path, raw))
    entry, period = design.loads[LAPTOP].when[0], design.plans[0].periods[0]
    assert (entry.start_min, entry.end_min) == minutes == (period.start_min, period.end_min)


@pytest.mark.parametrize(
    ("start", "end", "lasts_h", "minutes"),
    [
        ("08:00", "11:00", 1.5, (480, 570)),
        ("08:00", "11:00", {"unknown": [1, 3], "likely": 2}, (480, 600)),
        ("08:00", "11:00", 5, (480, 660)),  # no further than its end
        ("22:00", "03:00", 2, (1320, 1440)),
        ("22:00", "03:00", 4, (1320, 120)),
        ("22:00", "03:00", 5, (1320, 180)),
        ("00:00", "24:00", 24, (0, 1440)),
        ("08:00", "11:00", 0, None),
    ],
)
def test_a_state_lasts_as_long_as_is_said_and_no_longer_than_its_stretch(
    tmp_path, start, end, lasts_h, minutes
):
    raw = starting()
    raw["day"][0]["period"] = [{"start": start, "end": end, "state": "road", "lasts_h": lasts_h}]
    found = [(each.start_min, each.end_min) for each in design_of(saved(tmp_path, raw)).plans[0].periods]
    assert found == ([] if minutes is None else [minutes])


def test_a_load_may_follow_the_sun(tmp_path):
    """Denver in mid July: sunrise about 4:46, sunset about 19:26 by standard time (almanac figures, from memory)."""
    raw = put(starting(), "load", LAPTOP, "when", [{"start": "sunset", "end": "sunrise+0:30"}])
    raw["place"], raw["season"]["month"] = {"site": "denver-us"}, 7
    (entry,) = design_of(saved(tmp_path, raw)).loads[LAPTOP].when
    assert entry.start_min == pytest.approx(19 * 60 + 26, abs=10)
    assert entry.end_min == pytest.approx(4 * 60 + 46 + 30, abs=10)


def test_over_several_places_nobody_knows_which_sun(tmp_path):
    raw = put(starting(), "load", LAPTOP, "when", [{"start": "sunset", "end": "23:00"}])
    raw["leg"] = [{"id": "on", "from_day": 2, "place": {"site": "denver-us"}}]
    (problem,), _ = problems_of(saved(tmp_path, raw))
    assert "at other times at each place of a use that moves on" in str(problem)


def test_a_load_without_schedule_runs_always(tmp_path):
    (entry,) = design_of(saved(tmp_path, put(starting(), "load", LAPTOP, "when", None))).loads[LAPTOP].when
    assert (entry.start_min, entry.end_min, entry.duty_frac) == (0, 1440, 1.0)


def test_module_of_the_shipped_van(tmp_path):
    design = design_of(saved(tmp_path, van()))
    battery = design.parts[design.battery]
    assert (battery.id, battery.is_inside_module, battery.zone.id) == ("pm.battery", True, "bench")
    feed = next(port for port in design.ports if port.id == "pm.starter-feed")
    assert design.nodes[feed.node] == "pm.alternator-charger.in"
    assert [design.runs[index].id for index in feed.runs] == ["W10"]
    aliased = design.runs[[run.id for run in design.runs].index("W10")]
    assert aliased.end == feed.node
    channel = next(each for each in design.channels if each.number == 5)
    assert design.nodes[channel.node] == "pm.outputs.5"
    assert position(van(), "part", "panels") == 0
    assert load_definition(load_job(saved(tmp_path, van()))).id == "touring-12v"

"""Power modules in a job: ports, options, changes, and what is wrong with a definition."""

import tomllib
from importlib.resources import files

import pytest
from job_files import design_of, problems_of, put, saved, van

from ampwright.errors import JobError
from ampwright.job.load import load_definition, load_job

PARTS_WITHOUT_NODE = ("mains-charger.in",)


def definition():
    text = (files("ampwright.job") / "modules" / "touring-12v.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def own(folder, raw, **use):
    """Return the shipped van with a definition of its own beside it."""
    saved(folder, raw, "own.toml")
    job = van()
    job["module"] |= {"definition_file": "own.toml", **use}
    return saved(folder, job)


def test_a_port_is_another_name_of_the_node_behind_it(tmp_path):
    design = design_of(saved(tmp_path, van()))
    ports = {port.id: port for port in design.ports}
    assert set(ports) == {"pm.starter-feed", "pm.panel-feed", "pm.bar-feed"}
    assert "pm.starter-feed" not in design.nodes
    assert ports["pm.starter-feed"].smallest_mm2 == 16.0
    assert ports["pm.bar-feed"].runs == ()
    inside = [run for run in design.runs if run.is_inside_module]
    assert {run.id for run in inside} == {f"pm.W{number}" for number in range(1, 6)}
    assert all(device.id.startswith("pm.") for run in inside for device in run.devices)


def test_an_option_adds_its_parts_and_runs(tmp_path):
    design = design_of(saved(tmp_path, put(van(), "module", "options", ["mains-charger"])))
    assert "pm.mains-charger" in {part.id for part in design.parts}
    assert "pm.W6" in {run.id for run in design.runs}
    assert "pm.mains-charger.out" in design.nodes
    assert not set(PARTS_WITHOUT_NODE) & set(design.nodes)


def test_an_option_can_add_a_port(tmp_path):
    raw = definition()
    extra = {**raw["port"][0], "id": "mains-feed", "node": "mains-charger.out"}
    raw["option"][0]["port"] = [extra]
    ids = {port.id for port in design_of(own(tmp_path, raw, options=["mains-charger"])).ports}
    assert "pm.mains-feed" in ids


def test_a_change_replaces_a_part_inside(tmp_path):
    change = [{"part": "battery", "becomes": "lfp-200", "reason": "longer trips"}]
    design = design_of(saved(tmp_path, put(van(), "module", "change", change)))
    assert design.battery_part().id == "lfp-200"
    assert design.job.module.change[0].reason == "longer trips"


def test_a_definition_of_ones_own(tmp_path):
    raw = definition() | {"name": "Our own", "mass_kg": 31.5}
    path = own(tmp_path, raw)
    assert load_definition(load_job(path)).mass_kg == 31.5
    assert design_of(path).module.name == "Our own"


# (path and value put into the shipped van, place, words)
USES = {
    "revision": (("module", "revision", "A"), "module > revision", "the definition of 'touring-12v' at hand is revision B, the job says A; give the matching"),
    "option": (("module", "options", ["mains-chargr"]), "module > options number 1", "no option 'mains-chargr' in this module; did you mean 'mains-charger'?"),
    "changed part": (("module", "change", [{"part": "batery", "becomes": "lfp-200", "reason": "x"}]), "module > change number 1 > part", "no part 'batery' inside the module; did you mean 'battery'"),
    "becomes": (("module", "change", [{"part": "bar", "becomes": "bus-1", "reason": "x"}]), "module > part 'bar' > part", "no part 'bus-1' in the catalogue"),
    "definition": (("module", "definition", "touring-24v"), "module > definition", "no module 'touring-24v' is shipped; did you mean 'touring-12v'?; or give its definition_file"),
    "second battery": (("part", 4, {"id": "spare", "part": "lfp-50"}), "part 'spare' > part", "'spare' is a second auxiliary battery beside 'pm.battery'"),
    "port": (("run", 0, "end", "pm.starter-fed"), "run 'W10' > end", "no node 'pm.starter-fed'; did you mean 'pm.starter-feed'"),
    "zone": (("module", "zone", "banch"), "module > zone", "no zone 'banch'; did you mean 'bench'?"),
    "taken id": (("module", "id", "panels"), "module > id", "'panels' is already the id of a part; ids must differ"),
}  # fmt: skip


@pytest.mark.parametrize("case", USES)
def test_what_is_wrong_with_the_use_of_a_module(tmp_path, case):
    change, place, words = USES[case]
    problems, lines = problems_of(saved(tmp_path, put(van(), *change)))
    told = [problem for problem in problems if problem.path == place]
    assert told, [str(problem) for problem in problems]
    assert words in told[0].message
    assert lines[told[0].line]


# (path and value put into the definition, words)
DEFINITIONS = {
    "port at no node": (("port", 0, "node", "charger.in"), "port 'pm.starter-feed' is at no node of the module; did you mean"),
    "port twice": (("port", 1, "id", "starter-feed"), "port 'pm.starter-feed' is defined twice; ids must differ"),
    "run twice": (("run", 1, "id", "W1"), "'pm.W1' is already the id of a run"),
    "cable": (("run", 1, "cable", "cable-34"), "a cable is needed"),
    "no battery": (("part", 1, "part", "bus-600"), "no battery is placed"),
    "other module": (("id", "camper-12v"), "the definition at hand is of 'camper-12v', the job says 'touring-12v'"),
}  # fmt: skip


@pytest.mark.parametrize("case", DEFINITIONS)
def test_what_is_wrong_inside_a_definition(tmp_path, case):
    change, words = DEFINITIONS[case]
    problems, _ = problems_of(own(tmp_path, put(definition(), *change)))
    assert [words in problem.message for problem in problems].count(True) >= 1, [str(p) for p in problems]


def test_a_problem_inside_a_module_names_the_run(tmp_path):
    problems, lines = problems_of(own(tmp_path, put(definition(), "run", 1, "cable", "cable-34")))
    assert [problem.path for problem in problems] == ["module > run 'W2' > cable"]
    assert lines[problems[0].line] == '["module"]'


def test_shape_of_a_definition_is_told_with_its_own_file_and_lines(tmp_path):
    path = own(tmp_path, put(definition(), "mass_kg", "29 kg"))
    with pytest.raises(JobError) as caught:
        load_definition(load_job(path))
    (problem,) = caught.value.problems
    assert caught.value.file.endswith("own.toml")
    assert (problem.path, problem.line) == ("mass_kg", 5)


def test_a_missing_definition_file(tmp_path):
    job = van()
    job["module"]["definition_file"] = "lost.toml"
    with pytest.raises(JobError, match=r"lost\.toml: 1 problem") as caught:
        load_definition(load_job(saved(tmp_path, job)))
    assert "no such file" in str(caught.value.problems[0])

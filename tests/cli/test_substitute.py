"""`ampwright substitute`, and the folder of a workshop on the command line."""

import json

import pytest
from job_files import saved, starting_text
from runs import ampwright, refused

from ampwright import api


@pytest.fixture
def job(tmp_path):
    return saved(tmp_path, starting_text().replace("[season]", "[doubt]\nruns = 0\n\n[season]"))


def test_it_says_what_changes_and_writes_the_job_with_the_other_part(job):
    target = job.parent / "new.toml"
    before = job.read_text(encoding="utf-8")
    done = ampwright("substitute", job, "panel-200", "panel-100", "--to", target)
    assert done.returncode in (0, 1, 3, 4), done.stderr
    assert "part 'panel': part: panel-200 -> panel-100" in done.stdout
    assert max(len(line) for line in done.stdout.splitlines() if not line.startswith("Wrote")) <= 80
    assert job.read_text(encoding="utf-8") == before
    assert target.read_text(encoding="utf-8") == before.replace('"panel-200"', '"panel-100"')
    assert done.returncode == ampwright("check", target).returncode


def test_json_says_the_same_as_comparing_the_two_files(job):
    target = job.parent / "new.toml"
    done = ampwright("substitute", job, "panel-200", "panel-100", "--to", target, "--json")
    found = json.loads(done.stdout)
    same = api.compare(job, target)
    assert [each["rule"] for each in found["findings"]] == [each.rule for each in same.findings]
    assert found["stage"] == "full"


def test_unknown_parts_and_a_taken_file_are_refused(job):
    assert "did you mean" in refused(ampwright("substitute", job, "panel-200", "panel-20"))
    assert "names no part" in refused(ampwright("substitute", job, "inverter-9", "panel-100"))
    assert "exists already" in refused(ampwright("substitute", job, "panel-200", "panel-100", "--to", job))


def test_parts_of_a_workshop_are_listed_and_used(job, tmp_path):
    folder = tmp_path / "workshop" / "parts"
    folder.mkdir(parents=True)
    (folder / "bus-bar.csv").write_text(
        "id,name,source,rating_a,rated_dc_v,stud_count,resistance_ohm\n"
        "own-bus,Own bus bar,data sheet,200,48,4,0.00015\n",
        encoding="utf-8",
    )
    listed = ampwright("parts", "own-bus", "--workshop", folder.parent)
    assert listed.stdout.startswith("own-bus ")
    done = ampwright(
        "substitute", job, "bus-100", "own-bus", "--json", AMPWRIGHT_WORKSHOP_DIR=str(folder.parent)
    )
    assert json.loads(done.stdout)["inputs"][0]["after"] == "own-bus"
    assert "no part 'own-bus'" in refused(ampwright("substitute", job, "bus-100", "own-bus"))
    assert "no such folder" in refused(ampwright("parts", "--workshop", tmp_path / "nowhere"))

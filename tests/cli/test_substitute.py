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


LOG = "".join(f"2026-07-{1 + hour // 24:02d} {hour % 24:02d}:00,13.2,-2.0\n" for hour in range(72))


@pytest.mark.parametrize(
    "words",
    [
        ("cables", "--json"),
        ("channels", "--json"),
        ("curves", "--json"),
        ("settings", "--json"),
        ("measure", "--json"),
        ("page", "--to", "page.html"),
        ("log", "log.csv", "--json"),
    ],
    ids=lambda words: words[0],
)
def test_every_command_that_reads_a_job_knows_the_workshops_parts(job, tmp_path, words):
    folder = tmp_path / "workshop" / "parts"
    folder.mkdir(parents=True)
    (folder / "bus-bar.csv").write_text(
        "id,name,source,rating_a,rated_dc_v,stud_count,resistance_ohm\n"
        "own-bus,Own bus bar,data sheet,200,48,4,0.00015\n",
        encoding="utf-8",
    )
    (tmp_path / "log.csv").write_text("time,battery_v,battery_a\n" + LOG, encoding="utf-8")
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace('part = "bus-100"', 'part = "own-bus"'), encoding="utf-8")
    name, *rest = (str(tmp_path / word) if "." in word else word for word in words)
    assert "no part 'own-bus'" in refused(ampwright(name, job, *rest))
    done = ampwright(name, job, *rest, "--workshop", folder.parent)
    assert (done.returncode in (0, 1, 3, 4), done.stderr) == (True, "")
    assert not done.stdout.startswith("{") or json.loads(done.stdout)

"""`ampwright check`: exit codes, JSON, everything or only what matters, width, silence of the error stream."""

import contextlib
import json
import os
import pty
import subprocess
import sys
import threading
from functools import cache

import pytest
from job_files import EXAMPLES, put, saved, starting, starting_text
from runs import START, ampwright, example, refused

USE = {"suits", "suits with conditions", "does not suit"}
WIRING = {"no fault found", "not fully checked", "do not energise"}


@cache
def as_json(name):
    return ampwright("check", example(name), "--json")


@cache
def as_text(name):
    return ampwright("check", example(name))


def code_of(answer):
    """Return the exit code that the two verdicts call for."""
    if answer["wiring_verdict"] == "do not energise":
        return 3
    if answer["use_verdict"] == "does not suit":
        return 1
    return 4 if answer["wiring_verdict"] == "not fully checked" else 0


@pytest.mark.parametrize("name", EXAMPLES)
def test_json_holds_both_verdicts_and_agrees_with_the_exit_code(name):
    done = as_json(name)
    answer = json.loads(done.stdout)
    assert answer["use_verdict"] in USE
    assert answer["wiring_verdict"] in WIRING
    assert done.returncode == code_of(answer)
    assert (answer["file"], answer["job"]) == (f"{name}.toml", name)
    assert {finding["group"] for finding in answer["findings"]} == {
        "fit for the use",
        "wiring and protection",
    }
    assert answer["wiring_rules"]["checked_count"] <= answer["wiring_rules"]["total_count"]
    assert done.stderr == ""


def test_json_is_the_same_each_time():
    name = "night-survey-van"
    assert ampwright("check", example(name), "--json").stdout == as_json(name).stdout


@pytest.mark.parametrize("name", EXAMPLES)
def test_text_fits_eighty_columns_and_says_both_verdicts(name):
    done = as_text(name)
    answer = json.loads(as_json(name).stdout)
    assert done.returncode == as_json(name).returncode
    assert [line for line in done.stdout.splitlines() if len(line) > 80] == []
    assert answer["use_verdict"].upper() in done.stdout
    assert answer["wiring_verdict"].upper() in done.stdout
    assert "\x1b" not in done.stdout
    assert [line for line in done.stdout.splitlines() if line != line.rstrip()] == []
    assert done.stderr == ""


def test_what_breaks_only_at_the_worse_end_is_shown(tmp_path):
    text = starting_text()
    assert "rating_a = { unknown = [90, 150], likely = 120" in text
    done = ampwright("check", saved(tmp_path, text))
    use = done.stdout.partition("Findings: wiring and protection")[0]
    likely, heading, worst = use.partition("At the unfavourable end of what is unknown\n")
    assert "  CONDITION   " not in likely
    assert worst.startswith("  CONDITION   alternator-spare\n")
    assert "of its 90 A" in worst
    sure = ampwright("check", saved(tmp_path, text.replace("{ unknown = [90, 150], likely = 120", "120 #")))
    assert heading
    assert heading not in sure.stdout


def test_all_shows_passes_too():
    every = ampwright("check", example("night-survey-van"), "--all").stdout
    assert "PASS " in every
    assert "PASS " not in as_text("night-survey-van").stdout
    assert len(every.splitlines()) > len(as_text("night-survey-van").stdout.splitlines())


def test_a_report_is_written(tmp_path):
    target = tmp_path / "van with blank.pdf"
    done = ampwright("check", example("vaccine-outreach"), "--report", target)
    assert target.read_bytes().startswith(b"%PDF-")
    assert f"Report: {target}" in done.stdout


def jobs():
    """Return one job for each exit code that a job alone can bring about."""
    hungry = put(starting(), "load", 2, "power_w", 900)
    hungry["load"][2] |= {"peak_w": 900, "when": [{}], "priority": "essential"}
    thin = put(starting(), "run", 0, "cable", "cable-1-5")
    return {3: thin, 1: hungry, 4: starting()}


@pytest.mark.parametrize("code", [1, 3, 4])
def test_exit_codes(tmp_path, code):
    done = ampwright("check", saved(tmp_path, jobs()[code]), "--json")
    answer = json.loads(done.stdout)
    assert code_of(answer) == done.returncode
    assert done.returncode == code or (code, done.returncode) == (1, 3)


def test_new_gives_a_job_that_can_be_checked(tmp_path):
    done = ampwright("new", "my van.toml", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "ampwright check" in done.stdout
    assert (tmp_path / "my van.toml").read_text(encoding="utf-8") == starting_text()
    assert ampwright("check", "my van.toml", cwd=tmp_path).returncode in {0, 4}


def test_demo_writes_job_and_report(tmp_path):
    done = ampwright("demo", cwd=tmp_path)
    assert done.returncode in {0, 1, 3, 4}
    folder = tmp_path / "ampwright-demo"
    assert (folder / "night-survey-van.toml").is_file()
    assert (folder / "night-survey-van.pdf").read_bytes().startswith(b"%PDF-")
    assert "FIT FOR THE USE" in done.stdout


@pytest.mark.parametrize(
    ("command", "word", "found"),
    [
        ("sites", "potsdam", "potsdam-de"),
        ("sites", "deu", "potsdam-de"),
        ("parts", "battery", "lfp-100"),
        ("parts", "LFP-100", "lfp-100"),
    ],
)
def test_lists(command, word, found):
    done = ampwright(command, word)
    assert done.returncode == 0
    assert any(line.startswith(found) for line in done.stdout.splitlines())
    assert len(ampwright(command).stdout.splitlines()) > len(done.stdout.splitlines())
    assert "docs/" in ampwright(command, "no such thing").stdout


def test_sites_show_name_and_country_in_eighty_columns():
    lines = ampwright("sites").stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert any(line.split()[:3] == ["birchip-au", "Birchip", "VIC"] and " AUS " in line for line in lines)
    assert "alpha-3" in lines[-1]


def test_a_job_of_nothing_but_mistakes_is_bad_input(tmp_path):
    assert "missing" in refused(ampwright("check", saved(tmp_path, "")))


def test_the_progress_bar_stays_off_the_output():
    """With a terminal for the error stream the output is what it is without one."""
    reader, writer = pty.openpty()
    chunks = []

    def drain():
        with contextlib.suppress(OSError):  # the far end of a closed terminal
            while chunk := os.read(reader, 4096):
                chunks.append(chunk)

    name = "night-survey-van"
    listener = threading.Thread(target=drain, daemon=True)
    listener.start()
    done = subprocess.run(
        [sys.executable, "-c", START, "check", str(example(name)), "--json"],
        stdout=subprocess.PIPE,
        stderr=writer,
        check=False,
        timeout=120,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
    )
    os.close(writer)
    listener.join(timeout=10)
    os.close(reader)
    assert done.stdout.decode("utf-8") == as_json(name).stdout
    assert b"Traceback" not in b"".join(chunks)


def test_electrician_and_cautions_stand_on_the_screen_once_each():
    text = " ".join(as_text("bicycle-repair-truck").stdout.split())
    answer = json.loads(as_json("bicycle-repair-truck").stdout)
    assert f"For the licensed electrician: {len(answer['electrician']['points'])} points" in text
    assert len(answer["cautions"]) >= 5
    for caution in answer["cautions"]:
        assert text.count(caution) == 1
    lone = json.loads(as_json("vaccine-outreach").stdout)
    assert lone["electrician"] is None
    assert "licensed electrician:" not in as_text("vaccine-outreach").stdout

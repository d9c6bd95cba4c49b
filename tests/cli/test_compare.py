"""`ampwright compare` on a terminal of 80 columns and as JSON."""

import json

import pytest
from job_files import saved, starting_text
from runs import ampwright, refused


@pytest.fixture(scope="module")
def two(tmp_path_factory):
    folder = tmp_path_factory.mktemp("two")
    text = starting_text().replace("[season]", "[doubt]\nruns = 0\n\n[season]")
    saved(folder, text, "one.toml")
    saved(folder, text.replace('part = "panel-200"', 'part = "panel-100"'), "two.toml")
    return folder


def test_it_says_what_differs_within_80_columns(two):
    done = ampwright("compare", "one.toml", "two.toml", cwd=two)
    assert done.returncode in (0, 1, 3, 4), done.stderr
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "part 'panel': part: panel-200 -> panel-100" in done.stdout
    assert "What the jobs do not say alike: 1" in done.stdout
    assert "sun, controller" in done.stdout


def test_the_exit_code_is_that_of_checking_the_second_job(two):
    compared = ampwright("compare", "one.toml", "two.toml", "--json", cwd=two)
    checked = ampwright("check", "two.toml", "--json", cwd=two)
    assert compared.returncode == checked.returncode
    after, answer = json.loads(compared.stdout)["after"], json.loads(checked.stdout)
    assert (after["use_verdict"], after["wiring_verdict"]) == (
        answer["use_verdict"],
        answer["wiring_verdict"],
    )
    assert after["stage"] == "full"


def test_a_file_that_is_not_there_is_refused(two):
    assert "three.toml" in refused(ampwright("compare", "one.toml", "three.toml", cwd=two))

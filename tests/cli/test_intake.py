"""`ampwright intake`."""

from __future__ import annotations

import json
import re
from pathlib import Path

from runs import ampwright

DOCS = Path(__file__).parents[2] / "docs"
ANSWERS = json.loads(
    re.search(r"```json\n(.*?)```", (DOCS / "intake.md").read_text(encoding="utf-8"), re.DOTALL)[1]
)


def answers_file(tmp_path, **changes):
    file = tmp_path / "answers.json"
    file.write_text(json.dumps({**ANSWERS, **changes}), encoding="utf-8")
    return file


def test_the_answers_of_the_docs_become_a_job(tmp_path):
    target = tmp_path / "first.toml"
    run = ampwright("intake", answers_file(tmp_path), "--to", target)
    assert run.returncode == 0, run.stderr
    text = target.read_text(encoding="utf-8")
    assert "rating_a = 140" in text
    assert 'customer = "A. Example"' in text
    again = ampwright("intake", answers_file(tmp_path), "--to", target)
    assert again.returncode == 2
    assert "exists already" in again.stderr


def test_wrong_answers_write_nothing_and_say_where(tmp_path):
    target = tmp_path / "first.toml"
    run = ampwright("intake", answers_file(tmp_path, stay={"site": "potsdamm", "month": 7}), "--to", target)
    assert run.returncode == 2
    assert "stay > site: no place 'potsdamm' in the table" in run.stderr
    assert "Traceback" not in run.stderr
    assert not target.exists()
    missing = ampwright("intake", tmp_path / "none.json", "--to", target)
    assert missing.returncode == 2
    assert not target.exists()


def test_the_form_is_written_in_a_language_and_nothing_else_with_it(tmp_path):
    form = tmp_path / "questions.html"
    run = ampwright("intake", "--form", form, "--language", "de")
    assert run.returncode == 0, run.stderr
    assert "Was fahren Sie?" in form.read_text(encoding="utf-8")
    answers = answers_file(tmp_path)
    told = answers.read_text(encoding="utf-8")
    assert "ends in .html" in ampwright("intake", "--form", answers).stderr
    assert answers.read_text(encoding="utf-8") == told
    both = ampwright("intake", answers, "--form", form)
    neither = ampwright("intake")
    for refused in (both, neither):
        assert refused.returncode == 2
        assert "--to JOB.toml, or --form FILE.html" in refused.stderr

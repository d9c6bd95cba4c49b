"""`ampwright publish` as a user runs it."""

import json

from runs import ampwright, example


def test_one_document_in_german(tmp_path):
    folder = tmp_path / "pack"
    done = ampwright(
        "publish",
        example("night-survey-van"),
        "--to",
        folder,
        "--only",
        "first-responder",
        "--language",
        "de",
    )
    contents = json.loads((folder / "contents.json").read_text())
    assert {path.name for path in folder.iterdir()} == {"contents.json", "first-responder.pdf"}
    assert contents["language"] == "de"
    assert contents["wiring_verdict"] in done.stdout
    assert (done.returncode == 0) == (contents["wiring_verdict"] == "no fault found")
    assert max(map(len, done.stdout.splitlines()[1:])) <= 80


def test_unknown_document_is_refused_before_anything_is_made(tmp_path):
    done = ampwright("publish", example("night-survey-van"), "--to", tmp_path / "pack", "--only", "poster")
    assert done.returncode == 2
    assert "there is no document poster; choose from report" in " ".join(done.stderr.split())
    assert not (tmp_path / "pack").exists()

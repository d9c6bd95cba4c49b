"""`ampwright page`."""

from runs import ampwright, example


def test_the_page_is_written_in_the_language_asked_for(tmp_path):
    target = tmp_path / "van.html"
    run = ampwright("page", example("vaccine-outreach"), "--to", target, "--language", "de")
    assert run.returncode == 0, run.stderr
    text = target.read_text(encoding="utf-8")
    assert '<html lang="de">' in text
    assert "Stromkreise mit ihren Prüfungen" in text
    nowhere = ampwright("page", example("vaccine-outreach"), "--to", tmp_path / "none" / "van.html")
    assert nowhere.returncode == 2
    assert "cannot be written" in nowhere.stderr

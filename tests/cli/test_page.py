"""`ampwright page`."""

from job_files import saved, starting
from runs import ampwright, example, refused


def test_the_page_is_written_in_the_language_asked_for(tmp_path):
    target = tmp_path / "van.html"
    run = ampwright("page", example("vaccine-outreach"), "--to", target, "--language", "de")
    assert run.returncode == 0, run.stderr
    text = target.read_text(encoding="utf-8")
    assert '<html lang="de">' in text
    assert "Stromkreise mit ihren Prüfungen" in text
    nowhere = ampwright("page", example("vaccine-outreach"), "--to", tmp_path / "none" / "van.html")
    assert nowhere.returncode == 2
    assert "there is no folder" in nowhere.stderr


def test_a_page_never_takes_the_place_of_the_job(tmp_path):
    job = saved(tmp_path, starting())
    before = job.read_text(encoding="utf-8")
    assert "give a name that ends in .html" in refused(ampwright("page", job, "--to", job))
    assert job.read_text(encoding="utf-8") == before

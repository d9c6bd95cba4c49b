"""Parts: browsed, kept as the workshop's own, imported only when nothing is wrong, and not taken away while in use."""

import dataclasses
import html
import re

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client, override_settings
from web_jobs import job_from, put, whole

from ampwright.parts.catalogue import load_parts
from ampwright.web.answers import live_of
from ampwright.web.app import the_stock, workshop_folder
from ampwright.web.keeping import file_of
from ampwright.web.models import Account, Event, JobEntry, Result, Revision
from ampwright.web.store import last_revision

BAR = {
    "f-id": "shop-bus-200", "f-name": "Bus bar 200 A", "f-source": "data sheet, revision 3", "f-rating_a": "200",
    "f-rated_dc_v": "48", "f-stud_count": "4", "f-resistance_ohm": "0,00015",
}  # fmt: skip


@pytest.fixture(autouse=True)
def own_workshop():
    """Leave the shared data folder as it was: what a test keeps is taken away again."""
    yield
    for path in (*workshop_folder().glob("parts/*"), *workshop_folder().glob("modules/*")):
        path.unlink()


def kept(browser, **typed):
    return browser.post("/parts/new?kind=bus-bar", {**BAR, **typed})


def changed(browser, part_id="shop-bus-200", **typed):
    """Open the form of a part, then send it with something changed."""
    address = f"/parts/at/{part_id}/edit"
    return browser.post(address, {**BAR, "was": opened(browser, part_id), **typed})


def opened(browser, part_id="shop-bus-200"):
    form = page(browser.get(f"/parts/at/{part_id}/edit"))
    return html.unescape(re.search(r'name="was" value="([^"]*)"', form)[1])


def imported(browser, content, name="parts.csv", **words):
    return browser.post("/parts/import", {"file": SimpleUploadedFile(name, content.encode()), **words})


def fresh(entry):
    return JobEntry.objects.get(pk=entry.pk)


def page(response):
    return response.content.decode()


def test_shipped_parts_are_found_by_kind_and_words(browser):
    assert "lfp-100" in page(browser.get("/parts", {"kind": "battery"}))
    assert "fuse-t-100" not in page(browser.get("/parts", {"kind": "battery"}))
    found = page(browser.get("/parts", {"word": "lfp 100"}))
    assert "lfp-100" in found
    assert "lfp-200<" not in found
    assert "page 1 of 3" in page(browser.get("/parts"))
    assert "page 3 of 3" in page(browser.get("/parts", {"page": "99"}))


def test_a_part_shows_every_field_with_unit_and_meaning(browser):
    shown = page(browser.get("/parts/at/lfp-100"))
    for text in ("short_circuit_a", "2200", "Prospective fault current at the terminals", "Mass of one."):
        assert text in shown
    assert browser.get("/parts/at/nothing").status_code == 404


def test_an_own_part_is_kept_in_the_schema_of_a_parts_file_and_jobs_may_name_it(browser, job):
    assert kept(browser).headers["Location"] == "/parts/at/shop-bus-200"
    part = load_parts([file_of("shop-bus-200")]).find("shop-bus-200")
    assert (part.rating_a, part.resistance_ohm) == (200.0, 0.00015)
    put(job, 'part = "bus-100"', 'part = "shop-bus-200"')
    design = live_of(last_revision(fresh(job))).assessment.design
    assert next(each for each in design.parts if each.id == "bar").part.rating_a == 200.0
    assert "My van" in page(browser.get("/parts/at/shop-bus-200"))
    assert "<option>shop-bus-200</option>" in page(browser.get(f"/jobs/{job.pk}/page/parts"))
    assert Event.objects.filter(what="part new", detail__startswith="shop-bus-200").exists()


def test_what_is_wrong_stands_beside_its_field_and_nothing_is_kept(browser):
    response = kept(browser, **{"f-rating_a": "much", "f-id": "Shop Bus"})
    assert response.status_code == 422
    assert page(response).count('class="problem"') >= 1
    assert 'value="much"' in page(response)
    assert not list(workshop_folder().glob("parts/*"))


def test_a_taken_id_is_refused(browser):
    assert "there is a part with this id" in page(kept(browser, **{"f-id": "bus-100"}))
    kept(browser)
    assert "there is a part with this id" in page(kept(browser))


def test_changing_a_part_is_in_the_history_of_each_job_and_its_old_answer_is_not_shown(browser, job):
    kept(browser)
    put(job, "[season]", "[doubt]\nruns = 0\n\n[season]")
    put(job, 'part = "bus-100"', 'part = "shop-bus-200"')
    whole(job)
    number = JobEntry.objects.get(pk=job.pk).number
    stamp = the_stock().stamp
    done = changed(browser, **{"f-rating_a": "20", "why": "data sheet revision 4"})
    assert done.status_code == 302
    assert the_stock().stamp != stamp
    last = last_revision(JobEntry.objects.get(pk=job.pk))
    assert last.number == number + 1
    assert last.what == "part shop-bus-200 of the workshop changed: rating_a 200 to 20"
    assert last.why == "data sheet revision 4"
    assert 'class="quick"' in page(browser.get(f"/jobs/{job.pk}/live"))
    answer = whole(job).answer
    assert any(each.subject == "bar" and each.limit == 20 for each in answer.assessment.findings)
    assert Result.objects.filter(revision=last, workshop=the_stock().stamp).exists()


def test_the_id_of_a_part_is_not_changed_by_its_form(browser):
    kept(browser)
    changed(browser, **{"f-id": "../../evil", "f-rating_a": "210"})
    assert [path.name for path in workshop_folder().glob("parts/*")] == ["shop-bus-200.toml"]
    assert the_stock().workshop.catalogue.find("shop-bus-200").rating_a == 210


def test_two_people_who_change_one_part_both_learn_of_it(browser):
    kept(browser)
    seen = opened(browser)
    changed(browser, **{"f-rating_a": "210"})
    late = changed(browser, **{"f-rating_a": "220", "was": seen})
    assert late.status_code == 422
    assert "changed meanwhile" in page(late)
    assert the_stock().workshop.catalogue.find("shop-bus-200").rating_a == 210


def test_a_part_in_use_is_not_taken_away(browser, job):
    kept(browser, **{"f-id": "shop-bus-201"})
    put(job, 'part = "bus-100"', 'part = "shop-bus-201"')
    response = browser.post("/parts/at/shop-bus-201/remove")
    assert response.status_code == 409
    assert "still build it in" in page(response)
    assert file_of("shop-bus-201").exists()
    put(fresh(job), 'part = "shop-bus-201"', 'part = "bus-100"')
    assert browser.post("/parts/at/shop-bus-201/remove").headers["Location"] == "/parts"
    assert not file_of("shop-bus-201").exists()
    assert browser.post("/parts/at/bus-100/remove").status_code == 403


CSV = (
    "id,name,source,kind,rating_a,rated_dc_v,stud_count,resistance_ohm\n"
    "csv-bus-1,Bar one,data sheet,bus-bar,100,48,4,0.0001\n"
    "csv-bus-2,Bar two,data sheet,bus-bar,{rating},48,{studs},0.0001\n"
)


def test_a_file_is_looked_at_before_it_is_kept(browser):
    content = CSV.format(rating=150, studs=6)
    shown = page(imported(browser, content))
    assert "csv-bus-1" in shown
    assert "Keep 2 parts" in shown
    assert not list(workshop_folder().glob("parts/*"))
    again = browser.post("/parts/import", {"name": "parts.csv", "content": content, "keep": "yes"})
    assert again.headers["Location"] == "/parts"
    assert {path.name for path in workshop_folder().glob("parts/*")} == {"csv-bus-1.toml", "csv-bus-2.toml"}
    assert "kept already, the same" in page(imported(browser, content))
    assert "rating_a 150 to 160" in page(imported(browser, CSV.format(rating=160, studs=6)))


def test_one_wrong_cell_keeps_the_whole_file_out_and_each_is_told(browser):
    response = imported(browser, CSV.format(rating="1.5x", studs="many"), keep="yes")
    shown = page(response)
    assert response.status_code == 422
    assert "2 problems, nothing is kept" in shown
    for text in ("rating_a", "stud_count", "csv-bus-2"):
        assert text in shown
    assert '<th scope="row">3</th>' in shown
    assert not list(workshop_folder().glob("parts/*"))


def test_a_shipped_id_is_only_taken_on_purpose(browser):
    content = CSV.format(rating=150, studs=6).replace("csv-bus-1", "bus-100")
    assert "overrides = true" in page(imported(browser, content))
    toml = (
        'overrides = true\n[[part]]\nid = "bus-100"\nkind = "bus-bar"\nname = "Own"\nsource = "sheet"\n'
        "rating_a = 90\nrated_dc_v = 48\nstud_count = 4\nresistance_ohm = 0.0001\n"
    )
    assert "takes the place of the shipped part" in page(imported(browser, toml, "own.toml"))
    browser.post("/parts/import", {"name": "own.toml", "content": toml, "keep": "yes"})
    assert the_stock().workshop.catalogue.find("bus-100").rating_a == 90


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("parts.exe", "x", "ends in .toml or .csv"),
        ("../../evil.toml", "not = = toml", "not valid TOML"),
        ("parts.toml", "a = 1\n" * 400_000, "larger than 2 MB"),
        ("parts.csv", "id,name\n\x00", "zero byte"),
        ("parts.toml", "", "holds no part"),
    ],
)
def test_strange_files_are_refused(browser, name, content, said):
    response = imported(browser, content, name)
    assert response.status_code == 422
    assert said in page(response)
    assert not list(workshop_folder().glob("**/*.toml"))


def test_a_file_put_there_by_hand_that_is_wrong_is_told_and_no_job_is_reckoned(browser, job):
    (workshop_folder() / "parts").mkdir(parents=True, exist_ok=True)
    (workshop_folder() / "parts" / "bad.toml").write_text("[[part]]\nid = 3\n", encoding="utf-8")
    assert "bad.toml" in page(browser.get("/parts"))
    assert "No verdict" in page(browser.get(f"/jobs/{job.pk}/live"))
    (workshop_folder() / "parts" / "bad.toml").unlink()
    assert "No verdict" not in page(browser.get(f"/jobs/{job.pk}/live"))


@pytest.mark.parametrize("role", ["bench", "electrician", "read-only"])
def test_only_whoever_may_change_jobs_changes_parts(role, browser):
    account = Account.objects.create_account(f"parts {role}", password=None, role=role)
    with override_settings(AMPWRIGHT_PLACE=dataclasses.replace(settings.AMPWRIGHT_PLACE, is_lan=True)):
        browser.force_login(account)
        for path in ("/parts/new?kind=bus-bar", "/parts/import", "/parts/at/bus-100/remove"):
            assert browser.post(path, BAR).status_code == 403
        assert browser.get("/parts").status_code == 200
        assert "/parts/new" not in page(browser.get("/parts"))


def test_a_page_elsewhere_cannot_keep_a_part():
    strict = Client(HTTP_HOST="127.0.0.1", enforce_csrf_checks=True)
    assert strict.post("/parts/new?kind=bus-bar", BAR).status_code == 403
    assert strict.post("/parts/import", {"name": "a.csv", "content": "x", "keep": "yes"}).status_code == 403


def test_revisions_that_named_a_part_stay_when_it_is_gone(browser, job):
    kept(browser, **{"f-id": "shop-bus-202"})
    put(job, 'part = "bus-100"', 'part = "shop-bus-202"')
    put(fresh(job), 'part = "shop-bus-202"', 'part = "bus-100"')
    browser.post("/parts/at/shop-bus-202/remove")
    assert Revision.objects.filter(job=job, text__contains="shop-bus-202").count() == 1
    assert Event.objects.filter(what="part taken away", detail__contains="earlier revisions of").exists()


def test_another_job_is_not_touched(browser):
    kept(browser)
    other = job_from("start")
    changed(browser, **{"f-rating_a": "120"})
    assert JobEntry.objects.get(pk=other.pk).number == 1


def test_what_a_job_names_of_the_workshop_is_handed_on_as_a_file_that_can_be_taken_in(browser, job):
    kept(browser, **{"f-id": "shop-bus-203"})
    assert browser.get(f"/jobs/{job.pk}/workshop-parts.toml").status_code == 404
    put(job, 'part = "bus-100"', 'part = "shop-bus-203"')
    assert "shop-bus-203" in page(browser.get(f"/jobs/{job.pk}/files"))
    content = browser.get(f"/jobs/{job.pk}/workshop-parts.toml").content
    put(fresh(job), 'part = "shop-bus-203"', 'part = "bus-100"')
    browser.post("/parts/at/shop-bus-203/remove")
    browser.post("/parts/import", {"name": "p.toml", "content": content.decode(), "keep": "yes"})
    assert the_stock().workshop.catalogue.find("shop-bus-203").rating_a == 200

"""Photos, archive, and the workshop's own parts, modules and places, as another program changes them."""

import hashlib
from importlib.resources import files

import pytest
from interface_jobs import Program, as_network, token_of, trouble
from photo_files import photo as picture
from web_jobs import put, text_of

from ampwright.web.app import workshop_folder
from ampwright.web.models import Event, JobEntry, Photo, Revision
from ampwright.web.photos import photo_path

FILE = "application/octet-stream"
BAR = {
    "kind": "bus-bar",
    "id": "own-bar-200",
    "name": "Bus bar 200 A",
    "source": "data sheet, revision 3",
    "rating_a": 200.0,
    "rated_dc_v": 48.0,
    "stud_count": 4,
    "resistance_ohm": 0.00015,
}
CAMP = {
    "id": "own-camp",
    "name": "Camp",
    "country": "DEU",
    "latitude_deg": 52.4,
    "longitude_deg": 13.1,
    "ghi_kwh_m2_day": [0.7, 1.3, 2.5, 4.1, 5.0, 5.3, 5.1, 4.4, 3.0, 1.7, 0.8, 0.5],
    "max_degc": [3.0, 4.0, 9.0, 15.0, 19.0, 23.0, 25.0, 24.0, 20.0, 14.0, 8.0, 4.0],
    "min_degc": [-2.0, -2.0, 1.0, 4.0, 9.0, 12.0, 14.0, 14.0, 10.0, 6.0, 2.0, -1.0],
    "source": "the shop's own list",
}


@pytest.fixture
def program():
    """Return a program at this machine."""
    return Program()


@pytest.fixture
def bar(program):
    """Return an own part as it was kept; it is gone afterwards."""
    yield program.send("PUT", "parts/own-bar-200", {"part": BAR}).json()
    (workshop_folder() / "parts" / "own-bar-200.toml").unlink()


def test_deleting_a_job_is_archiving_it(program, job):
    before = Revision.objects.filter(job=job).count()
    gone = program.send("DELETE", f"jobs/{job.pk}", b"")
    assert (gone.status_code, gone.json()["is_archived"]) == (200, True)
    assert program.send("DELETE", f"jobs/{job.pk}", b"").json()["is_archived"] is True
    assert Revision.objects.filter(job=job).count() == before
    assert job.pk not in [each["id"] for each in program.get("jobs?limit=500").json()["jobs"]]
    assert program.get("jobs?is_archived=true&limit=1").json()["jobs"][0]["id"] == job.pk
    back = program.send("PUT", f"jobs/{job.pk}/archived", {"is_archived": False})
    assert back.json()["is_archived"] is False
    logged = Event.objects.filter(what__in=("archived", "fetched from archive")).order_by("-pk")[:2]
    assert [each.what for each in logged] == ["fetched from archive", "archived"]


def test_a_photo_is_tied_to_a_circuit_and_taken_away_again(program, job):
    path = f"jobs/{job.pk}/photos"
    sent = program.send("POST", f"{path}?subject=fridge&caption=before", picture(), kind=FILE)
    made = sent.json()
    assert (sent.status_code, made["subject"], made["caption"]) == (201, "fridge", "before")
    assert sent.headers["Location"] == f"/api/v1/{path}/{made['id']}"
    program.send("POST", path, picture(size=(40, 30)), kind=FILE)
    assert [each["id"] for each in program.get(f"{path}?subject=fridge").json()["photos"]] == [made["id"]]
    assert [each["width_px"] for each in program.get(f"{path}?subject=").json()["photos"]] == [40]
    content = program.get(f"{path}/{made['id']}").content
    assert hashlib.sha256(content).hexdigest() == made["sha256"]
    assert b"Maker of the camera" not in content
    assert program.send("DELETE", f"{path}/{made['id']}", b"").status_code == 200
    trouble(program.get(f"{path}/{made['id']}"), 404)
    kept = Photo.objects.get(pk=made["id"])
    assert photo_path(kept, is_small=False).is_file()
    assert (kept.removed_by, Event.objects.filter(what="photo taken away").exists()) == ("this machine", True)


@pytest.mark.parametrize(
    ("query", "content", "status"),
    [
        ("?subject=nothing", picture(), 422),
        ("?caption=%00", picture(), 422),
        ("", b"no photo", 422),
        ("", picture()[:200], 422),
        ("", b" " * 20_000_001, 413),
        ("?more=1", picture(), 422),
    ],
)
def test_what_is_no_photo_of_the_job_is_refused(program, job, query, content, status):
    trouble(program.send("POST", f"jobs/{job.pk}/photos{query}", content, kind=FILE), status)
    assert not Photo.objects.filter(job=job).exists()


def test_a_photo_larger_than_other_files_is_taken(program, job):
    large = picture(kind="PNG", size=(4, 4)) + b" " * 15_000_000  # what follows a picture's end is dropped
    sent = program.send("POST", f"jobs/{job.pk}/photos", large, kind=FILE)
    assert (sent.status_code, sent.json()["width_px"]) == (201, 4)
    assert sent.json()["size_bytes"] < 2000


def test_an_own_part_is_made_changed_and_taken_away(program):
    made = program.send("PUT", "parts/own-bar-200", {"part": BAR})
    now = made.json()
    assert (made.status_code, now["is_own"], now["is_editable"]) == (200, True, True)
    assert {name: now["part"][name] for name in BAR} == BAR
    assert program.get("parts/own-bar-200").json() == now
    trouble(program.send("PUT", "parts/own-bar-200", {"part": BAR}), 409)
    larger = {**BAR, "rating_a": 250.0}
    changed = program.send("PUT", "parts/own-bar-200", {"part": larger, "stamp": now["stamp"]})
    assert changed.json()["part"]["rating_a"] == 250.0
    late = program.send("PUT", "parts/own-bar-200", {"part": BAR, "stamp": now["stamp"]})
    assert "new stamp" in trouble(late, 409)["mend"]
    logged = Event.objects.filter(what="part changed").latest("pk")
    assert logged.detail == "own-bar-200: rating_a 200 to 250"
    assert program.send("DELETE", "parts/own-bar-200", b"").json() == {"removed": "own-bar-200"}
    trouble(program.get("parts/own-bar-200"), 404)
    trouble(program.send("DELETE", "parts/own-bar-200", b""), 404)


def test_a_part_that_any_revision_names_stays(program, job, bar):
    first = text_of(job)
    put(job, first, f'{first}\n# spare: "own-bar-200"\n')
    job.refresh_from_db()
    put(job, '# spare: "own-bar-200"\n', "")
    assert "own-bar-200" not in text_of(job)
    trouble(program.send("DELETE", "parts/own-bar-200", b""), 409)
    assert program.get("parts/own-bar-200").json() == bar


def test_a_job_that_builds_a_changed_part_in_says_so(program, job, bar):
    put(job, 'part = "bus-100"', 'part = "own-bar-200"')
    larger = {"part": {**BAR, "rating_a": 300.0}, "stamp": bar["stamp"], "why": "new data sheet"}
    assert program.send("PUT", "parts/own-bar-200", larger).status_code == 200
    last = Revision.objects.filter(job=job).latest("number")
    assert ("rating_a 200 to 300" in last.what, last.why) == (True, "new data sheet")


@pytest.mark.parametrize(
    ("value", "where"),
    [
        ({"part": {**BAR, "rating_a": -1}}, "part > rating_a"),
        ({"part": {**BAR, "rating_a": "200"}}, "part > rating_a"),
        ({"part": {name: BAR[name] for name in BAR if name != "source"}}, "part > source"),
        ({"part": {**BAR, "more": 1}}, "part > more"),
        ({"part": {**BAR, "kind": "wheel"}}, "part"),
        ({"part": 3}, "part"),
        ({"part": {**BAR, "id": "other"}}, None),
        ({"part": {**BAR, "name": "a\0b"}}, None),
        ({}, "part"),
    ],
)
def test_a_part_that_is_none_is_told_at_its_place(program, value, where):
    found = trouble(program.send("PUT", "parts/own-bar-200", value), 422)
    assert where in {each["where"] for each in found["problems"]} or (where is None and not found["problems"])
    trouble(program.get("parts/own-bar-200"), 404)


def test_what_comes_with_the_program_is_not_changed(program):
    part = program.get("parts?word=fuse-f-30").json()["parts"][0]
    now = program.get(f"parts/{part['id']}").json()
    assert (now["is_own"], now["is_editable"]) == (False, False)
    for stamp in (None, now["stamp"]):
        trouble(program.send("PUT", f"parts/{part['id']}", {"part": part, "stamp": stamp}), 409)
    trouble(program.send("DELETE", f"parts/{part['id']}", b""), 409)
    trouble(program.send("DELETE", "places/potsdam-de", b""), 409)
    module = program.get("modules").json()["modules"][0]
    trouble(program.send("DELETE", f"modules/{module['id']}/{module['revision']}", b""), 409)
    place = program.get("places/potsdam-de").json()
    asked = {"place": place["place"], "stamp": place["stamp"]}
    trouble(program.send("PUT", "places/potsdam-de", asked), 422)


def test_a_revision_of_a_module_is_kept_never_changed_and_stays_while_used(program, job):
    name = "touring-12v"
    text = (files("ampwright.job") / "modules" / f"{name}.toml").read_text(encoding="utf-8")
    fresh = text.replace('revision = "B"', 'revision = "own.1"')
    path = f"modules/{name}/own.1"
    kept = program.send("PUT", path, {"text": fresh})
    assert (kept.status_code, kept.json()["text"], kept.json()["line"]["is_own"]) == (201, fresh, True)
    assert program.get(path).json() == kept.json()
    trouble(program.send("PUT", path, {"text": fresh + "# more\n"}), 409)
    trouble(program.send("PUT", f"modules/{name}/own.2", {"text": "x = 1"}), 422)
    trouble(program.send("PUT", f"modules/{name}/own.2", {"text": fresh.replace("own.1", "own.3")}), 422)
    before = text_of(job)
    use = f'\n[module]\ndefinition = "{name}"\nrevision = "own.1"\nid = "pm"\nzone = "bench"\n'
    put(job, before, before + use)
    job.refresh_from_db()
    put(job, use, "")
    assert "1 jobs" in trouble(program.send("DELETE", path, b""), 409)["detail"]
    sha256 = hashlib.sha256(before.encode()).hexdigest()  # later backups of this folder hold texts against it
    Revision.objects.filter(job=job).update(text=before, sha256=sha256)
    assert program.send("DELETE", path, b"").status_code == 200
    trouble(program.get(path), 404)


def test_an_own_place_is_made_changed_and_taken_away(program):
    made = program.send("PUT", "places/own-camp", {"place": CAMP})
    now = made.json()
    assert (made.status_code, now["is_own"], now["has_weather_file"]) == (200, True, False)
    assert {name: now["place"][name] for name in CAMP} == CAMP
    trouble(program.send("PUT", "places/own-camp", {"place": CAMP}), 409)
    wrong = {**CAMP, "min_degc": CAMP["max_degc"][::-1]}
    found = trouble(program.send("PUT", "places/own-camp", {"place": wrong, "stamp": now["stamp"]}), 422)
    assert found["problems"]
    higher = {"place": {**CAMP, "elevation_m": 90.0}, "stamp": now["stamp"]}
    assert program.send("PUT", "places/own-camp", higher).json()["place"]["elevation_m"] == 90.0
    assert program.send("DELETE", "places/own-camp", b"").status_code == 200
    trouble(program.get("places/own-camp"), 404)


def test_each_role_does_no_more_than_on_the_pages(job):
    with as_network():
        admin = Program(token_of("admin"))
        kept = admin.send("POST", f"jobs/{job.pk}/photos", picture(), kind=FILE).json()["id"]
        for role in ("bench", "electrician", "read-only"):
            program = Program(token_of(role))
            trouble(program.send("DELETE", f"jobs/{job.pk}", b""), 403)
            trouble(program.send("PUT", f"jobs/{job.pk}/archived", {"is_archived": True}), 403)
            trouble(program.send("PUT", "parts/own-bar-200", {"part": BAR}), 403)
            trouble(program.send("DELETE", "parts/own-bar-200", b""), 403)
            trouble(program.send("PUT", "places/own-camp", {"place": CAMP}), 403)
            trouble(program.send("DELETE", "places/own-camp", b""), 403)
            trouble(program.send("PUT", "modules/x/1", {"text": "x"}), 403)
            trouble(program.send("DELETE", "modules/x/1", b""), 403)
            trouble(program.send("DELETE", f"jobs/{job.pk}/photos/{kept}", b""), 403)
            sent = program.send("POST", f"jobs/{job.pk}/photos", picture(), kind=FILE)
            assert sent.status_code == (403 if role == "read-only" else 201), role
            if sent.status_code == 201:
                own = f"jobs/{job.pk}/photos/{sent.json()['id']}"
                assert program.send("DELETE", own, b"").status_code == 200
        assert JobEntry.objects.get(pk=job.pk).is_archived is False
    Event.objects.filter(what="token refused").delete()

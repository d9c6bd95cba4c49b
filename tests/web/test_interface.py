"""What another program reads, changes and is refused, on the records of the pages."""

import io
import json
import logging
import subprocess
import sys
import zipfile

import pytest
from django.test import Client
from interface_jobs import PASSWORD, Program, as_network, token_of, trouble
from web_jobs import job_from, put, text_of, whole

from ampwright.web.app import workshop_folder
from ampwright.web.models import Account, Event, JobEntry, Revision, Token
from ampwright.web.roles import held_role, roles_within
from ampwright.web.store import starting_texts
from ampwright.web.tokens import account_by_token


@pytest.fixture
def network():
    with as_network():
        yield
    Event.objects.filter(what="token refused").delete()


@pytest.fixture
def program():
    """Return a program at this machine, where nobody logs in."""
    return Program()


def test_a_job_is_made_read_and_listed(program):
    starts = program.get("starts").json()["starts"]
    assert {each["name"]: each["text"] for each in starts} == {
        name: text for name, (_, text) in starting_texts().items()
    }
    text = starts[0]["text"].replace("My van", "A quiet heron")
    made = program.send("POST", "jobs", {"text": text, "why": "from the shop's list"})
    assert made.status_code == 201
    job = made.json()
    assert made.headers["Location"] == f"/api/v1/jobs/{job['id']}"
    assert program.get(f"jobs/{job['id']}").json() == job
    assert (job["title"], job["state"], job["revision"]) == ("A quiet heron", "asked", 1)
    assert program.get("jobs?word=HERON%20quiet").json() == {"jobs": [job], "next_below": None}
    assert program.get("jobs?word=heron&state=built").json()["jobs"] == []
    assert program.get(f"jobs/{job['id']}/text").json()["text"] == text
    only = Revision.objects.get(job_id=job["id"])
    assert (only.made_by, only.why) == ("this machine", "from the shop's list")


def test_a_long_list_comes_in_parts(program, job):
    for number in range(4):
        put(job, "format = 1\n", f"format = 1\n# {number}\n")
    seen, below = [], 2_000_000_000
    while below is not None:
        part = program.get(f"jobs/{job.pk}/revisions?limit=2&below={below}").json()
        seen += [each["number"] for each in part["revisions"]]
        below = part["next_below"]
    assert seen == [5, 4, 3, 2, 1]
    job_from("start")
    first = program.get("jobs?limit=1").json()
    second = program.get(f"jobs?limit=1&below={first['next_below']}").json()
    assert first["jobs"][0]["id"] > second["jobs"][0]["id"]


def test_a_text_is_put_from_the_revision_that_was_read(program, job):
    read = program.get(f"jobs/{job.pk}/text")
    assert read.headers["ETag"] == '"1"'
    text = read.json()["text"].replace("power_w = 60", "power_w = 61")
    saved = program.send(
        "PUT", f"jobs/{job.pk}/text", {"text": text, "why": "measured"}, **{"If-Match": '"1"'}
    )
    assert (saved.status_code, saved.json()["revision"], saved.headers["ETag"]) == (200, 2, '"2"')
    assert text_of(job) == text
    again = program.send("PUT", f"jobs/{job.pk}/text", {"text": text + "# more\n", "before": 2})
    assert again.json()["revision"] == 3
    one = program.get(f"jobs/{job.pk}/revisions/2").json()
    assert (one["line"]["why"], one["text"]) == ("measured", text)


def test_who_comes_second_learns_what_moved(program, job):
    put(job, "power_w = 60", "power_w = 61", why="the label says so")
    job.refresh_from_db()
    put(job, "power_w = 61", "power_w = 62")
    before = text_of(job)
    found = trouble(program.send("PUT", f"jobs/{job.pk}/text", {"text": "x", "before": 1}), 409)
    assert found["revision"] == 3
    assert [(each["number"], each["made_by"], each["why"]) for each in found["moved"]] == [
        (2, "Ada", "the label says so"),
        (3, "Ada", ""),
    ]
    assert text_of(job) == before


@pytest.mark.parametrize(
    ("body", "header", "status"),
    [
        ({"text": "x"}, "", 428),
        ({"text": "x", "before": 1}, '"2"', 422),
        ({"text": "x"}, "W/1", 422),
        ({"text": "x"}, "*", 422),
        ({"text": "x", "before": 0}, "", 422),
        ({"text": "x", "before": "1"}, "", 422),
        ({"text": "x", "before": 1, "more": 1}, "", 422),
        ({"before": 1}, "", 422),
        ({"text": "a\0", "before": 1}, "", 422),
        ({"text": "\ud800", "before": 1}, "", 422),
        ({"text": "x" * 2_000_001, "before": 1}, "", 422),
        ([], "", 422),
    ],
)
def test_what_does_not_say_enough_saves_nothing(program, job, body, header, status):
    trouble(
        program.send("PUT", f"jobs/{job.pk}/text", body, **({"If-Match": header} if header else {})), status
    )
    assert JobEntry.objects.get(pk=job.pk).number == 1


def test_the_length_of_a_text_counts_in_bytes(program, job):
    body = json.dumps({"text": "ä" * 1_200_000, "before": 1}, ensure_ascii=False).encode()
    assert "MB" in trouble(program.send("PUT", f"jobs/{job.pk}/text", body), 422)["mend"]


@pytest.mark.parametrize("content", [b" ", b"{", b"\xff", b'{"text": NaN}', b"[" * 100_000, b"1" * 9_000])
def test_what_is_no_json_is_refused(program, job, content):
    trouble(program.send("PUT", f"jobs/{job.pk}/text", content), 400)


def test_other_kinds_of_bodies_are_refused(program, job):
    trouble(program.send("PUT", f"jobs/{job.pk}/text", b"{}", kind="text/plain"), 415)
    trouble(program.send("POST", "jobs", b"text=x", kind="application/x-www-form-urlencoded"), 415)
    trouble(program.send("POST", "jobs", b" " * 5_600_000), 413)
    kind = "application/octet-stream"
    for size in (12_000_001, 13_500_000):
        trouble(program.send("PUT", f"jobs/{job.pk}/files/a.csv", b" " * size, kind=kind), 413)
    assert program.send("PUT", f"jobs/{job.pk}/files/a.csv", b" " * 12_000_000, kind=kind).status_code == 200


def test_a_fault_of_the_program_is_told_in_the_same_record(program, job, monkeypatch):
    monkeypatch.setattr("ampwright.web.interface.jobs.last_revision", lambda _: 1 // 0)
    program._client.raise_request_exception = False  # noqa: SLF001 - of this test's own class
    logging.disable(logging.CRITICAL)
    trouble(program.get(f"jobs/{job.pk}/text"), 500)
    logging.disable(logging.NOTSET)


def test_a_text_that_is_no_job_is_told_with_places_and_lines(program, job):
    text = text_of(job).replace("system_v = 12", 'system_v = "twelve"')
    found = trouble(program.send("PUT", f"jobs/{job.pk}/text", {"text": text, "before": 1}), 422)
    (problem,) = found["problems"]
    assert problem["where"] == "vehicle > system_v"
    assert problem["line"] == text[: text.index('"twelve"')].count("\n") + 1
    assert "one of 12, 24" in problem["what"]


def test_verdicts_carry_revision_and_stage(program, job):
    quick = program.get(f"jobs/{job.pk}/quick").json()
    assert (quick["revision"], quick["stage"]) == (1, "quick")
    assert "use_verdict" not in quick["quick"]
    assert quick["quick"]["use_rules"]["checked_count"] > 0
    first = program.get(f"jobs/{job.pk}/answer")
    assert (first.status_code, first.json()["stage"], first.headers["Retry-After"]) == (202, "quick", "2")
    assert first.json()["answer"] is None
    assert program.get(f"jobs/{job.pk}/documents/labels").status_code == 202
    trouble(program.get(f"jobs/{job.pk}/documents.zip"), 409)
    whole(job)
    put(job, 'title = "My van"', 'title = "Our van"')
    newer = program.get(f"jobs/{job.pk}/answer")
    assert (newer.status_code, newer.json()["revision"]) == (202, 2)


def test_the_full_answer_is_the_record_of_the_command_line(program, job, tmp_path):
    whole(job)
    full = program.get(f"jobs/{job.pk}/answer")
    assert (full.status_code, full.json()["stage"]) == (200, "full")
    (tmp_path / "job.toml").write_text(text_of(job), encoding="utf-8")
    run = [sys.executable, "-m", "ampwright.cli.main", "check", "job.toml", "--json"]
    said = subprocess.run(run, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert full.json()["answer"] == json.loads(said.stdout)
    listed = program.get(f"jobs/{job.pk}/documents/labels").json()["files"]
    assert [each["name"] for each in listed] == ["labels.pdf"]
    file = program.get(f"jobs/{job.pk}/documents/labels/labels.pdf")
    assert file.content[:5] == b"%PDF-"
    assert file.headers["Content-Disposition"].startswith("attachment")
    left = program.get(f"jobs/{job.pk}/documents/electrician").json()
    assert (left["files"], "mains" in left["left_out"]) == ([], True)
    with zipfile.ZipFile(io.BytesIO(program.get(f"jobs/{job.pk}/documents.zip").content)) as pack:
        assert {"labels.pdf", "contents.json"} <= set(pack.namelist())
    trouble(program.get(f"jobs/{job.pk}/documents/nothing"), 404)
    trouble(program.get(f"jobs/{job.pk}/documents/labels/other.pdf"), 404)


def test_a_job_in_which_a_name_leads_nowhere_says_so(program, job):
    put(job, 'site = "potsdam-de"', 'site = "nowhere"')
    for path in ("quick", "answer"):
        found = program.get(f"jobs/{job.pk}/{path}")
        assert (found.status_code, found.json()["stage"]) == (200, "problems")
        assert found.json()["problems"][0]["what"]


def test_files_parts_and_places(program, job):
    content = b'[[part]]\nkind = "cable"\n'
    kept = program.send("PUT", f"jobs/{job.pk}/files/own.toml", content, kind="application/octet-stream")
    assert (kept.status_code, kept.json()["what"]) == (200, "file own.toml added")
    (line,) = program.get(f"jobs/{job.pk}/files").json()["files"]
    assert (line["name"], line["size_bytes"]) == ("own.toml", len(content))
    assert program.get(f"jobs/{job.pk}/files/own.toml").content == content
    for name in ("x.exe", "..%2Fsecret.toml", "job.toml", ".hidden.toml"):
        response = program.send("PUT", f"jobs/{job.pk}/files/{name}", b"x", kind="application/octet-stream")
        trouble(response, 404 if "%2F" in name else 422)
    trouble(program.get(f"jobs/{job.pk}/files/..%5Cjob"), 404)
    found = program.get("parts?word=fuse-f-3").json()["parts"]
    assert all("fuse-f-3" in each["id"] for each in found)
    assert {"rating_a", "kind"} <= set(found[0])
    (place,) = program.get("places?word=denver").json()["places"]
    assert len(place["ghi_kwh_m2_day"]) == 12


def test_the_state_is_moved_and_logged(program, job):
    assert program.send("PUT", f"jobs/{job.pk}/state", {"state": "quoted"}).json()["state"] == "quoted"
    assert Event.objects.filter(what="state", detail__contains="asked to quoted").exists()
    trouble(program.send("PUT", f"jobs/{job.pk}/state", {"state": "sold"}), 422)


def test_addresses_and_methods_that_are_not_there(program, job):
    for path in ("nothing", "jobs/0/x", "jobs/99999999", "jobs/" + "9" * 40, f"jobs/{job.pk}/revisions/7"):
        trouble(program.get(path), 404)
    found = program.send("DELETE", f"jobs/{job.pk}/text", b"")
    trouble(found, 405)
    assert found.headers["Allow"] == "GET, HEAD, PUT"
    for query in ("x=1", "limit=0", "limit=two", "is_archived=1", "word=a&word=b", "below=1.5"):
        assert trouble(program.get(f"jobs?{query}"), 422)["mend"]
    trouble(program.get("starts?x=1"), 422)
    trouble(program.get("jobs?word=%00"), 422)


def test_at_this_machine_a_page_of_another_site_gets_nothing(program, job):
    for header in (
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ):
        trouble(program.get("jobs", **header), 403)
        trouble(program.send("PUT", f"jobs/{job.pk}/state", {"state": "built"}, **header), 403)
    assert program.get("jobs", Origin="http://127.0.0.1").status_code == 200
    assert "Access-Control-Allow-Origin" not in program.get("jobs").headers


@pytest.mark.usefixtures("network")
def test_in_the_network_only_a_token_lets_in(job):
    client = Client(HTTP_HOST="127.0.0.1")
    token = token_of("admin")
    name = Account.objects.latest("pk").name
    assert client.post("/login", {"name": name, "password": PASSWORD}).status_code == 302
    for path in ("", "jobs", "openapi.json", "nothing", f"jobs/{job.pk}/text"):
        refused = client.get(f"/api/v1/{path}")  # logged in on the pages: that does not count here
        trouble(refused, 401)
        assert refused.headers["WWW-Authenticate"].startswith("Bearer")
    assert Program(token).get("").json()["role"] == "admin"
    assert Program(token).get("openapi.json").json()["openapi"] == "3.1.0"
    for header in (f"Basic {token}", "Bearer", f"Bearer {token}x", token):
        trouble(Program().get("jobs", Authorization=header), 401)


@pytest.mark.usefixtures("network")
def test_a_token_may_no_more_than_its_role(job):
    may = {"admin": (201, 200), "designer": (201, 200), "bench": (403, 200), "read-only": (403, 403)}
    may["electrician"] = (403, 403)
    for role, (made, moved) in may.items():
        program = Program(token_of(role, of_account="admin"))
        text = starting_texts()["start"][1]
        assert program.send("POST", "jobs", {"text": text}).status_code == made, role
        state = program.send("PUT", f"jobs/{job.pk}/state", {"state": "built"})
        assert state.status_code == moved, role
        assert program.get(f"jobs/{job.pk}/text").status_code == 200
        kind = "application/octet-stream"
        kept = program.send("PUT", f"jobs/{job.pk}/files/a.csv", b"x", kind=kind)
        assert kept.status_code == (200 if made == 201 else 403)


def test_a_role_holds_what_lies_within_it():
    assert roles_within("bench") == ("bench", "read-only")
    assert "admin" not in roles_within("designer")
    assert roles_within("read-only") == ("read-only",)
    assert held_role("designer", "bench") == "read-only"
    assert held_role("bench", "designer") == "bench"


@pytest.mark.usefixtures("network")
def test_a_token_ends_with_its_time_its_person_and_its_revoking():
    token = token_of("designer")
    kept = Token.objects.latest("pk")
    assert token not in json.dumps(list(Token.objects.values("sha256", "label")))
    assert account_by_token(token).role == "designer"
    assert Token.objects.get(pk=kept.pk).used_at is not None
    Account.objects.filter(pk=kept.account_id).update(role="bench")
    assert account_by_token(token).role == "read-only"
    Account.objects.filter(pk=kept.account_id).update(is_active=False)
    assert account_by_token(token) is None
    Account.objects.filter(pk=kept.account_id).update(is_active=True, role="designer")
    Token.objects.filter(pk=kept.pk).update(expires_at=kept.made_at)
    assert account_by_token(token) is None


@pytest.mark.usefixtures("network")
def test_wrong_tokens_have_to_wait_and_are_in_the_log():
    token = token_of("designer")
    for _ in range(20):
        trouble(Program("aw_wrong").get("jobs"), 401)
    late = Program("aw_wrong").get("jobs")
    trouble(late, 429)
    assert late.headers["Retry-After"]
    assert Program(token).get("jobs").status_code == 200  # another's mistake shuts nobody out
    assert Event.objects.filter(what="token refused").count() == 20


@pytest.mark.usefixtures("network")
def test_a_person_makes_a_token_sees_it_once_and_revokes_it():
    token_of("bench")
    name = Account.objects.latest("pk").name
    client = Client(HTTP_HOST="127.0.0.1")
    client.post("/login", {"name": name, "password": PASSWORD})
    made = client.post("/tokens", {"label": "bin 7", "role": "bench", "days": "7"})
    token = made.content.decode().partition('value="aw_')[2].partition('"')[0]
    assert Program(f"aw_{token}").get("").json() == {
        "program_version": "0.1.0",
        "account": name,
        "role": "bench",
    }
    page = client.get("/tokens").content.decode()
    assert "bin 7" in page
    assert token not in page
    assert not Event.objects.filter(detail__contains=token).exists()
    kept = Token.objects.get(label="bin 7")
    other = Client(HTTP_HOST="127.0.0.1")
    token_of("designer")
    other.post("/login", {"name": Account.objects.latest("pk").name, "password": PASSWORD})
    assert "bin 7" not in other.get("/tokens").content.decode()
    assert other.post(f"/tokens/{kept.pk}/revoke").status_code == 404
    assert client.post(f"/tokens/{kept.pk}/revoke").status_code == 302
    trouble(Program(f"aw_{token}").get(""), 401)
    assert {"token made", "token revoked"} <= set(
        Event.objects.filter(who=name).values_list("what", flat=True)
    )
    for bad in ({"role": "designer"}, {"days": "0"}, {"days": "400"}, {"days": "x"}, {"label": ""}):
        asked = {"label": "more", "role": "bench", "days": "7", **bad}
        assert client.post("/tokens", asked).status_code == 422, bad


BAR = """[[part]]
id = "workshop-bus-200"
kind = "bus-bar"
name = "Bus bar 200 A"
source = "data sheet, revision 3"
rating_a = 200
rated_dc_v = 48
stud_count = 4
resistance_ohm = 0.00015
"""


def test_the_workshops_own_parts_are_among_them(program):
    file = workshop_folder() / "parts" / "interface-bar.toml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(BAR, encoding="utf-8")
    try:
        (found,) = program.get("parts?word=workshop-bus").json()["parts"]
    finally:
        file.unlink()
    assert (found["id"], found["rating_a"], found["kind"]) == ("workshop-bus-200", 200.0, "bus-bar")
    assert program.get("parts?word=workshop-bus").json()["parts"] == []

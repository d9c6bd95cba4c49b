"""The same app on a PostgreSQL server started for this test, where one can be started."""

from __future__ import annotations

import getpass
import os
import shutil
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

import pytest

CODE = """
import sys
from pathlib import Path
from ampwright.web.serve import prepared
prepared(Path(sys.argv[1]), is_lan=False)
from django.db import connection
from django.test import Client
app = Client(HTTP_HOST="127.0.0.1")
assert connection.vendor == "postgresql"
assert app.post("/new", {"from": "start"}).status_code == 302
edit = {"path": "load.2.power_w", "known": "declared", "value": "61", "was": "60", "row": "laptop"}
assert '"saved"' in app.post("/jobs/1/edit", edit).headers["HX-Trigger"]
assert '"meanwhile"' in app.post("/jobs/1/edit", edit | {"value": "62"}).headers["HX-Trigger"]
assert app.post("/jobs/1/undo").status_code == 302
assert "power_w = 60" in app.get("/jobs/1/export").content.decode()
assert app.get("/jobs/1/history").content.decode().count("<tr>") == 4
assert app.get("/", {"word": "VAN"}).content.decode().count("My van") >= 1
api = "/api/v1/jobs/1/text"
text = app.get(api).json()["text"]
late = app.put(api, {"text": text, "before": 1}, content_type="application/json")
assert (late.status_code, len(late.json()["moved"])) == (409, 2)
put = app.put(api, {"text": text + "# end\\n", "before": 3}, content_type="application/json")
assert put.json()["revision"] == 4
assert app.get("/api/v1/jobs/" + "9" * 30).status_code == 404
made = app.post("/tokens", {"label": "list", "role": "read-only", "days": "7"}).content.decode()
token = "aw_" + made.partition('value="aw_')[2].partition('"')[0]
import io, re
from django.core.files.uploadedfile import SimpleUploadedFile
backup = b"".join(app.post("/backup").streaming_content)
app.post("/new", {"from": "start"})
seen = app.post("/backup/restore", {"file": SimpleUploadedFile("a.zip", backup)}).content.decode()
form = dict(re.findall(r'type="hidden" name="(name|sha256)" value="([^"]*)"', seen))
gone = app.post("/backup/restore/now", {**form, "word": "restore"})
assert gone.status_code == 200, gone.content.decode()
assert app.get("/api/v1/jobs").json()["jobs"][0]["id"] == 1
assert app.get(api).json()["text"] == text + "# end\\n"
assert app.get("/api/v1/", headers={"Authorization": f"Bearer {token}"}).status_code == 401
made = app.post("/tokens", {"label": "list", "role": "read-only", "days": "7"}).content.decode()
token = "aw_" + made.partition('value="aw_')[2].partition('"')[0]
assert app.post("/new", {"from": "start"}).status_code == 302
hello = app.get("/api/v1/", headers={"Authorization": f"Bearer {token}"})
assert hello.json()["role"] == "read-only"
assert app.get("/api/v1/", headers={"Authorization": "Bearer \\x00"}).status_code == 401
connection.close()
print("whole")
"""


def programs():
    """Return the folder with the server's programs."""
    here = shutil.which("initdb")
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    return Path(here).resolve().parent if here else found[-1].parent if found else None


@pytest.fixture
def server():
    """Start a server of its own, reached by a socket alone."""
    folder = programs()
    if folder is None:
        pytest.skip("no PostgreSQL server is installed")
    owner = {"user": "postgres"} if os.getuid() == 0 else {}
    with tempfile.TemporaryDirectory(prefix="ampwright-pg-") as name:
        if owner:
            shutil.chown(name, "postgres")
        data, socket = f"{name}/d", f"-k {name} -c listen_addresses="
        run = {
            "stdout": subprocess.DEVNULL,
            "stderr": subprocess.DEVNULL,
            "cwd": name,
            **owner,
        }
        subprocess.run([folder / "initdb", "-D", data, "-A", "trust"], check=True, **run)
        subprocess.run([folder / "pg_ctl", "-D", data, "-o", socket, "-w", "start"], check=True, **run)
        try:
            subprocess.run([folder / "createdb", "-h", name, "shop"], check=True, **run)
            yield name, owner.get("user", getpass.getuser())
        finally:
            subprocess.run([folder / "pg_ctl", "-D", data, "-m", "fast", "-w", "stop"], check=True, **run)


def test_jobs_are_kept_on_a_server(server, tmp_path):
    pytest.importorskip("psycopg")
    host, user = server
    text = f'[postgresql]\nname = "shop"\nuser = "{user}"\nhost = "{host}"\n'
    (tmp_path / "web.toml").write_text(text, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", CODE, str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.stdout.strip(), done.stderr) == ("whole", "")


FILL = """
import sys
from pathlib import Path
from ampwright.web.serve import make_account, prepared
prepared(Path(sys.argv[1]), is_lan=False)
from django.test import Client
app = Client(HTTP_HOST="127.0.0.1")
assert app.post("/new", {"from": "start"}).status_code == 302
text = app.get("/api/v1/jobs/1/text").json()["text"] + "# \\u20ac\\n"
assert app.put("/api/v1/jobs/1/text", {"text": text, "before": 1}, content_type="application/json").status_code == 200
make_account("Ada", password="a long walk in the rain", role="admin")
"""


def ran(*words):
    done = subprocess.run([sys.executable, *map(str, words)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, ""), done.stderr
    return done.stdout


def tables(file):
    """Return the tables of a backup without the lines that say it was restored."""
    with zipfile.ZipFile(file) as archive:
        names = [name for name in archive.namelist() if name.startswith("tables/")]
        found = {name: archive.read(name).splitlines() for name in names}
    events = found["tables/Event.jsonl"]
    return found | {"tables/Event.jsonl": [line for line in events if b'"restored"' not in line]}


def test_a_workshop_moves_from_a_file_to_a_server_and_back(server, tmp_path):
    pytest.importorskip("psycopg")
    host, user = server
    app = ("-m", "ampwright.cli.main")
    ran("-c", FILL, tmp_path / "one")
    ran(*app, "backup", tmp_path / "one.zip", "--data", tmp_path / "one")
    (tmp_path / "two").mkdir()
    text = f'[postgresql]\nname = "shop"\nuser = "{user}"\nhost = "{host}"\n'
    (tmp_path / "two" / "web.toml").write_text(text, encoding="utf-8")
    ran(*app, "restore", tmp_path / "one.zip", "--data", tmp_path / "two")
    assert not (tmp_path / "two" / "ampwright.sqlite3").exists()
    ran(*app, "backup", tmp_path / "two.zip", "--data", tmp_path / "two")
    ran(*app, "restore", tmp_path / "two.zip", "--data", tmp_path / "three")
    ran(*app, "backup", tmp_path / "three.zip", "--data", tmp_path / "three")
    assert len(tables(tmp_path / "one.zip")["tables/Revision.jsonl"]) == 2
    assert tables(tmp_path / "one.zip") == tables(tmp_path / "two.zip") == tables(tmp_path / "three.zip")
    more = "import sys; from pathlib import Path; from ampwright.web.serve import prepared; "
    more += "prepared(Path(sys.argv[1]), is_lan=False); from django.test import Client; "
    more += "assert Client(HTTP_HOST='127.0.0.1').post('/new', {'from': 'start'}).headers['Location'] == "
    ran("-c", more + "'/jobs/2/page/vehicle'", tmp_path / "two")  # numbers go on where they were
    again = [sys.executable, *app, "restore", tmp_path / "one.zip", "--data", tmp_path / "two", "--replace"]
    refused = subprocess.run(again, capture_output=True, text=True, check=False)
    assert refused.returncode == 2
    assert "not empty" in refused.stderr

"""The web app as a server process over HTTP: first page, from an edit to the verdict, memory at rest.

Clients pause between edits as somebody who types does; every edit asks for a full answer too, which works meanwhile.
"""

from __future__ import annotations

import http.cookiejar
import os
import re
import signal
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.measure import Figure

from ampwright.web.words.compiled import compiled_folder

FIRST_PAGE_KB = 60.0
FIRST_PAGE_S = 0.6
ONE_CLIENT_MS = 150.0
FIVE_CLIENTS_MS = 250.0
REST_MB = 120.0
EDITS = 20
PAUSE_S = 1.0
"""Between two edits of one person (own choice)."""
REST_S = 5.0
"""Set for the bench, so that it need not wait for ten minutes."""
FIELD = "load.2.power_w"


class Client:
    """One browser without a screen, on a job of its own."""

    def __init__(self, url: str) -> None:
        self.url = url
        self._opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        )
        self.job = ""
        self.token = ""

    def get(self, path: str) -> bytes:
        with self._opener.open(self.url + path, timeout=120) as response:
            return bytes(response.read())

    def post(self, path: str, typed: dict[str, str]) -> str:
        request = urllib.request.Request(  # noqa: S310 - our own server
            self.url + path,
            urllib.parse.urlencode({"csrfmiddlewaretoken": self.token, **typed}).encode(),
            headers={"Referer": self.url},
        )
        with self._opener.open(request, timeout=120) as response:
            self.notice = response.headers.get("HX-Trigger", "")
            return str(response.geturl())

    def begin(self) -> None:
        """Begin a job, and have its first verdict."""
        self.token = re.findall(r'csrfmiddlewaretoken" value="([^"]+)', self.get("new").decode())[0]
        self.job = self.post("new", {"from": "start"}).partition("jobs/")[2].partition("/")[0]
        self.get(f"jobs/{self.job}/live")

    def edit_ms(self, value: int) -> float:
        """Milliseconds from sending an edit to its quick verdict."""
        began = time.perf_counter()
        self.post(f"jobs/{self.job}/edit", {"path": FIELD, "known": "declared", "value": str(value)})
        verdict = self.get(f"jobs/{self.job}/live")
        took_ms = 1000.0 * (time.perf_counter() - began)
        if '"saved"' not in self.notice or b"verdict-" not in verdict:
            raise RuntimeError(f"the edit was not taken: {self.notice[:200]}")
        return took_ms

    def edits_ms(self, first: int) -> list[float]:
        found = []
        for number in range(EDITS):
            found.append(self.edit_ms(first + number))
            time.sleep(PAUSE_S)
        return found

    def wait_for_full(self) -> None:
        while b"<progress" in (page := self.get(f"jobs/{self.job}/live")) or b"hx-trigger" in page:
            time.sleep(0.5)


def web_figures() -> Iterator[Figure]:
    """Yield the figures of one server."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "web.toml").write_text(f"rest_s = {REST_S}\n", encoding="utf-8")
        compiled_folder(Path(folder))  # as on every start but the first
        with _server(Path(folder)) as (url, pid):
            clients = [Client(url) for _ in range(5)]
            for client in clients:
                client.begin()
            yield from _first_page(clients[0])
            yield from _edits(clients)
            yield from _memory(clients, pid)


@contextmanager
def _server(folder: Path) -> Iterator[tuple[str, int]]:
    command = [sys.executable, "-m", "ampwright.cli.main", "serve", "--data", str(folder), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        try:
            said = process.stdout.readline() if process.stdout else ""
            yield said.split()[-1], process.pid
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(30)


def _first_page(client: Client) -> Iterator[Figure]:
    page = client.get("").decode()
    parts = [each.lstrip("/") for each in re.findall(r'(?:href|src)="(/static/[^"]+)"', page)]
    size = len(page.encode()) + sum(len(client.get(part)) for part in parts)
    yield Figure(what="web: first page, all of it", value=size / 1000.0, unit="kB", limit=FIRST_PAGE_KB)
    times = []
    for _ in range(11):
        began = time.perf_counter()
        for path in ("", *parts):
            client.get(path)
        times.append(time.perf_counter() - began)
    yield Figure(what="web: first page", value=statistics.median(times), unit="s", limit=FIRST_PAGE_S)


def _edits(clients: list[Client]) -> Iterator[Figure]:
    alone = clients[0].edits_ms(20)
    yield Figure(
        what="web: edit to quick verdict, one client",
        value=statistics.median(alone),
        unit="ms",
        limit=ONE_CLIENT_MS,
        note=f"median of {EDITS}, largest {max(alone):.0f}; {_load()}",
    )
    together: list[float] = []
    threads = [
        threading.Thread(target=lambda each=client: together.extend(each.edits_ms(50)))  # type: ignore[misc]
        for client in clients
    ]
    for thread in threads:
        thread.start()
        time.sleep(PAUSE_S / len(clients))
    for thread in threads:
        thread.join()
    yield Figure(
        what="web: edit to quick verdict, five clients",
        value=statistics.quantiles(together, n=20)[-1],
        unit="ms",
        limit=FIVE_CLIENTS_MS,
        note=f"95 of 100, median {statistics.median(together):.0f}, an edit each {PAUSE_S:g} s and person; {_load()}",
    )


def _load() -> str:
    """How busy the machine is: other work makes these figures longer."""
    return f"{os.getloadavg()[0]:.1f} processes on {os.cpu_count()} cores"


def _memory(clients: list[Client], pid: int) -> Iterator[Figure]:
    for client in clients:
        client.wait_for_full()
    client.get(f"jobs/{client.job}/documents/report")
    at_work_mb = _resident_mb(pid)
    time.sleep(REST_S + 6.0)
    yield Figure(
        what="web: memory at rest, all processes",
        value=_resident_mb(pid),
        unit="MB",
        limit=REST_MB,
        note=f"after answers and documents; {at_work_mb:.0f} at work",
    )
    yield Figure(what="web: edit to quick verdict after a rest", value=client.edit_ms(99) / 1000.0, unit="s")


def _resident_mb(pid: int) -> float:
    """Resident memory of a process and of all below it."""
    own = Path(f"/proc/{pid}")
    (resident_kb,) = re.findall(r"VmRSS:\s+(\d+)", (own / "status").read_text(encoding="utf-8")) or ("0",)
    below = [
        int(each) for task in (own / "task").iterdir() for each in (task / "children").read_text().split()
    ]
    return int(resident_kb) / 1024.0 + sum(_resident_mb(each) for each in below)

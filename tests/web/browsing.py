"""A running app and what tests do with it in a real browser."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from contextlib import contextmanager

START = "from ampwright.cli.main import main; main()"
CHROMIUM = "/usr/bin/chromium"
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip
VERDICT = "#live .verdict b"


class Server:
    """One running app."""

    def __init__(self, data, port=0):
        self.data = data
        words = ["serve", "--data", str(data), "--port", str(port)]
        self.process = subprocess.Popen(
            [sys.executable, "-c", START, *words], stdout=subprocess.PIPE, text=True
        )
        self.url = re.search(r"http://\S+/", self.process.stdout.readline())[0]
        self.port = int(self.url.rstrip("/").rpartition(":")[2])

    def stop(self, sign=signal.SIGTERM):
        self.process.send_signal(sign)
        self.process.wait(20)
        self.process.stdout.close()


@contextmanager
def serving(data, port=0):
    server = Server(data, port)
    try:
        yield server
    finally:
        if server.process.poll() is None:
            server.stop()


def begun(page, server):
    """Begin a job and return the address of its pages."""
    page.goto(f"{server.url}new")
    page.get_by_role("button", name="Starting job").click()
    page.wait_for_selector(VERDICT)
    return page.url.rpartition("page/")[0]

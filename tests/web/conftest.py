"""The web app on a data folder of its own; in a process that another test set up, on that one."""

from __future__ import annotations

import atexit
import shutil
import sys
import tempfile
from pathlib import Path

import pytest

from ampwright.web.serve import prepared

sys.path.insert(0, str(Path(__file__).parent))
DATA = Path(tempfile.mkdtemp(prefix="ampwright-web-"))
atexit.register(shutil.rmtree, DATA, ignore_errors=True)
prepared(DATA, is_lan=False)

from browsing import CHROMIUM, FLAGS, serving  # noqa: E402
from django.test import Client  # noqa: E402 - only once Django is set up
from web_jobs import NAME, job_from  # noqa: E402


@pytest.fixture
def browser():
    """Return a client without JavaScript at this machine, cross-site protection on."""
    return Client(HTTP_HOST="127.0.0.1")


@pytest.fixture
def job():
    """Return a job begun from the starting job."""
    return job_from(NAME)


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("served")) as found:
        yield found


@pytest.fixture(scope="module")
def chromium():
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only where a browser is wanted

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        yield browser
        browser.close()


@pytest.fixture
def page(chromium):
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    context.set_default_timeout(60_000)
    made = context.new_page()
    yield made
    context.close()

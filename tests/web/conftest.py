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

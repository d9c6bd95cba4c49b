"""The real command in a process of its own."""

import os
import subprocess
import sys
from importlib.resources import files

START = "from ampwright.cli.main import main; main()"


def ampwright(*arguments, cwd=None, **environment):
    """Run the command as a user does; output is text of 80 columns without colour."""
    plain = {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(
        [sys.executable, "-c", START, *map(str, arguments)],
        capture_output=True,
        encoding="utf-8",
        errors="surrogateescape",
        check=False,
        cwd=cwd,
        timeout=120,
        env={**os.environ, **plain, **environment},
    )


def example(name):
    return files("ampwright") / "examples" / f"{name}.toml"


def refused(done):
    """Return what a refusal says, after looking at its form."""
    assert done.returncode == 2, (done.returncode, done.stdout, done.stderr)
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    assert done.stderr.strip()
    return done.stderr

"""Help is quick, names an example for every command, and the docs hold the same words."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import typer
from runs import START, ampwright

from ampwright import __version__
from ampwright.cli.main import app

COMMANDS = sorted(typer.main.get_command(app).commands)
HEAVY = ("numpy", "numba", "pydantic", "pvlib", "pandas", "scipy", "typst", "rich.progress", "tree_sitter")


def test_the_commands_of_the_docs_are_these():
    docs = Path(__file__).parents[2] / "docs" / "commands.md"
    documented = re.findall(r"^<!-- ampwright (\w+) -->$", docs.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(documented) == COMMANDS
    assert {"check", "demo", "new", "parts", "schema", "sites"} <= set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_help_names_an_example(command):
    done = ampwright(command, "--help")
    assert done.returncode == 0
    assert "Example" in done.stdout
    assert f"ampwright {command}" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


@pytest.mark.parametrize("words", [(), *((command,) for command in COMMANDS)])
def test_the_short_option_is_the_long_one(words):
    assert ampwright(*words, "-h").stdout == ampwright(*words, "--help").stdout


def test_help_names_every_command_and_the_way_in():
    said = ampwright("--help").stdout
    assert [name for name in COMMANDS if f"  {name} " not in said] == []
    assert "ampwright new my-van.toml" in " ".join(said.split())


def test_exit_codes_stand_in_the_help():
    said = " ".join(ampwright("check", "--help").stdout.split())
    assert "0 suits and no fault found, 1 does not suit, 2 bad input, 3 do not energise, 4 not fully" in said


def test_without_a_command_the_help_is_shown():
    done = ampwright()
    assert "Commands" in done.stdout + done.stderr
    assert "Traceback" not in done.stderr


def test_version():
    assert ampwright("--version").stdout.strip() == f"ampwright {__version__}"


def loaded_modules(*arguments):
    """Return what a command has imported when it ends."""
    code = (
        "import atexit, json, sys\n"
        "atexit.register(lambda: print(json.dumps(sorted(sys.modules)), file=sys.stderr))\n" + START
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True, env=os.environ
    )
    return set(json.loads(done.stderr.splitlines()[-1]))


@pytest.mark.parametrize("arguments", [["--help"], ["--version"]])
def test_help_imports_nothing_heavy(arguments):
    loaded = loaded_modules(*arguments)
    assert "typer" in loaded
    assert loaded & set(HEAVY) == set()


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_a_command_imports_only_what_typer_wants(command):
    """The parser of arguments brings pydantic itself, as of typer 0.29."""
    loaded = loaded_modules(command, "--help")
    assert loaded & set(HEAVY) <= {"pydantic"}
    assert "ampwright.api" not in loaded

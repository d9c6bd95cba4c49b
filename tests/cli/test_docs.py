"""docs/job-file.md and docs/commands.md say what the program says, and their snippets are read."""

import re
import runpy
import tomllib
from dataclasses import is_dataclass
from pathlib import Path

import pytest
from job_files import position, put, saved, starting, starting_text, van
from runs import ampwright

from ampwright.climate.sources import shipped_sites
from ampwright.field_types import field_hints, options
from ampwright.job.load import load_job
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.records import Job

ROOT = Path(__file__).parents[2]
REFERENCE = runpy.run_path(str(ROOT / "tools" / "reference.py"))
PAGES = ("job-file.md", "commands.md", "regions.md")


def page(name):
    return (ROOT / "docs" / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_generated_parts_are_up_to_date(name):
    """Run `make docs` where this fails."""
    documents = {path.name: text for path, text in REFERENCE["documents"]().items()}
    assert documents[name] == page(name)


def test_examples_of_commands_name_places_that_are_shipped():
    named = re.findall(r"--sites\s+(\S+)", re.sub(r"-\n\s+", "-", page("commands.md")))
    ids = {name for each in named for name in each.split(",")} - {"<str>"}
    assert ids
    assert ids <= set(shipped_sites())


def records_below(kind, found):
    """Collect every record that a job file can hold."""
    base = getattr(kind, "__origin__", kind)
    if isinstance(base, type) and is_dataclass(base) and base not in found:
        found.add(base)
        for hint in field_hints(base).values():
            records_in(hint, found)
    return found


def records_in(hint, found):
    for option in options(hint):
        records_below(option, found)
        for inner in getattr(option, "__args__", ()):
            if inner is not option:
                records_in(inner, found)


def test_every_record_of_a_job_file_has_its_table():
    found = records_below(Job, set())
    assert {Measured, Unknown} < found
    assert found - set(REFERENCE["RECORDS"]) == set()


def test_tables_tell_unit_bounds_default_and_what_may_be_unknown():
    text = page("job-file.md")
    assert "| `length_m` | m | number, more than 0; may be unknown | needed | One-way length. |" in text
    assert "| `shade_frac` | - | number, 0 to 1 | `0` |" in text
    assert '| `units` | - | one of `"metric"`, `"us"` | `"metric"` |' in text


@pytest.mark.parametrize(
    "name",
    ["", "check", "compare", "curves", "demo", "new", "parts", "schema", "settings", "sites", "substitute"],
)
def test_help_on_the_screen_is_the_help_in_the_docs(name):
    words = [name] if name else []
    shown = ampwright(*words, "--help").stdout
    shown = shown.replace("-c [", "ampwright [").replace(f"-c {name}", f"ampwright {name}")
    assert f"```\n{shown.rstrip()}\n```" in page("commands.md").replace(" \n", "\n")


def test_exit_codes_are_those_of_the_help():
    rows = re.findall(r"^\| (\d) \| (.+) \|$", page("commands.md"), re.MULTILINE)
    assert [code for code, _ in rows] == list("01234")


def snippets():
    return re.findall(r"```toml\n(.*?)```", page("job-file.md"), re.DOTALL)


def test_snippets_are_accepted_in_a_job(tmp_path):
    raw = starting()
    raw["load"] = [load for load in raw["load"] if load["id"] != "kettle"]
    taken = 0
    for text in snippets():
        if text.startswith("rating_a"):
            for line in text.splitlines():
                value = tomllib.loads(line)["rating_a"]
                load_job(saved(tmp_path, put(starting(), "vehicle", "alternator", "rating_a", value)))
            continue
        for table, value in tomllib.loads(text).items():
            if isinstance(value, list):
                raw[table] = [*raw.get(table, []), *value]
            else:
                raw[table] = {**raw.get(table, {}), **value}
            taken += 1
    assert taken >= 6
    job = load_job(saved(tmp_path, raw)).job
    assert job.module.options == ("mains-charger",)
    assert job.load[position(raw, "load", "kettle")].when[0].uses == 2


MISTAKES = {
    "job-file.md": (("month = 6", "monht = 6"), ('end = "charger.in"', 'end = "charger"')),
    "tutorial.md": (("rating_a = { unknown", "rating_amps = { unknown"), ('"cable-25"', '"cable-52"')),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_the_complaints_shown_are_the_programs(tmp_path, name):
    shown = re.search(r"```\n(my-van\.toml: .*?)```", page(name), re.DOTALL)[1]
    text = starting_text()
    for right, wrong in MISTAKES[name]:
        head, found, tail = text.partition(f"\n{right}" if "=" in right else right)
        assert found
        text = head + found.replace(right, wrong) + tail
    saved(tmp_path, text, "my-van.toml")
    assert ampwright("check", "my-van.toml", cwd=tmp_path).stderr == shown


def test_the_table_of_nodes_names_what_exists(tmp_path):
    from job_files import design_of  # noqa: PLC0415 - only here

    nodes = design_of(saved(tmp_path, van())).nodes
    assert {"starter-battery", "pm.battery", "pm.shunt.in", "pm.outputs.5", "fridge", "desk-outlet"} <= set(
        nodes
    )
    assert "laptop" not in nodes

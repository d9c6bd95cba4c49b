"""Job files for tests: the shipped jobs as tables to change, and a small writer of TOML."""

import json
import tomllib
from importlib.resources import files

import pytest

from ampwright.errors import JobError
from ampwright.job.load import load_definition, load_job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import catalogue_with, shipped_catalogue

EXAMPLES = ("bicycle-repair-truck", "night-survey-van", "puppet-theatre-tour", "vaccine-outreach")
CATALOGUE = shipped_catalogue()


def example_text(name):
    return (files("ampwright") / "examples" / f"{name}.toml").read_text(encoding="utf-8")


def starting_text():
    return (files("ampwright.job") / "starting_job.toml").read_text(encoding="utf-8")


def starting():
    """Return the tables of the starting job."""
    return tomllib.loads(starting_text())


def van():
    """Return the tables of the shipped job that includes a power module."""
    return tomllib.loads(example_text("night-survey-van"))


def toml_value(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, dict):
        return (
            "{ " + ", ".join(f"{toml_value(key)} = {toml_value(item)}" for key, item in value.items()) + " }"
        )
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml_value, value)) + "]"
    return str(value)


def is_tables(value):
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


def key_lines(table):
    return [f"{toml_value(key)} = {toml_value(value)}" for key, value in table.items()]


def toml_text(raw):
    """Return tables as TOML, one line for each key of a top table."""
    lines = key_lines(
        {key: value for key, value in raw.items() if not isinstance(value, dict) and not is_tables(value)}
    )
    for key, value in raw.items():
        if isinstance(value, dict):
            lines += [f"[{toml_value(key)}]", *key_lines(value)]
        elif is_tables(value):
            for table in value:
                lines += [f"[[{toml_value(key)}]]", *key_lines(table)]
    return "\n".join(lines) + "\n"


def put(raw, *path_and_value):
    """Set the value at a path of keys and positions; None removes it."""
    *path, last, value = path_and_value
    at = raw
    for step in path:
        at = at[step]
    if value is None:
        del at[last]
    elif isinstance(at, list) and last == len(at):
        at.append(value)
    else:
        at[last] = value
    return raw


def position(raw, table, name):
    return next(index for index, item in enumerate(raw[table]) if item["id"] == name)


def saved(folder, raw, name="job.toml"):
    path = folder / name
    path.write_text(raw if isinstance(raw, str) else toml_text(raw), encoding="utf-8")
    return path


def design_of(path):
    loaded = load_job(path)
    catalogue = catalogue_with(CATALOGUE, [path.parent / name for name in loaded.job.parts_files])
    return resolve(loaded.job, catalogue, definition=load_definition(loaded), loaded=loaded)


def problems_of(path):
    """Return everything that is wrong in a job file, and its lines."""
    with pytest.raises(JobError) as caught:
        design_of(path)
    return caught.value.problems, ["", *path.read_text(encoding="utf-8").split("\n")]

"""`ampwright schema`: a valid JSON Schema that takes the shipped jobs and refuses wrong ones."""

import json
import tomllib
from functools import cache

import pytest
from job_files import EXAMPLES, example_text, put, starting
from jsonschema import Draft202012Validator
from runs import ampwright

WRONG = {
    "unknown key": ("season", "monht", 6),
    "missing table": ("vehicle", None),
    "text for a number": ("load", 2, "power_w", "60"),
    "negative": ("run", 0, "length_m", -1),
    "choice": ("job", "region", "uk"),
    "thirteen": ("season", "month", 13),
    "quantity": ("load", 2, "power_w", {"guess": 3}),
    "one end": ("load", 2, "power_w", {"unknown": [3]}),
    "table for list": ("run", {}),
    "format": ("format", 2),
}


@cache
def schema():
    done = ampwright("schema")
    assert (done.returncode, done.stderr) == (0, "")
    return json.loads(done.stdout)


def plain(raw):
    """Return tables as an editor's validator sees them: dates are texts."""
    return json.loads(json.dumps(raw, default=str))


def test_it_is_a_schema_of_its_draft():
    Draft202012Validator.check_schema(schema())
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_takes_the_shipped_jobs(name):
    raw = plain(tomllib.loads(example_text(name)))
    assert [error.message for error in Draft202012Validator(schema()).iter_errors(raw)] == []


def test_it_takes_the_starting_job():
    assert Draft202012Validator(schema()).is_valid(plain(starting()))


@pytest.mark.parametrize("case", WRONG)
def test_it_refuses_what_is_wrong(case):
    assert not Draft202012Validator(schema()).is_valid(plain(put(starting(), *WRONG[case])))


def test_it_is_looser_than_the_program():
    """Names that lead nowhere are for the program alone to find."""
    raw = put(starting(), "run", 0, "end", "nowhere")
    assert Draft202012Validator(schema()).is_valid(plain(raw))


def test_every_field_carries_its_meaning():
    records = [schema(), *schema()["$defs"].values()]
    silent = [
        (record.get("title"), name)
        for record in records
        for name, field in record.get("properties", {}).items()
        if not field.get("description")
    ]
    assert silent == []

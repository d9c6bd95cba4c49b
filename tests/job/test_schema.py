from __future__ import annotations

import jsonschema
import pytest

from ampwright.field_types import field_meanings
from ampwright.job.records import Job
from ampwright.job.schema import job_schema
from ampwright.job.vehicle import Alternator


def test_schema_names_every_table():
    schema = job_schema()
    assert {"job", "vehicle", "place", "season", "use", "day"} <= set(schema["required"])
    assert {"run", "load", "channel", "setting", "load_cutoff"} <= set(schema["properties"])


@pytest.mark.parametrize("kind", [Alternator, Job])
def test_every_key_is_described(kind):
    schema = job_schema()
    table = schema if kind is Job else schema["$defs"][kind.__name__]
    meanings = field_meanings(kind)
    assert set(meanings) == set(table["properties"])
    assert {name: key["description"] for name, key in table["properties"].items()} == meanings


def test_it_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(job_schema())

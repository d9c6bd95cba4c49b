"""The JSON Schema of a job file, for editors and other programs."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core.core_schema import DataclassSchema

from ampwright.field_types import field_meanings
from ampwright.job.records import Job

__all__ = ["WithMeanings", "job_schema"]


class WithMeanings(GenerateJsonSchema):
    """Adds what stands under each field as its description."""

    def dataclass_schema(self, schema: DataclassSchema) -> JsonSchemaValue:
        """Return the schema of a record with the meanings of its fields."""
        made = super().dataclass_schema(schema)
        for name, meaning in field_meanings(schema["cls"]).items():
            made["properties"][name] = {"description": meaning, **made["properties"][name]}
        return made


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file."""
    schema = TypeAdapter(Job).json_schema(schema_generator=WithMeanings)
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "Ampwright job file, format 1"
    return schema

"""Every record of the program: frozen, documented, its numbers named by unit."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import re

import pytest

import ampwright
from ampwright.units import unit_suffix

# a finding is generic and carries its unit as a field; a quantity is what its own field's name says
GENERIC = {
    "Finding": {"value", "limit"},
    "Measured": {"measured"},
    "Unknown": {"unknown", "likely"},
    "UnknownInput": {"low", "high", "likely"},
    "Question": {"turns_at"},
    "Scale": {"low", "high"},
}
NUMBER = re.compile(r"\b(float|Positive|NonNegative|Fraction|Temperature|AnyNumber|\w*Amount)\b")


def _records():
    for info in pkgutil.walk_packages(ampwright.__path__, "ampwright."):
        module = importlib.import_module(info.name)
        for _, value in inspect.getmembers(module, inspect.isclass):
            if value.__module__ == info.name and dataclasses.is_dataclass(value):
                yield value


RECORDS = sorted(set(_records()), key=lambda record: f"{record.__module__}.{record.__qualname__}")


def test_there_are_records():
    assert len(RECORDS) > 80


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_numbers_are_named_by_their_unit(record):
    for field in dataclasses.fields(record):
        if field.name.startswith("_") or field.name in GENERIC.get(record.__name__, set()):
            continue
        if NUMBER.search(str(field.type)) and not re.search(r"Array|dict|tuple\[tuple", str(field.type)):
            assert unit_suffix(field.name) is not None, f"{record.__qualname__}.{field.name}"


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_records_are_frozen_and_slotted(record):
    assert record.__dataclass_params__.frozen
    assert "__slots__" in vars(record)

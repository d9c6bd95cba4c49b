"""Every record of the program: frozen, documented, its numbers named by unit."""

from __future__ import annotations

import atexit
import copy
import dataclasses
import importlib
import inspect
import pickle
import pkgutil
import re
import shutil
import tempfile
from pathlib import Path

import pytest

import ampwright
from ampwright.job.quantity import Unknown
from ampwright.records import record
from ampwright.units import unit_suffix
from ampwright.web.configure import configure
from ampwright.web.place import place_at

DATA = Path(tempfile.mkdtemp(prefix="ampwright-records-"))
atexit.register(shutil.rmtree, DATA, ignore_errors=True)
configure(place_at(DATA, is_lan=False))  # modules of the web app can only be read once Django is set up

# a finding is generic and carries its unit as a field; a quantity is what its own field's name says
GENERIC = {
    "Finding": {"value", "limit"},
    "Measured": {"measured"},
    "Unknown": {"unknown", "likely"},
    "UnknownInput": {"low", "high", "likely"},
    "Question": {"turns_at"},
    "Scale": {"low", "high"},
    "CustomaryUnit": {"factor", "zero"},
    "MeasuringStep": {"expected"},
    # so is a test of the finished build, and what an instrument may be off
    "Contribution": {"half_width"},
    "Instrument": {"finest_digit"},
    "PredictedTest": {"expected", "low", "high"},
    "FirstReading": {"expected", "low", "high"},
    "LogLine": {"measured", "expected", "low", "high"},
    # a setting is generic too: the unit of a range is that of the setting it belongs to
    "SettingRange": {"low", "high"},
    "SettingLine": {"value", "low", "high", "as_left"},
    # so is a cell of a workbook: its column says the unit
    "Cell": {"value"},
    # and a figure of a comparison, which carries its unit as a field
    "Figure": {"before", "after"},
    "FindingChange": {"before", "after", "limit"},
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
        if NUMBER.search(str(field.type)) and not re.search(
            r"Array|dict|tuple\[tuple|Callable|Mapping", str(field.type)
        ):
            assert unit_suffix(field.name) is not None, f"{record.__qualname__}.{field.name}"


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_records_are_frozen_and_slotted(record):
    bare = object.__new__(record)
    name = dataclasses.fields(record)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError, match=name):
        setattr(bare, name, 1)
    with pytest.raises(dataclasses.FrozenInstanceError, match=name):
        delattr(bare, name)
    assert "__slots__" in vars(record)
    assert not hasattr(bare, "__dict__")


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_every_field_is_a_type_and_perhaps_a_default(record):
    for field in dataclasses.fields(record):
        assert field.init
        assert field.compare
        assert field.kw_only
        assert field.default_factory is dataclasses.MISSING


@record
class Point:
    """For these tests."""

    x_m: float
    y_m: float = 0.0


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """The same as the standard library makes it."""

    x_m: float
    y_m: float = 0.0


@record
class Checked:
    """For these tests."""

    count: int

    def __post_init__(self):
        if self.count < 0:
            raise ValueError("count")


def test_a_record_takes_keywords_only():
    assert Point(x_m=1.0) == Point(x_m=1.0, y_m=0.0)
    for wrong in ((1.0,), ()):
        with pytest.raises(TypeError):
            Point(*wrong)
    with pytest.raises(TypeError):
        Point(x_m=1.0, z_m=2.0)


def test_equality_and_hash_are_by_value_and_class():
    assert Point(x_m=1.0) != Point(x_m=2.0)
    assert Point(x_m=1.0) != Usual(x_m=1.0)
    assert hash(Point(x_m=1.0)) == hash(Point(x_m=1, y_m=0))
    assert len({Point(x_m=1.0), Point(x_m=1.0), Point(x_m=1.0, y_m=1.0)}) == 2
    nothing = float("nan")
    assert (Point(x_m=nothing) == Point(x_m=nothing)) == (Usual(x_m=nothing) == Usual(x_m=nothing))


def test_a_record_is_shown_copied_and_changed_as_the_standard_library_does_it():
    point = Point(x_m=1.0, y_m=2.0)
    assert repr(point) == repr(Usual(x_m=1.0, y_m=2.0)).replace("Usual", "Point")
    assert copy.deepcopy(point) == copy.copy(point) == point
    assert dataclasses.replace(point, y_m=3.0) == Point(x_m=1.0, y_m=3.0)
    assert dataclasses.asdict(point) == {"x_m": 1.0, "y_m": 2.0}
    assert inspect.signature(Point).replace(return_annotation=None) == inspect.signature(Usual).replace(
        return_annotation=None
    )
    amount = Unknown(unknown=(1.0, 2.0), ask="read the label")
    assert pickle.loads(pickle.dumps(amount)) == amount  # noqa: S301 - our own bytes


def test_a_record_checks_itself_where_it_says_so():
    with pytest.raises(ValueError, match="count"):
        Checked(count=-1)
    with pytest.raises(ValueError, match="count"):
        dataclasses.replace(Checked(count=1), count=-1)

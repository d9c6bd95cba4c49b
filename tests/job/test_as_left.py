"""Readings replace what is wanted, value by value; a new wish drops the old reading."""

import dataclasses
import datetime as dt

import pytest

from ampwright.job.as_left import CUTOFF_VALUES, VALUES, with_setting
from ampwright.job.wiring import AsLeft, LoadCutoff, Setting


def test_every_reading_has_its_wish():
    assert set(VALUES) <= {field.name for field in dataclasses.fields(Setting)}
    assert set(CUTOFF_VALUES) <= {field.name for field in dataclasses.fields(LoadCutoff)}
    assert {"charge_v", "programme"} <= set(VALUES)


@dataclasses.dataclass(frozen=True)
class OnlySettings:
    setting: tuple[Setting, ...]


@pytest.mark.parametrize("part", ["dc", "new"])
def test_with_setting_changes_one_device(part):
    left = AsLeft(by="R. Lind", date=dt.date(2026, 2, 1), charge_v=14.4, float_v=13.5)
    job = OnlySettings(setting=(Setting(part="mp"), Setting(part="dc", charge_v=14.4, as_left=left)))
    changed = with_setting(job, part, charge_v=14.2).setting
    assert [each.part for each in changed] == ["mp", "dc"] + ([] if part == "dc" else ["new"])
    one = next(each for each in changed if each.part == part)
    assert one.charge_v == 14.2
    if part == "dc":
        assert (one.as_left.charge_v, one.as_left.float_v) == (None, 13.5)

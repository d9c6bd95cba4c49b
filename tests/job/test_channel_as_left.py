"""An output channel that was read back."""

import datetime as dt
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "cases"))
import planted

from ampwright.assessment.settings_plan import settings_plan
from ampwright.findings import Severity

READ = {"by": "R. Lind", "date": dt.date(2026, 2, 1), "how": "app", "limit_a": 9}


def assessed(**left):
    edit = {"set": {"channel/Lights/as_left": {**READ, **left}}}
    return planted.assessed(planted.edited(planted.base_job("base-12v"), edit))


def test_the_checks_use_the_reading_and_the_rule_says_so():
    found = assessed()
    (channel,) = [each for each in found.design.channels if each.number == 5]
    assert channel.limit_a == 9.0
    (wanted,) = [each for each in found.design.wanted_channels if each.number == 5]
    assert wanted.limit_a == 8.0
    told = [f for f in found.findings if (f.rule, f.subject) == ("as-left", "outputs.5")]
    assert [(f.severity, f.value, f.limit) for f in told] == [(Severity.CONDITION, 9.0, 8.0)]


def test_the_sheet_has_both_and_who_read_it():
    device = next(each for each in settings_plan(assessed()).devices if each.id == "outputs")
    line = next(each for each in device.lines if each.name == "channel 5")
    assert (line.value, line.as_left, line.is_off) == (8.0, 9.0, True)
    assert (device.by, device.how) == ("R. Lind", "app")
    other = next(each for each in device.lines if each.name == "channel 6")
    assert (other.as_left, other.is_off) == (None, False)


def test_half_an_ampere_still_agrees():
    found = assessed(limit_a=8.4)
    (told,) = [f for f in found.findings if (f.rule, f.subject) == ("as-left", "outputs.5")]
    assert told.severity is Severity.PASS

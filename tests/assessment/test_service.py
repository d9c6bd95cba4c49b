import dataclasses
import math

import numpy as np
import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.service import COMFORT_LOADS, CONTENTS_TEMPERATURE, ESSENTIAL_LOADS, STORAGE
from ampwright.findings import Severity


def test_loads_are_judged_by_their_priority() -> None:
    found = base("base-12v")
    assert {f.subject for f in of_rule(found, ESSENTIAL_LOADS)} == {"fridge", "lights"}
    assert {f.subject for f in of_rule(found, COMFORT_LOADS)} == {"laptop", "mixer"}


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        ({"contents_low_degc": 2, "contents_high_degc": 8}, "2 °C to 8 °C"),
        ({"contents_high_degc": 8}, "up to 8 °C"),
        ({"contents_low_degc": 2}, "from 2 °C"),
    ],
)
def test_range_of_contents_in_words(limits: dict[str, float], said: str) -> None:
    found = studied(change={f"load/fridge/{name}": value for name, value in limits.items()})
    (finding,) = of_rule(found, CONTENTS_TEMPERATURE)
    assert said in finding.message
    assert finding.severity == Severity.PASS
    assert of_rule(found, ESSENTIAL_LOADS, "fridge") == []


def test_contents_too_cold() -> None:
    found = studied(change={"load/fridge/contents_low_degc": 2})
    degc = found.energy.fridge_degc.copy()
    degc[5, 0] = -1.0
    studies = dataclasses.replace(
        studies_of(found), energy=dataclasses.replace(found.energy, fridge_degc=degc)
    )
    (finding,) = CONTENTS_TEMPERATURE.check(found.design, studies)
    assert (finding.value, finding.limit, finding.at_most, finding.severity) == (
        -1.0,
        2.0,
        False,
        Severity.FAIL,
    )


def test_refrigerator_that_is_never_used_has_no_contents() -> None:
    found = studied(change={"load/fridge/contents_low_degc": 2})
    unused = dataclasses.replace(
        found.energy, fridge_is_used=np.zeros_like(found.energy.fridge_is_used, np.bool_)
    )
    studies = dataclasses.replace(studies_of(found), energy=unused)
    assert list(CONTENTS_TEMPERATURE.check(found.design, studies)) == []


def test_battery_that_nothing_drains() -> None:
    found = base("base-12v")
    idle = dataclasses.replace(found.design.battery_part(), self_discharge_frac_per_month=0.0, standby_a=0.0)
    parts = tuple(
        dataclasses.replace(placed, part=idle)
        if placed.id == "battery"
        else dataclasses.replace(placed, is_on_when="not-stored")
        for placed in found.design.parts
    )
    (finding,) = STORAGE.check(dataclasses.replace(found.design, parts=parts), studies_of(found))
    assert (finding.value, finding.severity) == (None, Severity.PASS)
    assert not math.isnan(finding.limit or 0.0)

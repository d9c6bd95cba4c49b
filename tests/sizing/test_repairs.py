"""Candidates that mend the wiring and the alternator's balance."""

import sys
from pathlib import Path

import pytest

from ampwright.job.records import Job
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.repairs import lower_outputs
from ampwright.validation import validated

sys.path.insert(0, str(Path(__file__).parent.parent / "cases"))
import planted


def proposed(**changes):
    raw = planted.edited(
        planted.base_job("base-12v"),
        {"set": {key.replace("__", "/"): value for key, value in changes.items()}},
    )
    return [
        candidate
        for family in lower_outputs(validated(Job, raw), planted.assessed(raw), shipped_catalogue())
        for candidate in family
    ]


def settings(candidate):
    return {one.part: (one.output_limit_a, one.idle_limit_a) for one in candidate.job.setting}


def test_short_at_idle_alone_is_mended_at_idle_alone():
    # 0.4 of 150 A less 30 A leave 30 A; 40 A of output take 44.9 A: 0.668 of them are 26 A
    idle, both = proposed(vehicle__alternator__hot_idle_frac=0.4)
    assert settings(idle)["charger"] == (None, 26.0)
    assert "idling" in idle.description
    assert settings(both)["charger"] == (26.0, None)


def test_short_on_the_road_is_limited_everywhere():
    (both,) = proposed(vehicle__alternator__hot_road_frac=0.4)
    assert settings(both)["charger"] == (26.0, None)


@pytest.mark.parametrize("frac", [0.7, 0.2])
def test_nothing_to_limit_or_nothing_left(frac):
    assert proposed(vehicle__alternator__hot_idle_frac=frac) == []

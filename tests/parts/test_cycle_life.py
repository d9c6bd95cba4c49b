"""Cycle lives that cannot be are told."""

import dataclasses

import pytest

from ampwright.parts.battery import CyclePoint
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.consistency import contradictions


@pytest.mark.parametrize(
    ("pairs", "word"),
    [
        (((0.5, 400), (0.9, 200)), "depth_frac = 1"),
        (((0.5, 400), (0.5, 300), (1.0, 200)), "rise"),
        (((0.5, 400), (0.8, 500), (1.0, 200)), "shallow to deep"),
    ],
)
def test_curves_that_do_not_reach_one_or_turn_are_refused(pairs, word):
    part = shipped_catalogue().parts["agm-100"]
    curve = tuple(CyclePoint(depth_frac=depth, cycle_count=count) for depth, count in pairs)
    (found,) = contradictions(dataclasses.replace(part, cycle_life=curve))
    assert found[0] == "cycle_life"
    assert word in found[1]

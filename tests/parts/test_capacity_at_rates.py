"""Capacities at several discharge times that cannot be are told."""

import dataclasses

import pytest

from ampwright.parts.battery import RatePoint
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.consistency import contradictions


@pytest.mark.parametrize(
    ("part_id", "pairs", "word"),
    [
        ("agm-100", ((5.0, 84.0), (20.0, 100.0)), "at least 3"),
        ("agm-100", ((1.0, 60.0), (20.0, 100.0), (5.0, 84.0)), "short to long"),
        ("agm-100", ((1.0, 60.0), (5.0, 84.0), (20.0, 80.0)), "short to long"),
        ("lfp-100", ((1.0, 60.0), (5.0, 84.0), (20.0, 100.0)), "lithium"),
    ],
)
def test_tables_that_cannot_be_are_refused(part_id, pairs, word):
    part = shipped_catalogue().parts[part_id]
    rates = tuple(RatePoint(duration_h=hours, capacity_ah=charge) for hours, charge in pairs)
    (found,) = contradictions(dataclasses.replace(part, capacity_at_rates=rates))
    assert found[0] == "capacity_at_rates"
    assert word in found[1]

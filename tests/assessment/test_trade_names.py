"""A cable's area is a figure of its part: its trade name is never read as one."""

import dataclasses

import pytest
from base_jobs import design

from ampwright.assessment.capacity import effective_area_mm2, run_capacity
from ampwright.parts.catalogue import shipped_catalogue

PARTS = shipped_catalogue().parts


def test_cable_sold_by_its_outside_counts_with_its_copper() -> None:
    found = design("base-12v")
    run = next(run for run in found.runs if run.id == "W6")
    outside = PARTS["cable-6-outside"]  # sold as "6 mm", 4.6 mm² of copper
    assert outside.area_mm2 == 4.6
    assert effective_area_mm2(outside) <= 4.6
    true_six = dataclasses.replace(outside, area_mm2=6.0, resistance_ohm_per_km=3.3)
    assert (
        run_capacity(found, run, cable=outside).current_a < run_capacity(found, run, cable=true_six).current_a
    )


@pytest.mark.parametrize("sold_as", ["6 mm outside", "6 mm2", "50 mm2", "2/0 AWG", "no size at all"])
def test_another_trade_name_changes_nothing(sold_as: str) -> None:
    found = design("base-12v")
    run = next(run for run in found.runs if run.id == "W6")
    outside = PARTS["cable-6-outside"]
    renamed = dataclasses.replace(outside, sold_as=sold_as, name=sold_as, id="cable-50")
    assert run_capacity(found, run, cable=renamed) == run_capacity(found, run, cable=outside)

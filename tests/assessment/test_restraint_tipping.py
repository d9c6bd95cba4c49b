"""Mounts to the side and against tipping, figures worked by hand."""

from __future__ import annotations

import pytest
from base_jobs import design, of_rule, studied

from ampwright.assessment.restraint import Held
from ampwright.assessment.restraint_tipping import RESTRAINT_TIPPING, side_wanted_g, tipping_g
from ampwright.findings import Severity
from ampwright.job.fit import Mount


def held(**mount):
    given = {"how": "feet", "bolt_mm": 8, "bolt_count": 4, "bolt_rows_mm": 200.0, "centre_height_mm": 100.0}
    return Held(id="x", mass_kg=20.0, mount=Mount(**{**given, **mount}), is_battery=True, largest_mm=400.0)


def test_bolts_of_the_lifted_row_are_pulled_and_sheared():
    """M8 of class 4.6: F_v 7027.2 N, F_t 10 540.8 N; across 1/4, along 2 × 100 / (4 × 200) = 0.25."""
    together_n = 1.0 / (0.25 / 7027.2 + 0.25 / (1.4 * 10540.8))
    assert tipping_g(held()) == pytest.approx(together_n / (20.0 * 9.80665))


def test_a_tall_part_is_held_by_tension_alone():
    # 600 mm up: along 1.5; 10 540.8 / 1.5 = 7027.2 N is less than with shear, 7287 N
    assert tipping_g(held(centre_height_mm=600.0)) == pytest.approx(7027.2 / (20.0 * 9.80665))


def test_without_a_height_half_the_largest_dimension_counts():
    assert tipping_g(held(centre_height_mm=None)) == tipping_g(held(centre_height_mm=200.0))


def test_what_is_not_said_is_not_guessed():
    assert tipping_g(held(bolt_rows_mm=None)) is None
    assert tipping_g(held(bolt_count=1)) is None
    assert tipping_g(held(bolt_mm=None)) is None


@pytest.mark.parametrize(("gross_kg", "wanted_g"), [(3500, 8.0), (3501, 5.0), (18000, 5.0)])
def test_the_side_follows_the_permitted_gross_mass(gross_kg, wanted_g):
    assert side_wanted_g(design(change={"vehicle/mass/gross_limit_kg": gross_kg}))[0] == wanted_g


def test_a_figure_of_the_job_holds_in_every_direction():
    assert side_wanted_g(design(change={"vehicle/mass/restraint_g": 10}))[0] == 10.0


def test_a_rated_mount_says_its_side():
    mount = {"how": "tested tray", "rated_g": 20}
    found = of_rule(studied(change={"part/battery/mount": mount}), RESTRAINT_TIPPING)
    (asked,) = [f for f in found if f.severity is Severity.ADVICE]
    assert "battery" in asked.message
    weak = of_rule(
        studied(change={"part/battery/mount": {**mount, "rated_side_g": 5}}), RESTRAINT_TIPPING, "battery"
    )
    assert [(f.severity, f.value, f.limit) for f in weak] == [(Severity.FAIL, 5.0, 8.0)]
    good = of_rule(
        studied(change={"part/battery/mount": {**mount, "rated_side_g": 8}}), RESTRAINT_TIPPING, "battery"
    )
    assert [f.severity for f in good] == [Severity.PASS]


def test_a_light_part_that_tips_is_a_condition():
    mount = {"how": "post", "bolt_mm": 5, "bolt_count": 2, "bolt_rows_mm": 20, "centre_height_mm": 300}
    found = of_rule(studied(change={"part/inverter/mount": mount}), RESTRAINT_TIPPING, "inverter")
    assert [f.severity for f in found] == [Severity.CONDITION]

"""Small laws of all chargers."""

from dataclasses import replace

import numpy as np
import pytest

from ampwright.energy.charger_row import (
    charger_path_ohm,
    derating_frac,
    path_of_node_ohm,
    set_charge_v,
    set_output_a,
)
from ampwright.errors import JobError
from ampwright.job.wiring import Setting

BANK = '[[part]]\nid = "bank"\npart = "lfp-100"\n'


def test_derating_is_linear_between_its_ends():
    air = np.array([20.0, 40.0, 55.0, 70.0, 90.0])
    assert derating_frac(air, start_degc=40.0, end_degc=70.0).tolist() == [1.0, 1.0, 0.5, 0.0, 0.0]


def test_path_of_a_node(design_of):
    design = design_of(BANK)
    assert path_of_node_ohm(design, np.array([0.02]), "bank") == 0.02
    assert path_of_node_ohm(design, np.array([np.nan]), "bank") == 0.0
    assert path_of_node_ohm(design, np.array([0.02]), "nowhere") == 0.0
    assert charger_path_ohm(design, np.array([0.0]), "bank") == 0.001


def test_settings_go_before_the_figures_as_delivered(design_of):
    placed = design_of(BANK).parts[0]
    assert set_charge_v(placed, 14.4) == 14.4
    assert set_output_a(placed, 30.0) == 30.0
    changed = replace(placed, setting=Setting(part="bank", charge_v=14.1, output_limit_a=12.0))
    assert set_charge_v(changed, 14.4) == 14.1
    assert set_output_a(changed, 30.0) == 12.0
    assert set_output_a(replace(placed, setting=Setting(part="bank", output_limit_a=50.0)), 30.0) == 30.0


def test_what_a_charger_was_found_to_give_goes_before_its_label(design_of):
    placed = replace(design_of(BANK).parts[0], output_a=22.0)
    assert set_output_a(placed, 30.0) == 22.0
    assert set_output_a(replace(placed, output_a=34.0), 30.0) == 34.0
    assert set_output_a(replace(placed, setting=Setting(part="bank", output_limit_a=12.0)), 30.0) == 12.0


def test_only_chargers_have_an_output(design_of):
    with pytest.raises(JobError) as caught:
        design_of(BANK + "output_a = 20\n")
    assert "charges nothing" in " ".join(str(problem) for problem in caught.value.problems)

"""How long the battery lasts."""

import math
from dataclasses import replace

import numpy as np
import pytest

from ampwright.climate.series import repeated
from ampwright.energy.endurance import autonomy_h, storage_days

PARTS = """
[[part]]
id = "bank"
part = "lfp-100"
is_on_when = "{when}"
[[load]]
id = "box"
name = "Radio"
power_w = {power}
priority = "{priority}"
"""

PANEL = """
[[part]]
id = "roof"
part = "panel-100"
[[part]]
id = "sun"
part = "solar-mp-20"
[[run]]
id = "w1"
start = "roof"
end = "sun.in"
cable = "cable-4"
length_m = 4.0
[[run]]
id = "w2"
start = "bank"
end = "sun.out"
cable = "cable-6"
length_m = 1.5
"""


def hours(design, sun):
    return autonomy_h(design, sun, path_ohm=np.zeros(len(design.nodes)))


def test_autonomy_by_energy(design_of, sun_of):
    design = design_of(PARTS.format(when="not-stored", power=50.0, priority="essential"))
    # 100 Ah at about 13 V give 1.3 kWh; the management opens with a few Ah left
    assert hours(design, sun_of()) == pytest.approx(1300.0 / 50.0, rel=0.05)
    assert hours(design, repeated(sun_of(), 3)) == hours(design, sun_of())


def test_autonomy_is_infinite_when_nothing_goes_off(design_of, sun_of):
    design = design_of(PARTS.format(when="not-stored", power=0.1, priority="essential"))
    assert hours(design, sun_of()) == math.inf


def test_comfort_loads_do_not_end_the_autonomy_before_the_battery_does(design_of, sun_of):
    essential = hours(design_of(PARTS.format(when="always", power=50.0, priority="essential")), sun_of())
    comfort = hours(design_of(PARTS.format(when="always", power=50.0, priority="comfort")), sun_of())
    assert comfort == essential


def test_storage_by_hand(design_of):
    design = design_of(PARTS.format(when="always", power=50.0, priority="essential"))
    # rest voltage 10.4 V (2.6 V a cell) lies between 2 % (2.46 V) and 5 % (2.7853 V)
    left_ah = 2.0 + 3.0 * (2.6 - 2.46) / (2.7853 - 2.46)
    drain_a = 0.003 + 3.0 / 730.5
    assert storage_days(design) == pytest.approx((100.0 - left_ah) / drain_a / 24.0)


def test_storage_is_infinite_without_any_drain(design_of):
    design = design_of(PARTS.format(when="not-stored", power=50.0, priority="essential"))
    part = replace(design.battery_part(), self_discharge_frac_per_month=0.0)
    assert storage_days(replace(design, parts=(replace(design.parts[0], part=part),))) == math.inf


def test_panels_that_charge_all_the_same_make_it_last_longer(design_of, sun_of):
    text = PARTS.format(when="not-stored", power=25.0, priority="essential") + PANEL
    design = design_of(text)
    path = np.zeros(len(design.nodes))
    alone = autonomy_h(design, sun_of(1.0), path_ohm=path)
    dull = autonomy_h(design, sun_of(1.0), path_ohm=path, charging=frozenset({"panel"}))
    # 100 W at 1 kWh/m² give about 90 Wh of the 600 Wh a day: 1300 / (600 - 90) days
    assert dull / alone == pytest.approx(600.0 / 510.0, rel=0.1)
    assert autonomy_h(design, sun_of(1.0), path_ohm=path, charging=frozenset({"mains"})) == alone


def test_a_load_that_runs_while_stored_shortens_the_storage(design_of):
    text = PARTS.format(when="always", power=1.2, priority="essential")
    plain = design_of(text)
    tracker = design_of(text + 'when = [{ start = "00:00", end = "12:00", states = ["stored"] }]\n')
    # half a day at 1.2 W and 12 V: 0.05 A in the mean
    drain_a = 0.003 + 3.0 / 730.5
    assert storage_days(tracker) == pytest.approx(storage_days(plain) * drain_a / (drain_a + 0.05))

"""What installers say of touring vehicles, held against the whole program.

Common practice, no published source; physics decides, the bands only say where it would be odd.

- A refrigerator of 40 to 50 l on 200 W of flat roof panel and 100 Ah holds at 4.5 kWh/m2/day or more and fails at 2.5;
  here "holds" is a month in air of 22 to 32 degC (at 2.5 the battery carries a fortnight before it is empty).
- Two such refrigerators on 400 W likewise.
- An alternator with a label of 130 to 150 A is often said to carry two 50 A chargers: hot, at idle, it does not.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.findings import Group, Severity

VAN = """
format = 1
[job]
id = "band"
title = "Band"
date = 2026-01-15
region = "uk-eu"
[vehicle]
description = "van"
system_v = 12
body_preset = "van-body-insulated"
[place]
latitude_deg = 20.0
longitude_deg = 0.0
ghi_kwh_m2_day = [{ghi}]
max_degc = [32, 32, 32, 32, 32, 32, 32, 32, 32, 32, 32, 32]
min_degc = [22, 22, 22, 22, 22, 22, 22, 22, 22, 22, 22, 22]
[season]
month = 3
coldest_degc = 10
hottest_degc = 40
[use]
days = ["30 x stay"]
start_soc_frac = 1.0
[[day]]
id = "stay"
[[zone]]
id = "cabin"
kind = "cabin"
ambient_max_degc = 45
[[zone]]
id = "roof"
kind = "roof"
ambient_max_degc = 65
[[part]]
id = "battery"
part = "lfp-100"
zone = "cabin"
[[part]]
id = "controller"
part = "solar-mp-30"
zone = "cabin"
[[part]]
id = "panel"
part = "panel-200"
zone = "roof"
strings = {panels}
shade_frac = 0.1
[[run]]
id = "W1"
start = "battery"
end = "controller.out"
cable = "cable-10"
length_m = 1
[[run]]
id = "W2"
start = "panel"
end = "controller.in"
cable = "cable-6"
length_m = 4
[load_cutoff]
open_v = 11.8
close_v = 12.8
"""
FRIDGE = """
[[load]]
id = "fridge-{n}"
name = "Refrigerator {n}"
part = "{part}"
zone = "cabin"
[[run]]
id = "F{n}"
start = "battery"
end = "fridge-{n}"
cable = "cable-4"
length_m = 2
"""
ALTERNATOR = """
[vehicle.alternator]
rating_a = {rating}
regulation = "fixed"
voltage_v = 14.2
lowest_v = 13.8
highest_v = 14.5
hot_road_frac = 0.75
hot_idle_frac = 0.45
own_load_day_a = 30
own_load_night_a = 45
[vehicle.starter_battery]
capacity_ah = 90
short_circuit_a = 3000
resistance_ohm = 0.004
"""


def _assessed(folder: Path, text: str):
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    loaded = api.load(path)
    return assess(loaded.design, loaded.sun)


def _fridges(folder: Path, part: str, count: int, ghi: float):
    text = VAN.format(ghi=", ".join([str(ghi)] * 12), panels=count)
    text += "".join(FRIDGE.format(n=n, part=part) for n in range(count))
    return _assessed(folder, text)


def _troubles_of_energy(found):
    """Return what weighs against the use; room and mass, which these jobs do not describe, left out."""
    weighs = {Severity.FAIL, Severity.CONDITION}
    return [f for f in found.findings if f.group == Group.USE and f.severity in weighs]


@pytest.mark.parametrize("part", ["fridge-40", "fridge-45"])
@pytest.mark.parametrize("ghi", [4.5, 5.5])
def test_one_fridge_on_200_w_holds_in_good_sun(tmp_path, part, ghi):
    assert _troubles_of_energy(_fridges(tmp_path, part, 1, ghi)) == []


def test_one_fridge_on_200_w_fails_in_poor_sun(tmp_path):
    found = _fridges(tmp_path, "fridge-45", 1, 2.5)
    assert found.use_verdict == "does not suit"
    assert found.run_out.subject == "battery"


@pytest.mark.parametrize("ghi", [4.5, 5.5])
def test_two_fridges_on_400_w_hold_in_good_sun(tmp_path, ghi):
    assert _troubles_of_energy(_fridges(tmp_path, "fridge-45", 2, ghi)) == []


def test_two_fridges_on_400_w_fail_in_poor_sun(tmp_path):
    assert _fridges(tmp_path, "fridge-45", 2, 2.5).use_verdict == "does not suit"


@pytest.mark.parametrize("rating", [130, 150])
def test_two_chargers_of_50_a_are_short_hot_at_idle_and_the_tool_says_so(tmp_path, rating):
    text = VAN.format(ghi=", ".join(["5"] * 12), panels=1).replace(
        "[place]", ALTERNATOR.format(rating=rating) + "[place]"
    )
    text = text.replace(
        'id = "stay"\n[[zone]]',
        'id = "stay"\nperiod = [{ start = "09:00", end = "10:00", state = "road" }, '
        '{ start = "12:00", end = "12:30", state = "idle" }]\n[[zone]]',
    )
    for n in (1, 2):
        text += (
            f'[[part]]\nid = "charger-{n}"\npart = "dcdc-12-50"\nzone = "cabin"\n'
            f'[[run]]\nid = "A{n}"\nstart = "starter-battery"\nend = "charger-{n}.in"\ncable = "cable-35"\nlength_m = 4\n'
            f'[[run]]\nid = "B{n}"\nstart = "battery"\nend = "charger-{n}.out"\ncable = "cable-16"\nlength_m = 1\n'
        )
    found = _assessed(tmp_path, text)
    spare = {f.subject: f for f in found.findings if f.rule == "alternator-spare"}
    # by hand: road by day 0.75 * 130 - 30 = 67.5 A, 0.75 * 150 - 30 = 82.5 A; idle 28.5 and 37.5 A
    assert spare["alternator road day"].limit == pytest.approx(0.75 * rating - 30)
    assert spare["alternator idle day"].limit == pytest.approx(0.45 * rating - 30)
    for subject in ("alternator road day", "alternator idle day"):
        assert spare[subject].severity == Severity.CONDITION
        assert spare[subject].way_out
    assert "exhaust" in spare["alternator idle day"].caution

"""Which relays part the two batteries."""

import tomllib

import pytest

from ampwright.job.joins import relay_joins
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.validation import validated

HEAD = """
format = 1
job = { id = "j", title = "t", date = 2026-01-01, region = "uk-eu" }
place = { site = "" , weather_file = "never-read.epw" }
season = { month = 6, coldest_degc = 0, hottest_degc = 30 }
use = { days = ["rest"] }
day = [{ id = "rest" }]
[vehicle]
description = "van"
system_v = 12
starter_battery = { capacity_ah = 80, short_circuit_a = 1500, resistance_ohm = 0.005 }
"""


def design(relays, runs):
    text = HEAD + '[[part]]\nid = "b"\npart = "agm-100"\n[[part]]\nid = "x"\npart = "bus-250"\n'
    text += "".join(f'[[part]]\nid = "{name}"\npart = "{part}"\n' for name, part in relays)
    text += "".join(
        f'[[run]]\nid = "R{k}"\nstart = "{start}"\nend = "{end}"\ncable = "cable-25"\nlength_m = 1\n'
        for k, (start, end) in enumerate(runs)
    )
    return resolve(validated(Job, tomllib.loads(text)), shipped_catalogue())


SPLIT = [("starter-battery", "r.in"), ("r.out", "x"), ("x", "b")]


@pytest.mark.parametrize("runs", [SPLIT, [(b, a) for a, b in SPLIT]])
def test_a_relay_with_a_battery_on_either_side_joins_them(runs):
    found = design([("r", "relay-100")], runs)
    (join,) = relay_joins(found)
    assert found.nodes[join.starter_end] == "r.in"
    assert found.nodes[join.auxiliary_end] == "r.out"


def test_it_may_be_wired_the_other_way_round():
    found = design([("r", "relay-100")], [("starter-battery", "r.out"), ("r.in", "x"), ("x", "b")])
    (join,) = relay_joins(found)
    assert found.nodes[join.starter_end] == "r.out"


def test_a_contactor_in_the_lead_of_the_battery_is_no_join():
    runs = [("starter-battery", "r.in"), ("r.out", "x"), ("x", "c.in"), ("c.out", "b")]
    for order in ([("r", "relay-100"), ("c", "contactor-300")], [("c", "contactor-300"), ("r", "relay-100")]):
        (join,) = relay_joins(design(order, runs))
        assert join.placed.id == "r"


def test_a_switch_by_hand_joins_where_nothing_else_does():
    runs = [("starter-battery", "h.in"), ("h.out", "x"), ("x", "c.in"), ("c.out", "b")]
    (join,) = relay_joins(design([("c", "contactor-300"), ("h", "contactor-300")], runs))
    assert join.placed.id == "h"


def test_two_in_series_are_judged_by_one_and_two_side_by_side_by_both():
    series = [("starter-battery", "r.in"), ("r.out", "s.in"), ("s.out", "x"), ("x", "b")]
    relays = [("r", "relay-100"), ("s", "relay-140-sense")]
    assert [join.placed.id for join in relay_joins(design(relays, series))] == ["s"]
    beside = [*SPLIT, ("starter-battery", "s.in"), ("s.out", "x")]
    assert [join.placed.id for join in relay_joins(design(relays, beside))] == ["r", "s"]


def test_a_relay_beside_a_cable_or_away_from_the_batteries_joins_nothing():
    assert relay_joins(design([("r", "relay-100")], [*SPLIT, ("starter-battery", "x")])) == ()
    assert relay_joins(design([("r", "relay-100")], [("x", "r.in"), ("x", "b")])) == ()

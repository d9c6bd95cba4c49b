"""The programme's choice against every other choice, counted out; what is lacking is named."""

import itertools

import numpy as np
import pytest

from ampwright.switching.assignment import assignment_of, cost_of, lack_of
from ampwright.switching.circuits import Channel, Circuit


def channel(number, max_a=10.0, *, part=0, volts=12.0, dims=False, low=False, clamp=0.0, zone=""):
    return Channel(
        part=part,
        node=f"m{part}.{number}",
        number=number,
        nominal_v=volts,
        max_a=max_a,
        is_dimmable=dims,
        is_low_side=low,
        largest_mm2=clamp,
        zone=zone,
    )


def circuit(
    name, amps, *, at=-1, node="", limit=0.0, volts=12.0, dims=False, essential=False, fixed=False, mm2=0.0
):
    return Circuit(
        id=node or name,
        name=name,
        channel=at,
        is_fixed=fixed,
        current_a=amps,
        limit_a=limit,
        nominal_v=volts,
        is_dimmed=dims,
        is_essential=essential,
        conductor_mm2=mm2,
        zone="",
    )


def price(chosen, circuits, channels):
    most_a = max(one.max_a for one in channels)
    return sum(
        cost_of(circuits[i], channels[k], place=k, most_a=most_a) for i, k in enumerate(chosen) if k >= 0
    )


def is_allowed(chosen, circuits, channels, total_max_a, spare_count):
    """Written anew from the words of the rule, without the programme's matrix."""
    taken = [k for k in chosen if k >= 0]
    if len(set(taken)) < len(taken) or len(taken) > len(channels) - spare_count:
        return False
    for i, k in enumerate(chosen):
        if k < 0:
            continue
        one, on = circuits[i], channels[k]
        if one.current_a > on.max_a or one.limit_a > on.max_a or one.nominal_v != on.nominal_v:
            return False
        if one.is_dimmed and not on.is_dimmable:
            return False
    return all(
        sum(circuits[i].current_a for i, k in enumerate(chosen) if k >= 0 and channels[k].part == part)
        <= most_a
        for part, most_a in total_max_a.items()
    )


@pytest.mark.parametrize("seed", range(25))
def test_nothing_allowed_is_better(seed):
    draw = np.random.default_rng(seed)
    channels = tuple(
        channel(k, float(draw.choice([5.0, 10.0, 15.0])), part=k % 2, dims=bool(draw.random() < 0.5))
        for k in range(5)
    )
    circuits = tuple(
        circuit(
            f"c{i}",
            float(draw.choice([1.0, 4.0, 8.0, 12.0])),
            at=i if i < 2 else -1,
            dims=bool(draw.random() < 0.3),
        )
        for i in range(4)
    )
    total_max_a, spare = {0: float(draw.choice([10.0, 18.0, 40.0])), 1: 14.0}, int(draw.choice([0, 1, 2]))
    found = assignment_of(circuits, channels, total_max_a=total_max_a, spare_count=spare)
    assert is_allowed(found.channel, circuits, channels, total_max_a, spare)
    best = min(
        price(chosen, circuits, channels)
        for chosen in itertools.product(range(-1, len(channels)), repeat=len(circuits))
        if is_allowed(chosen, circuits, channels, total_max_a, spare)
    )
    assert price(found.channel, circuits, channels) == pytest.approx(best, abs=1e-6)


def test_what_sits_right_stays_and_what_sits_wrong_moves():
    channels = (channel(1, 15.0), channel(2, 15.0), channel(3, 5.0, dims=True))
    circuits = (
        circuit("pump", 8.0, at=1, node="m0.2"),
        circuit("lamp", 2.0, at=0, node="m0.1", dims=True),
    )
    found = assignment_of(circuits, channels, total_max_a={0: 60.0})
    assert found.channel == (1, 2)
    assert found.free == (0,)
    assert found.total_a == {0: 10.0}


def test_essential_circuits_come_first():
    circuits = (circuit("radio", 1.0), circuit("fridge", 9.0, essential=True))
    found = assignment_of(circuits, (channel(1),), total_max_a={0: 10.0})
    assert found.channel == (-1, 0)
    assert found.lack == ("taken", None)


def test_a_set_limit_needs_a_channel_built_for_it():
    small, large = channel(1, 5.0), channel(2, 15.0)
    found = assignment_of((circuit("pump", 2.0, limit=12.0),), (small, large), total_max_a={0: 30.0})
    assert found.channel == (1,)


def test_the_modules_own_wiring_stays():
    channels = (channel(1, 5.0), channel(2, 15.0))
    inside = circuit("inside", 2.0, at=1, node="m0.2", fixed=True)
    found = assignment_of((inside, circuit("pump", 9.0)), channels, total_max_a={0: 30.0})
    assert found.channel == (1, -1)


def test_a_negative_lead_is_kept_and_never_proposed():
    low = channel(1, low=True)
    assert assignment_of((circuit("a", 1.0),), (low,), total_max_a={0: 9.0}).lack == ("side",)
    stays = circuit("a", 1.0, at=0, node="m0.1")
    assert assignment_of((stays,), (low,), total_max_a={0: 9.0}).channel == (0,)


@pytest.mark.parametrize(
    ("one", "lack"),
    [
        (circuit("a", 1.0, volts=24.0), "voltage"),
        (circuit("a", 1.0, dims=True), "dimming"),
        (circuit("a", 11.0), "current"),
        (circuit("a", 1.0, mm2=16.0), "conductor"),
        (circuit("a", 1.0, mm2=4.0), "taken"),
    ],
)
def test_the_first_thing_lacking_is_named(one, lack):
    assert lack_of(one, (channel(1, clamp=6.0), channel(2, clamp=6.0))) == lack


def test_nothing_to_place():
    found = assignment_of((), (channel(1),), total_max_a={0: 10.0})
    assert (found.channel, found.free) == ((), (0,))

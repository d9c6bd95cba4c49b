"""The search alone: against every set there is, for rules made up by hand."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing import cable_set
from ampwright.sizing.cable_options import CableOption
from ampwright.sizing.cable_set import CableSearch

CABLE = next(iter(shipped_catalogue().of_kind(Cable)))


def options_of(*totals):
    """Return options of runs by what each costs; the dearest is the present one."""
    return {
        run: tuple(
            CableOption(cable=CABLE, is_present=price == max(each), by="price", price_eur=price, mass_kg=0.0)
            for price in sorted(each)
        )
        for run, each in enumerate(totals)
    }


def total(options, chosen):
    return sum(options[run][number].total for run, number in chosen.items())


def every_set(options):
    numbers = [range(len(each)) for each in options.values()]
    return [dict(zip(options, each, strict=True)) for each in itertools.product(*numbers)]


def dearest(options):
    return {run: len(each) - 1 for run, each in options.items()}


PRICES = st.lists(st.integers(1, 30).map(float), min_size=1, max_size=4, unique=True)


@given(totals=st.lists(PRICES, min_size=1, max_size=4), data=st.data())
def test_small_jobs_are_solved_exactly_whatever_the_rules_are(totals, data):
    options = options_of(*totals)
    sets = every_set(options)
    allowed = data.draw(st.lists(st.sampled_from(sets), max_size=12))
    allowed.append(dearest(options))
    search = CableSearch(options, lambda chosen: chosen in allowed, lambda *_: True)
    chosen, proof = search.least(dearest(options))
    assert proof == "least"
    assert chosen in allowed
    assert total(options, chosen) == min(total(options, each) for each in allowed)


def drop_allows(chosen):
    """Hold a feed and its two branches to the sum of their drops; size n has resistance 1 / (n + 1)."""
    feed, one, other = (1.0 / (chosen[run] + 1) for run in range(3))
    return 2.0 * feed + one <= 1.5 and 2.0 * feed + other <= 1.4


def test_a_pair_on_a_shared_feed_goes_where_no_single_run_can(monkeypatch):
    monkeypatch.setattr(cable_set, "MOST_SETS", 0)
    options = options_of([1.0, 2.0, 3.0, 40.0], [2.0, 6.0, 20.0, 50.0], [1.0, 2.0, 9.0, 50.0])
    start = {0: 1, 1: 3, 2: 3}
    search = CableSearch(options, drop_allows, lambda one, other: 0 in (one, other))
    chosen, proof = search.least(start)
    alone, _ = CableSearch(options, drop_allows, lambda *_: False).least(start)
    assert proof == "pairs"
    assert (alone[0], chosen[0]) == (1, 2)
    least = min(
        (each for each in every_set(options) if drop_allows(each)), key=lambda each: total(options, each)
    )
    assert total(options, chosen) == total(options, least) < total(options, alone)


def test_a_search_that_is_stopped_says_so_and_keeps_a_sound_set(monkeypatch):
    monkeypatch.setattr(cable_set, "MOST_TRIES", 2)
    options = options_of([1.0, 2.0, 3.0], [1.0, 2.0, 3.0])
    chosen, proof = CableSearch(options, lambda each: min(each.values()) > 0, lambda *_: True).least(
        dearest(options)
    )
    assert proof == "stopped"
    assert min(chosen.values()) > 0


def test_nothing_is_laid_anew_for_the_same_price():
    options = options_of([4.0, 4.0 + 1e-12])
    chosen, proof = CableSearch(options, lambda _: True, lambda *_: True).least(dearest(options))
    assert (chosen, proof) == (dearest(options), "least")

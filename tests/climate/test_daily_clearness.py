from __future__ import annotations

import csv
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.daily_clearness import (
    bendt_quantile,
    clearness_quantile,
    markov_quantile,
    markov_ranges,
)

SHARES = (np.arange(20_000) + 0.5) / 20_000


@settings(deadline=None)
@given(mean=st.floats(0.03, 0.85))
def test_the_distribution_has_the_mean_asked_for_and_stays_inside_its_ends(mean):
    clearness = clearness_quantile(SHARES, mean)
    assert clearness.mean() == pytest.approx(mean, abs=2e-4)
    assert (np.diff(clearness) > 0).all()
    assert clearness[0] > 0
    assert clearness[-1] <= 1.0


def test_in_dull_months_the_distribution_is_exponential_between_its_ends():
    # density proportional to exp(g K): the logarithm of the histogram is a straight line
    clearness = bendt_quantile((np.arange(200_000) + 0.5) / 200_000, 0.4)
    counts, edges = np.histogram(clearness, bins=20)
    middle = 0.5 * (edges[1:] + edges[:-1])
    line = np.polyfit(middle, np.log(counts), 1)
    assert np.abs(np.log(counts) - np.polyval(line, middle)).max() < 0.02


def chains():
    """Return the printed matrices of the library, one for each range."""
    text = files("ampwright.climate").joinpath("data/daily_clearness.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    return np.array([[float(row[f"p{to:02d}"]) for to in range(1, 11)] for row in rows]).reshape(10, 10, 10)


def test_rows_of_the_library_add_up_to_one_as_printed():
    # ten figures of three places: at most 10 x 0.0005 of rounding
    assert np.abs(chains().sum(axis=2) - 1.0).max() <= 0.005


@pytest.mark.parametrize("number", [0, 3, 7])
def test_a_chain_that_is_walked_settles_at_the_shares_used(number):
    # 200,000 days, neighbours correlated by 0.3: standard error of a share below 0.0015
    generator = np.random.default_rng(5)
    rows = np.cumsum(chains()[number], axis=1)
    state, seen = 5, np.zeros(10)
    for draw in generator.uniform(size=200_000):
        state = min(int(np.searchsorted(rows[state] / rows[state, -1], draw)), 9)
        seen[state] += 1.0
    found = markov_ranges()[number]
    assert np.diff(found.share_below) == pytest.approx(seen / seen.sum(), abs=0.006)


def test_means_of_the_ranges_lie_in_them_or_near():
    # each range of 0.05 was put together from months within it; the first and the last are open
    means = [each.mean_frac for each in markov_ranges()]
    assert means == sorted(means)
    for lower, mean in zip(np.arange(0.30, 0.66, 0.05), means[1:9], strict=True):
        assert lower - 0.005 < mean < lower + 0.055


def test_bright_months_have_fewer_dull_days_than_the_exponential():
    for mean in (0.42, 0.5, 0.6):
        published, older = (each(SHARES, mean) for each in (markov_quantile, bendt_quantile))
        assert (published < 0.5 * mean).mean() < (older < 0.5 * mean).mean()
        assert (clearness_quantile(SHARES, mean) == published).all()
    assert (clearness_quantile(SHARES, 0.25) == bendt_quantile(SHARES, 0.25)).all()


def test_between_dull_and_bright_months_it_goes_over_without_a_step():
    means = np.linspace(0.2, 0.75, 400)
    spread = np.array([clearness_quantile(SHARES, mean).std() for mean in means])
    assert np.abs(np.diff(spread)).max() < 0.002

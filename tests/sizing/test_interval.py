import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from ampwright.sizing.interval import count_text, plain_chance, share_interval


@given(total=st.integers(1, 400), data=st.data())
def test_the_interval_is_that_of_the_beta_quantiles(total, data):
    count = data.draw(st.integers(0, total))
    low, high = share_interval(count, total)
    wanted_low = 0.0 if count == 0 else beta.ppf(0.025, count, total - count + 1)
    wanted_high = 1.0 if count == total else beta.ppf(0.975, count + 1, total - count)
    assert (low, high) == pytest.approx((wanted_low, wanted_high), abs=1e-9)


def test_words_are_those_of_the_workshop():
    assert count_text(47, 50) == "47 of 50 runs (83-99 %)"
    assert plain_chance(0, 50) == "no failure seen in 50 trips reckoned"
    assert plain_chance(50, 50) == "in every trip reckoned"
    assert plain_chance(40, 50) == "in about 8 trips in 10"
    assert plain_chance(5, 50) == "in about 1 trip in 10"


@pytest.mark.parametrize(("count", "total"), [(-1, 5), (6, 5), (0, 0)])
def test_an_impossible_count_is_refused(count, total):
    with pytest.raises(ValueError, match="no share"):
        share_interval(count, total)

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.sources import Source
from ampwright.standards.device_bands import (
    RatedDevice,
    clears_in_time,
    device_band,
    discrimination,
)
from ampwright.standards.iso_8820 import OpeningBand


def band(shortest_s, longest_s):
    return OpeningBand(opening_min_s=shortest_s, opening_max_s=longest_s, source=Source(document="test"))


def test_clears_when_it_surely_opens_first():
    assert clears_in_time(0.5, 0.5)
    assert not clears_in_time(0.6, 0.5)
    assert not clears_in_time(None, 1000.0)
    assert clears_in_time(None, math.inf)


def test_discrimination_ends_where_both_may_open():
    currents = (20.0, 50.0, 100.0, 500.0, 1000.0)
    below = [band(9.0, None), band(1.0, 5.0), band(0.1, 1.0), band(0.0, 0.1), band(0.0, 0.1)]
    above = [band(1e5, None), band(60.0, None), band(10.0, 90.0), band(0.2, 3.0), band(0.1, 1.0)]
    found = discrimination(above, below, currents_a=currents)
    assert (found.from_a, found.up_to_a, found.breaks_at_a, found.is_total) == (50.0, 500.0, 1000.0, False)


def test_discrimination_can_be_total_or_not_there_at_all():
    fast, slow = [band(0.0, 0.1)] * 2, [band(1.0, 9.0)] * 2
    assert discrimination(slow, fast, currents_a=(10.0, 20.0)).is_total
    none = discrimination(fast, slow, currents_a=(10.0, 20.0))
    assert (none.from_a, none.up_to_a, none.breaks_at_a) == (10.0, None, 10.0)


def test_a_device_without_a_table_is_never_selective():
    assert discrimination([None], [band(0.0, 0.1)], currents_a=(10.0,)).up_to_a is None
    assert discrimination([band(5.0, 9.0)], [None], currents_a=(10.0,)).is_total is False


@given(factor=st.floats(1.0, 8.0), current_a=st.floats(30.0, 5000.0))
def test_a_device_never_discriminates_against_one_of_its_own_kind_that_is_no_larger(factor, current_a):
    below = RatedDevice(device_class="thermal", rating_a=20.0)
    above = RatedDevice(device_class="thermal", rating_a=20.0 / factor)
    bands = [[device_band(device, current_a=current_a)] for device in (above, below)]
    assert discrimination(*bands, currents_a=(current_a,)).up_to_a is None


def test_currents_must_ascend_and_match_the_bands():
    with pytest.raises(TableError, match="ascend"):
        discrimination([band(1, 2)] * 2, [band(1, 2)] * 2, currents_a=(5.0, 5.0))
    with pytest.raises(TableError, match="one band"):
        discrimination([band(1, 2)], [band(1, 2)], currents_a=(5.0, 6.0))

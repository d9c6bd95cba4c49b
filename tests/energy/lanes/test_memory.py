"""Values at an address, in plain Python and compiled."""

import numpy as np
import pytest
from numba import njit

from ampwright.energy.lanes.memory import index_at, number_at, put_number, put_truth, truth_at


def moved(numbers, truths, indices, count):
    """Move each number to the place an index says, where a truth says so, and turn the truth."""
    for i in range(count):
        if truth_at(truths, i):
            put_number(numbers, index_at(indices, i), number_at(numbers, i) + 0.5)
        put_truth(truths, i, not truth_at(truths, i))


@pytest.mark.parametrize("wrapped", [lambda function: function, njit])
def test_values_at_an_address(wrapped):
    numbers, truths, indices = np.arange(4.0), np.array([True, False, True, False]), np.array([3, 9, 1, 9])
    wrapped(moved)(numbers.ctypes.data, truths.ctypes.data, indices.ctypes.data, 4)
    assert numbers.tolist() == [0.0, 2.5, 2.0, 0.5]
    assert truths.tolist() == [False, True, False, True]

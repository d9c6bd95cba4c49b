"""What the compiler is asked for."""

import numpy as np
import pytest
from numba.core.errors import NumbaError

from ampwright.energy.compiled import compiled


def test_a_compiled_function_counts_and_may_not_allocate():
    def doubled(values):
        total = 0.0
        for value in values:
            total += 2.0 * value
        return total

    def made(count):
        return np.zeros(count).sum()

    assert compiled()(doubled)(np.array([1.0, 2.5])) == 7.0
    with pytest.raises(NumbaError, match="returning of array"):
        compiled()(made)(3)

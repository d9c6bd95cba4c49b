"""ASTM E1049-85 (2017), Standard Practices for Cycle Counting in Fatigue Analysis, 5.4.4 and figure 6.

The standard's example of rainflow counting: history A to I = -2, 1, -3, 5, -1, 3, -4, 4, -2. Read second hand; the counts by
range are printed: 3 (0.5), 4 (1.5), 6 (0.5), 8 (1.0), 9 (0.5). Means follow from the turning points.
"""

import numpy as np

from ampwright.energy.rainflow import rainflow_cycles

HISTORY = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0]
PRINTED = [
    (3.0, -0.5, 0.5),
    (4.0, -1.0, 0.5),
    (4.0, 1.0, 1.0),
    (8.0, 1.0, 0.5),
    (9.0, 0.5, 0.5),
    (8.0, 0.0, 0.5),
    (6.0, 1.0, 0.5),
]


def counted(course):
    found = rainflow_cycles(np.array(course))
    return list(
        zip(found.range_frac.tolist(), found.mean_frac.tolist(), found.count_factor.tolist(), strict=True)
    )


def test_example_of_the_standard():
    assert counted(HISTORY) == PRINTED


def test_points_between_the_turns_change_nothing():
    fine = np.interp(np.linspace(0, 8, 8 * 7 + 1), np.arange(9), HISTORY)
    assert np.allclose(counted(fine), PRINTED)


def test_level_stretches_change_nothing():
    assert counted(np.repeat(HISTORY, 3)) == PRINTED

"""Courses of a use made by hand for the tests of charts."""

import numpy as np

from ampwright.documents.use_course import CutOff, FridgeCourse, Stretch, UseCourse

STEP_H = 0.25


def course(days, *, fridge=True, cuts=True, name="Fridge"):
    """Return a saw-tooth course with one very short dip each day and every state of the vehicle."""
    starts = np.arange(days * 96 + 1) * STEP_H
    hours = starts[1:]
    soc_frac = 0.5 + 0.3 * np.sin(starts / 24.0 * 2.0 * np.pi)
    soc_frac[50::96] = 0.02
    stretches = []
    for day in range(days):
        stretches.append(Stretch(kind="road", start_h=24.0 * day + 8.0, end_h=24.0 * day + 9.5))
        stretches.append(Stretch(kind="idle", start_h=24.0 * day + 12.0, end_h=24.0 * day + 12.25))
        if day % 5 == 4:
            stretches.append(Stretch(kind="hooked-up", start_h=24.0 * day + 18.0, end_h=24.0 * day + 24.0))
    nights = tuple((24.0 * day + 18.0, 24.0 * day + 24.0) for day in range(days))
    off = (
        tuple(CutOff(start_h=24.0 * day + 12.5, end_h=24.0 * day + 12.75) for day in range(days))
        if cuts
        else ()
    )
    contents_degc = 5.0 + 2.0 * np.sin(hours / 9.0)
    contents_degc[33] = 9.0
    box = FridgeCourse(name=name, low_degc=2.0, high_degc=8.0, contents_degc=contents_degc)
    return UseCourse(
        step_h=STEP_H,
        day_count=days,
        soc_frac=soc_frac,
        reserve_frac=0.1,
        nights=nights,
        stretches=tuple(stretches),
        cut_offs=off,
        fridges=(box,) if fridge else (),
    )

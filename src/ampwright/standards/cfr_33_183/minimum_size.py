"""Smallest conductor, 33 CFR 183.425(d)(e)(f)."""

from __future__ import annotations

from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.astm_b258.gauge import area_mm2

__all__ = ["MinimumArea", "minimum_area_mm2"]


@record
class MinimumArea:
    """Smallest conductor allowed."""

    area_mm2: float
    """Copper area."""
    awg: str
    """The same as a gauge."""
    source: Source
    """Where the limit comes from."""
    note: str
    """Condition on the limit; empty when none."""


def minimum_area_mm2(*, is_in_multiconductor_sheath: bool) -> MinimumArea:
    """Return the smallest stranded copper conductor.

    33 CFR 183.425(d): 18 AWG in a multiconductor sheath; (e): 16 AWG when separate; (f): free ends of
    18 AWG to 30 inch; (g) exempts electronic circuits under 1 A, wires inside equipment and short pigtails.

    Examples
    --------
    >>> minimum_area_mm2(is_in_multiconductor_sheath=False).awg
    '16'
    """
    awg = "18" if is_in_multiconductor_sheath else "16"
    return MinimumArea(
        area_mm2=area_mm2(awg),
        awg=awg,
        source=Source(
            document="33 CFR 183.425",
            edition="print of 2001",
            place="(d), (f)" if is_in_multiconductor_sheath else "(e)",
        ),
        note="not more than 0.76 m out of the sheath" if is_in_multiconductor_sheath else "",
    )

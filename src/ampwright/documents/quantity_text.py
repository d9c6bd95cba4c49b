"""Figures as printed: three significant figures, the unit, and US customary beside it where asked.

Answers how a number looks on paper. Conversion happens here because paper is the edge of the program.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Literal

from ampwright.standards.astm_b258.gauge import AWG_NAMES, area_mm2
from ampwright.units import degf_from_degc, inch_from_mm

__all__ = [
    "MINUS",
    "NARROW_SPACE",
    "UNIT_SPACE",
    "UnitSystem",
    "customary",
    "day_count_text",
    "energy_text",
    "gauge_text",
    "percent_text",
    "quantity_text",
    "three_figures",
]

UnitSystem = Literal["metric", "us"]

NARROW_SPACE = "\u202f"
"""Between thousands; a line is never broken there."""
UNIT_SPACE = "\u00a0"
"""Between figure and unit; a line is never broken there."""
MINUS = "\u2212"
MM_PER_FOOT = 304.8  # international foot, exact
KG_PER_POUND = 0.45359237  # international avoirdupois pound, exact
NM_PER_POUND_FOOT = 0.45359237 * 9.80665 * 0.3048  # pound, standard acceleration and foot, each exact
SAME_GAUGE_FRAC = (
    0.01  # areas this close are printed as the gauge itself; own choice, rounding of printed areas
)


def three_figures(value: float) -> str:
    """Return a number with three significant figures, thousands set apart, never with an exponent.

    Examples
    --------
    >>> [three_figures(x).replace(NARROW_SPACE, " ") for x in (31.04, 0.0, -2.5, 12345.6, 999.6, 0.01234)]
    ['31.0', '0', '−2.50', '12 300', '1 000', '0.0123']
    """
    if not math.isfinite(value):
        return "no figure"
    if value == 0.0:
        return "0"
    digits = 2 - math.floor(math.log10(abs(value)))
    rounded = round(value, digits)
    digits = 2 - math.floor(math.log10(abs(rounded)))
    text = f"{abs(rounded):,.{max(digits, 0)}f}".replace(",", NARROW_SPACE)
    return f"{MINUS}{text}" if rounded < 0.0 else text


def percent_text(part_frac: float) -> str:
    """Return a fraction as a whole percentage; under one percent with a decimal.

    Examples
    --------
    >>> [percent_text(x).replace(UNIT_SPACE, " ") for x in (0.123, -0.4, 0.004, 1.0, 0.0)]
    ['12 %', '−40 %', '0.4 %', '100 %', '0 %']
    """
    if not math.isfinite(part_frac):
        return "no figure"
    percent = 100.0 * part_frac
    text = f"{abs(percent):.1f}" if 0.0 < abs(percent) < 0.95 else f"{abs(percent):,.0f}"
    is_zero = not any(letter in "123456789" for letter in text)
    sign = MINUS if percent < 0.0 and not is_zero else ""
    return f"{sign}{'0' if is_zero else text.replace(',', NARROW_SPACE)}{UNIT_SPACE}%"


def quantity_text(value: float, unit: str, *, units: UnitSystem = "metric") -> str:
    """Return a figure with its unit and, with US units, the customary figure in brackets.

    Examples
    --------
    >>> quantity_text(40.0, "°C", units="us").replace(UNIT_SPACE, " ")
    '40.0 °C (104 °F)'
    """
    if unit == "%":
        return percent_text(value / 100.0)
    text = three_figures(value)
    if not unit:
        return text
    text = f"{text}{UNIT_SPACE}{unit}"
    beside = customary(value, unit) if units == "us" else ""
    return f"{text} ({beside})" if beside else text


def customary(value: float, unit: str) -> str:
    """Return the US customary figure; empty where the trade uses the metric unit there too.

    Examples
    --------
    >>> customary(3.0, "m").replace(UNIT_SPACE, " "), customary(1.0, "A")
    ('9.84 ft', '')
    """
    if not math.isfinite(value):
        return ""
    if unit == "mm²":
        return gauge_text(value)
    converted = {
        "°C": (degf_from_degc(value), "°F"),
        "K": (value * 9.0 / 5.0, "°F of difference"),
        "m": (value * 1000.0 / MM_PER_FOOT, "ft"),
        "mm": (inch_from_mm(value), "in"),
        "kg": (value / KG_PER_POUND, "lb"),
        "N·m": (value / NM_PER_POUND_FOOT, "lbf·ft"),
    }
    if unit not in converted:
        return ""
    figure, symbol = converted[unit]
    return f"{three_figures(figure)}{UNIT_SPACE}{symbol}"


@lru_cache(maxsize=1024)
def gauge_text(conductor_mm2: float) -> str:
    """Return the American wire gauge of an area, or the two gauges it lies between.

    Examples
    --------
    >>> gauge_text(13.3).replace(UNIT_SPACE, " "), gauge_text(16.0).replace(UNIT_SPACE, " ")
    ('6 AWG', 'between 6 and 4 AWG')
    """
    even = tuple(name for name in AWG_NAMES if "/" in name or int(name) % 2 == 0 or name == "1")
    areas = tuple(area_mm2(name) for name in even)
    for name, area in zip(even, areas, strict=True):
        if abs(area - conductor_mm2) <= SAME_GAUGE_FRAC * area:
            return f"{name}{UNIT_SPACE}AWG"
    if conductor_mm2 < areas[0]:
        return f"thinner than {even[0]}{UNIT_SPACE}AWG"
    if conductor_mm2 > areas[-1]:
        return f"thicker than {even[-1]}{UNIT_SPACE}AWG"
    upper = next(i for i, area in enumerate(areas) if area > conductor_mm2)
    return f"between {even[upper - 1]} and {even[upper]}{UNIT_SPACE}AWG"


def energy_text(energy_wh: float) -> str:
    """Return watt-hours of a ledger: whole, so that a column can be added up; tenths below 10.

    Examples
    --------
    >>> [energy_text(x).replace(NARROW_SPACE, " ") for x in (1326.4, 3.26, -80.0)]
    ['1 326', '3.3', '−80']
    """
    if not math.isfinite(energy_wh):
        return "no figure"
    text = f"{abs(energy_wh):,.0f}" if abs(energy_wh) >= 9.95 else f"{abs(energy_wh):.1f}"
    sign = MINUS if energy_wh < 0.0 and text != "0.0" else ""
    return f"{sign}{text.replace(',', NARROW_SPACE)}"


def day_count_text(count: int) -> str:
    """Return "1 day" or "5 days"."""
    return "1 day" if count == 1 else f"{count} days"

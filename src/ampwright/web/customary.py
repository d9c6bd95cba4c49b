"""Figures of a form in US customary units: shown and typed in them, kept in those of the job file.

What was typed comes back as it was typed, and a figure whose text nobody changed stays what it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal, InvalidOperation
from fractions import Fraction

from ampwright.documents.quantity_text import UnitSystem
from ampwright.records import record
from ampwright.standards.astm_b258.gauge import AWG_NAMES, area_mm2
from ampwright.units import symbol, unit_suffix

__all__ = ["in_metric", "reader_units", "shown_figure", "shown_unit", "typed_figure"]

reader_units: ContextVar[UnitSystem] = ContextVar("reader_units", default="metric")
"""Units of whoever asks, while a request is answered."""


@contextmanager
def in_metric() -> Iterator[None]:
    """Show and take the units of the job file meanwhile, whatever the reader has chosen; a decorator too."""
    mark = reader_units.set("metric")
    try:
        yield
    finally:
        reader_units.reset(mark)


@record
class CustomaryUnit:
    """How a unit of the job file becomes a customary one."""

    symbol: str
    """Printed unit."""
    factor: Fraction
    """Size of the customary unit in that of the job file."""
    zero: Fraction = Fraction(0)
    """Where the job file's zero lies on the customary scale."""


FOOT_M = Fraction(3048, 10000)
"""International foot, exact."""
INCH_MM = Fraction(254, 10)
"""International inch, exact."""
POUND_KG = Fraction(45359237, 100000000)
"""International avoirdupois pound, exact."""
SCALES = {
    "m": CustomaryUnit(symbol="ft", factor=FOOT_M),
    "mm": CustomaryUnit(symbol="in", factor=INCH_MM),
    "kg": CustomaryUnit(symbol="lb", factor=POUND_KG),
    "kg_per_mm": CustomaryUnit(symbol="lb/in", factor=POUND_KG / INCH_MM),
    "degc": CustomaryUnit(symbol="°F", factor=Fraction(5, 9), zero=Fraction(32)),
    "k": CustomaryUnit(symbol="°F", factor=Fraction(5, 9)),
}
"""By the ending of a field's name."""
KEPT_DIGITS = 10
SHOWN_PLACES = 8
PLAIN_DIGITS = 6
"""Significant digits of what is kept, decimals of what was typed and comes back, significant digits of what was never
typed (our own choice)."""
MOST_DIGITS = 12
"""Digits before the point, or zeros behind it, of a figure that is taken for one (our own choice)."""
SAME_GAUGE_FRAC = 0.01
"""Areas this close to a gauge are shown as the gauge; rounding of printed areas (our own choice)."""
AREA = re.compile(r"([0-9.,]+)\s*(mm2|mm²)", re.IGNORECASE)


def shown_unit(name: str) -> str:
    """Return the unit a field is shown in, for whoever asks.

    Examples
    --------
    >>> shown_unit("length_m"), shown_unit("power_w")
    ('m', 'W')
    """
    suffix = unit_suffix(name)
    if reader_units.get() == "metric" or suffix is None:
        return symbol(name)
    if suffix == "mm2":
        return "AWG"
    return SCALES[suffix].symbol if suffix in SCALES else symbol(name)


def shown_figure(name: str, value: float) -> str:
    """Return a figure of the job file as a form shows it.

    The shortest text that means just this figure; six digits where there is none with eight decimals.
    """
    suffix = unit_suffix(name)
    if reader_units.get() == "metric" or suffix not in {*SCALES, "mm2"}:
        return str(value)
    if suffix == "mm2":
        return _gauge(value)
    scale = SCALES[suffix]
    exact = Fraction(str(value)) / scale.factor + scale.zero
    rounded = (round(exact, places) for places in range(SHOWN_PLACES + 1))
    same = (figure for figure in rounded if _kept(figure, scale) == value)
    figure = next(same, None)
    return _digits(exact, PLAIN_DIGITS) if figure is None else _digits(figure, MOST_DIGITS + SHOWN_PLACES)


def typed_figure(name: str, text: str, *, before: float | None) -> float | str:
    """Return what was typed as a figure of the job file; text that is no figure stays text.

    Parameters
    ----------
    before : the figure that stood there; it stays where its text was not changed
    """
    suffix = unit_suffix(name)
    if before is not None and text == shown_figure(name, before):
        return before
    if suffix == "mm2":
        return _area(text)
    if suffix not in SCALES:
        return text
    try:
        figure = Decimal(text.replace("−", "-").replace(",", "."))
    except InvalidOperation:
        return text
    is_sane = figure.is_finite() and abs(figure.adjusted()) <= MOST_DIGITS
    return _kept(Fraction(figure), SCALES[suffix]) if is_sane else text


def _kept(figure: Fraction, scale: CustomaryUnit) -> float:
    text = _digits((figure - scale.zero) * scale.factor, KEPT_DIGITS)
    return int(text) if "." not in text else float(text)


def _digits(value: Fraction, count: int) -> str:
    """Return a number rounded to significant digits, without an exponent and without idle zeros."""
    rounded = Decimal(value.numerator) / Decimal(value.denominator)
    text = f"{Decimal(f'{rounded:.{count}g}'):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _gauge(area: float) -> str:
    close = (name for name in AWG_NAMES if abs(area_mm2(name) - area) <= SAME_GAUGE_FRAC * area_mm2(name))
    return next(close, f"{area} mm²")


def _area(text: str) -> float | str:
    plain = AREA.fullmatch(text.strip())
    try:
        if plain:
            return float(plain.group(1).replace(",", "."))
        name = text.upper().replace("AWG", "").strip()
        return float(_digits(Fraction(area_mm2(name)), KEPT_DIGITS)) if name in AWG_NAMES else text
    except ValueError:
        return text

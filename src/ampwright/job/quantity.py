"""A quantity of a job is declared (a plain number), measured, or unknown (a range).

Unknown is never a silent default: the verdict is taken over the range.
"""

from __future__ import annotations

from typing import Generic, TypeVar

from ampwright.records import AirTemperature, AnyNumber, Fraction, NonNegative, Positive, Temperature, record

__all__ = [
    "AirTemperatureAmount",
    "Amount",
    "FractionAmount",
    "Measured",
    "NonNegativeAmount",
    "PositiveAmount",
    "TemperatureAmount",
    "Unknown",
    "known_value",
    "likely_value",
    "span",
]

N = TypeVar("N")


@record
class Measured(Generic[N]):
    """A value read from an instrument."""

    measured: N
    """The reading."""
    how: str = ""
    """Instrument, conditions and day."""
    tolerance_frac: Fraction = 0.0
    """Half width of the reading's uncertainty as a fraction of it."""


@record
class Unknown(Generic[N]):
    """A value nobody knows yet, between two limits."""

    unknown: tuple[N, N]
    """Lowest and highest value it may have."""
    likely: N | None = None
    """Best guess; the middle of the range when absent."""
    ask: str = ""
    """How to find out, e.g. "read the alternator's label"."""


Amount = AnyNumber | Measured[AnyNumber] | Unknown[AnyNumber]
PositiveAmount = Positive | Measured[Positive] | Unknown[Positive]
NonNegativeAmount = NonNegative | Measured[NonNegative] | Unknown[NonNegative]
FractionAmount = Fraction | Measured[Fraction] | Unknown[Fraction]
AirTemperatureAmount = AirTemperature | Measured[AirTemperature] | Unknown[AirTemperature]
TemperatureAmount = Temperature | Measured[Temperature] | Unknown[Temperature]


def likely_value(amount: float | Measured[float] | Unknown[float]) -> float:
    """Return the number to calculate with when nothing else is asked for.

    Examples
    --------
    >>> likely_value(3.0), likely_value(Unknown(unknown=(2.0, 6.0))), likely_value(Measured(measured=5.0))
    (3.0, 4.0, 5.0)
    """
    if isinstance(amount, Measured):
        return amount.measured
    if isinstance(amount, Unknown):
        if amount.likely is not None:
            return amount.likely
        return 0.5 * (amount.unknown[0] + amount.unknown[1])
    return amount


def span(amount: float | Measured[float] | Unknown[float]) -> tuple[float, float]:
    """Return the lowest and the highest number an amount stands for.

    Examples
    --------
    >>> span(3.0), span(Unknown(unknown=(2.0, 6.0), likely=5.0))
    ((3.0, 3.0), (2.0, 6.0))
    """
    if isinstance(amount, Unknown):
        return amount.unknown
    value = likely_value(amount)
    return value, value


def known_value(amount: float | Measured[float] | Unknown[float] | None) -> float | None:
    """Return the number to calculate with, or None for an amount that is not said."""
    return None if amount is None else likely_value(amount)

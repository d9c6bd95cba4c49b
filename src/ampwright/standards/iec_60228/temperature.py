"""Resistance of a copper conductor at its working temperature."""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.sources import Source

__all__ = ["COPPER_ALPHA_FRAC_PER_K", "TEMPERATURE_SOURCE", "resistance_at_ohm_per_km"]

COPPER_ALPHA_FRAC_PER_K = 0.00393
"""Annealed copper at 20 °C: IEC 60028:1925, seen second hand in a power engineering handbook."""

TEMPERATURE_SOURCE = Source(
    document="IEC 60028",
    edition="1925",
    place="temperature coefficient of annealed copper at 20 degC",
    standing="second hand",
)


def resistance_at_ohm_per_km(
    resistance_20_ohm_per_km: float,
    *,
    conductor_degc: float,
    alpha_frac_per_k: float = COPPER_ALPHA_FRAC_PER_K,
) -> float:
    """Return the resistance of a copper conductor at `conductor_degc`.

    IEC 60228, temperature correction: R = R20 · (1 + α · (θ − 20)).

    Notes
    -----
    The printed correction table of cable makers rounds α to 0.004, up to 0.5 % above this at 90 °C.
    Straight line used from −60 °C to 250 °C, the limits of insulation in service and in a fault.

    Examples
    --------
    >>> round(resistance_at_ohm_per_km(3.08, conductor_degc=70.0), 3)
    3.685
    """
    if not -60.0 <= conductor_degc <= 250.0:
        raise TableError(
            f"conductor at {conductor_degc:g} degC: the straight line holds from -60 to 250 degC"
        )
    return resistance_20_ohm_per_km * (1.0 + alpha_frac_per_k * (conductor_degc - 20.0))

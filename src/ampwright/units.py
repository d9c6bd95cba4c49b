"""Unit of a quantity by the ending of its name; the name is the only place a unit is said."""

from __future__ import annotations

__all__ = [
    "SYMBOL_BY_SUFFIX",
    "degc_from_degf",
    "degf_from_degc",
    "inch_from_mm",
    "pound_from_kg",
    "symbol",
    "unit_suffix",
]

SYMBOL_BY_SUFFIX: dict[str, str] = {
    "a": "A",
    "a2s": "A²s",
    "a_s05_per_mm2": "A·s^½/mm²",
    "ah": "Ah",
    "ah_per_day": "Ah/day",
    "count": "",
    "days": "days",
    "deg": "°",
    "degc": "°C",
    "eur": "EUR",
    "eur_per_m": "EUR/m",
    "factor": "",
    "frac": "",
    "frac_per_k": "1/K",
    "frac_per_month": "1/month",
    "g": "g",
    "h": "h",
    "hours": "h",
    "hz": "Hz",
    "k": "K",
    "kbit_s": "kbit/s",
    "kg": "kg",
    "kg_per_m": "kg/m",
    "kg_per_mm": "kg/mm",
    "kwh_m2_day": "kWh/m²/day",
    "l": "l",
    "m": "m",
    "m2": "m²",
    "m3_h": "m³/h",
    "m_s": "m/s",
    "minutes": "min",
    "mm": "mm",
    "mm2": "mm²",
    "money": "",
    "money_per_eur": "",
    "ms": "ms",
    "nm": "N·m",
    "ohm": "Ω",
    "ohm_per_km": "Ω/km",
    "s": "s",
    "siemens": "S",
    "uf": "µF",
    "v": "V",
    "v_per_k": "V/K",
    "va": "VA",
    "w": "W",
    "w_m2": "W/m²",
    "w_per_k": "W/K",
    "wh": "Wh",
    "wh_per_k": "Wh/K",
    "ws": "Ws",
    "years": "years",
}


def unit_suffix(name: str) -> str | None:
    """Return the longest known unit suffix of a field name, or None.

    Examples
    --------
    >>> unit_suffix("resistance_ohm_per_km"), unit_suffix("length_m"), unit_suffix("voltage")
    ('ohm_per_km', 'm', None)
    """
    words = name.split("_")
    for first in range(1, len(words)):
        candidate = "_".join(words[first:])
        if candidate in SYMBOL_BY_SUFFIX:
            return candidate
    return None


def symbol(name: str) -> str:
    """Return the printed unit of a field name; empty for a name without one."""
    suffix = unit_suffix(name)
    return SYMBOL_BY_SUFFIX[suffix] if suffix else ""


def degf_from_degc(temperature_degc: float) -> float:
    """Return degrees Fahrenheit.

    Examples
    --------
    >>> degf_from_degc(100.0)
    212.0
    """
    return temperature_degc * 9.0 / 5.0 + 32.0


def degc_from_degf(temperature_degf: float) -> float:
    """Return degrees Celsius.

    Examples
    --------
    >>> degc_from_degf(95.0)
    35.0
    """
    return (temperature_degf - 32.0) * 5.0 / 9.0


def inch_from_mm(length_mm: float) -> float:
    """Return inches; one inch is 25.4 mm exactly (international inch)."""
    return length_mm / 25.4


def pound_from_kg(mass_kg: float) -> float:
    """Return pounds; one is 0.45359237 kg exactly (international avoirdupois pound).

    Examples
    --------
    >>> round(pound_from_kg(0.45359237), 6)
    1.0
    """
    return mass_kg / 0.45359237

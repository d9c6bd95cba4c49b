"""How a figure of a comparison is printed."""

from __future__ import annotations

from typing import Literal

from ampwright.documents.comparison.records import Figure
from ampwright.documents.quantity_text import MINUS, percent_text

__all__ = ["figure_text"]


def figure_text(figure: Figure, side: Literal["before", "after"]) -> str:
    """Return one side of a figure with its unit; a dash where it is not known.

    Examples
    --------
    >>> figure = Figure(name="mass added", unit="kg", before=12.345, after=None)
    >>> figure_text(figure, "before"), figure_text(figure, "after")
    ('12.3 kg', '-')
    """
    value = getattr(figure, side)
    if value is None:
        return "-"
    if figure.unit == "%":
        return percent_text(value)
    if figure.name.startswith("bill"):
        return f"{value:,.2f} {figure.unit}".replace("-", MINUS)
    if not figure.unit:
        return f"{value:.0f}"
    return f"{value:,.1f} {figure.unit}".replace("-", MINUS)

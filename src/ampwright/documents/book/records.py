"""A workbook as plain records: sheets of rows of cells, a formula being a text of its own kind."""

from __future__ import annotations

from typing import Literal

from ampwright.records import record

__all__ = ["Cell", "Formula", "Look", "Table"]

Look = Literal["", "head", "title", "total", "note", "money", "money-total", "metres", "rate"]
"""How a cell is printed."""


@record
class Formula:
    """A formula of the spreadsheet, with its leading "="."""

    text: str
    """E.g. "=SUM(F4:F9)"."""


@record
class Cell:
    """One cell."""

    value: str | int | float | Formula | None
    """Text, number or formula; None = empty."""
    look: Look = ""
    """How it is printed."""


@record
class Table:
    """One sheet of a workbook."""

    name: str
    """Name of the sheet."""
    widths: tuple[int, ...]
    """Width of each column in characters."""
    rows: tuple[tuple[Cell, ...], ...]
    """Rows from the top."""
    head_row: int = 0
    """Rows that stay in sight and are printed on every page; 0 = none."""
    is_landscape: bool = True
    """How the sheet is laid when it is printed."""

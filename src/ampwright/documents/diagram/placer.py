"""Where the two sides of a sheet are: distances from the bus bar as places on paper."""

from __future__ import annotations

from ampwright.documents.diagram.labels import Writer
from ampwright.documents.diagram.layout import BAR_MM, Rows, block_height_mm
from ampwright.documents.diagram.sheets import Page
from ampwright.documents.diagram.symbols import SYMBOLS
from ampwright.documents.diagram.tree import Side, Twig
from ampwright.records import record

__all__ = ["Placer"]


@record
class Placer:
    """Where a side of a sheet is, and in whose words it is written."""

    page: Page
    """The sheet."""
    side: Side
    """Side of the bar."""
    bar_mm: float
    """Middle of the bar from the top."""
    writer: Writer
    """Words."""

    @property
    def is_up(self) -> bool:
        """True above the bar."""
        return self.side == "above"

    @property
    def rows(self) -> Rows:
        """Rows of this side."""
        return self.page.rows[self.side]

    def y(self, away_mm: float) -> float:
        """Return a distance from the bar as a place on the sheet."""
        return self.bar_mm - away_mm if self.is_up else self.bar_mm + away_mm

    def top(self, away_mm: float, height_mm: float) -> float:
        """Return the upper edge of something that begins at a distance from the bar."""
        return self.y(away_mm + height_mm) if self.is_up else self.y(away_mm)

    def starts_mm(self, twig: Twig) -> float:
        """Return where a twig's line begins, from the bar."""
        parent = twig.parent
        if parent is None or parent is self.page.section.root:
            return BAR_MM / 2.0
        if twig in parent.near:
            return self.rows.junction_mm[parent.level]
        begins = self.rows.block_mm[parent.level]
        block = parent.block
        if block is None or block.shape in {"bar", "strip"}:
            return begins + block_height_mm(parent)
        return begins + SYMBOLS[block.symbol].height_mm

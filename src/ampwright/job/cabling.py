"""How this job cuts, colours and buys its cables; what is not said is the region's or this project's own choice."""

from __future__ import annotations

from ampwright.records import Fraction, NonNegative, Positive, record

__all__ = ["Cabling"]


@record
class Cabling:
    """Colours, slack and rolls of the job's cables."""

    positive_colour: str = ""
    """Colour of the DC positive; empty = the region's."""
    negative_colour: str = ""
    """Colour of the DC negative; empty = the region's."""
    chassis_colour: str = ""
    """Colour of a bond to metal; empty = the region's."""
    slack_end_m: NonNegative | None = None
    """Cut longer at each end of each piece; absent = own choice, 0.05."""
    slack_frac: Fraction | None = None
    """Cut longer along the way; absent = own choice, 0.05."""
    roll_m: Positive | None = None
    """Length of the rolls cable is bought in; absent = own choice, 25."""

"""One length of conductor, and what each of its ends is put on."""

from __future__ import annotations

from typing import Literal

from ampwright.job.wiring import Owner
from ampwright.parts.cable import Cable
from ampwright.records import record

__all__ = ["CablingFigures", "Form", "Piece", "Pole", "Terminal", "pole_sign"]

Pole = Literal["plus", "minus", "both", "metal"]
"""Which conductor it is: out, back, both in one sheath, or a bond to metal."""
Form = Literal["", "stud", "clamp", "blade", "lead", "through"]
"""What the end is put on; "through" = it passes a part that has no terminal for it; "" = not said."""


def pole_sign(pole: Pole) -> str:
    """Return the sign printed for a conductor.

    Examples
    --------
    >>> pole_sign("plus"), pole_sign("both")
    ('+', '±')
    """
    return {"plus": "+", "minus": "\u2212", "both": "±", "metal": "\u23da"}[pole]


@record
class CablingFigures:
    """Colours, slack and rolls of a job, resolved."""

    positive_colour: str
    """Colour of the DC positive."""
    negative_colour: str
    """Colour of the DC negative."""
    chassis_colour: str
    """Colour of a bond to metal."""
    slack_end_m: float
    """Cut longer at each end of each piece."""
    slack_frac: float
    """Cut longer along the way."""
    roll_m: float
    """Length of a roll."""


@record
class Terminal:
    """Where an end of a conductor is put."""

    place: str
    """Part, device or metal by its label; for a device with the side it is on."""
    pole: Pole
    """Which of its terminals."""
    form: Form
    """What the end is put on."""
    stud_mm: float
    """Thread of the stud; 0 = none."""
    torque_nm: float
    """Torque the part gives; 0 = see its manual."""
    stud_count: int
    """Studs or clamps that share the connection."""


@record
class Piece:
    """One length of conductor between two terminals."""

    id: str
    """Text of its label, e.g. "W3+" or "W3.2+"."""
    run: str
    """Label of the run it belongs to; empty for a bond."""
    pole: Pole
    """Which conductor."""
    start: Terminal
    """Where it comes from."""
    end: Terminal
    """Where it goes to."""
    cable: Cable
    """Its cable."""
    colour: str
    """Colour; empty where the cable has cores of both."""
    length_m: float | None
    """As in the job; None = measure it."""
    cut_m: float | None
    """With slack; None = measure it."""
    plugs: tuple[str, ...]
    """Plugs on its way, whose place the job does not say."""
    is_inside_module: bool
    """True when it belongs to the power module."""
    supplied_by: Owner
    """Who supplies it."""

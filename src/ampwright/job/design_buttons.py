"""Buttons and interlocks of a design: channels as positions in Design.channels."""

from __future__ import annotations

from typing import Literal

from ampwright.job.buttons import ButtonUse, Signal
from ampwright.records import record

__all__ = ["DesignButton", "DesignInterlock"]


@record
class DesignButton:
    """A button, names resolved."""

    index: int
    """Position in Design.buttons."""
    part: int
    """Index of its panel or remote."""
    number: int
    """Number on the panel."""
    legend: str
    """What stands on it."""
    does: ButtonUse
    """What it does."""
    channels: tuple[int, ...]
    """Positions of the channels it switches; of a scene those it sets, of all-off none."""
    levels_frac: tuple[float, ...]
    """Levels a scene sets, one for each of its channels; empty for any other button."""
    keeps: tuple[int, ...]
    """Positions of the channels that all-off leaves as they are."""


@record
class DesignInterlock:
    """An interlock, names resolved."""

    channels: tuple[int, ...]
    """Positions of the channels it keeps off."""
    off_while: tuple[Signal, ...]
    """States in which they stay off."""
    when_lost: Literal["off", "as-parked"]
    """What holds when the signal is lost."""
    told_by: str
    """What tells the state."""
    reason: str
    """Why."""

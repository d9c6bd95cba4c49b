"""Buttons, what they do, and interlocks: as a job says them."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import MaxLen

from ampwright.records import Count, Fraction, record

__all__ = ["Button", "ButtonUse", "Interlock", "SceneLevel", "Signal"]

ButtonUse = Literal["toggle", "momentary", "dim", "two-colours", "scene", "all-off"]
Signal = Literal["parked", "road", "reversing"]


@record
class SceneLevel:
    """A channel of a scene and how far up it is."""

    channel: str
    """Output channel, written like a node: "module.number"."""
    level_frac: Fraction = 1.0
    """Brightness the scene sets; 0 = off, 1 = full."""


@record
class Button:
    """A button of a panel or remote, and what it does."""

    panel: str
    """Id of the placed button panel or remote."""
    number: Count
    """Number of the button on it."""
    legend: str
    """What stands on it."""
    does: ButtonUse = "toggle"
    """On and off by turns; on while held; press switches and hold dims; second press changes colour; several channels at given levels; everything off."""
    channels: Annotated[tuple[str, ...], MaxLen(100)] = ()
    """Output channels it switches, written like nodes: "module.number"; two-colours: first and second colour."""
    level: Annotated[tuple[SceneLevel, ...], MaxLen(100)] = ()
    """What a scene sets; channels it does not name stay as they are."""
    keeps: Annotated[tuple[str, ...], MaxLen(100)] = ()
    """Output channels that an all-off button leaves as they are."""


@record
class Interlock:
    """Output channels that stay off in some states of the vehicle, whatever is pressed."""

    channels: Annotated[tuple[str, ...], MaxLen(100)]
    """Output channels it keeps off, written like nodes: "module.number"."""
    off_while: tuple[Signal, ...]
    """States in which they stay off: parked, driving on the road, reversing."""
    when_lost: Literal["off", "as-parked"] = "off"
    """What holds when the signal of the vehicle is lost: they stay off, or are switched as if parked."""
    told_by: str = ""
    """What tells the state, e.g. run wire and wire of the reversing lamp."""
    reason: str = ""
    """Why, for whoever meets it later."""

"""Design -> what is drawn and how it is joined: blocks (parts, loads, the vehicle) and joints (cable runs and the rest)."""

from __future__ import annotations

from typing import Literal

from ampwright.documents.diagram.symbols import SymbolName
from ampwright.job.design import DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.design_wiring import DesignBond, DesignChannel, DesignRun
from ampwright.records import record

__all__ = ["Block", "End", "Graph", "Joint", "Shape", "Shows"]

Shape = Literal["end", "pass", "bar", "strip"]
"""A symbol with one terminal, one that a line passes through, a bus bar, a strip of output channels."""


Shows = Literal["all", "from", "to", "none"]
"""Devices of a circuit that are drawn on one piece of it."""


@record
class Block:
    """One thing on the drawing."""

    index: int
    """Position in Graph.blocks."""
    id: str
    """Id of its group, e.g. "part-battery"."""
    name: str
    """Name in the job."""
    symbol: SymbolName
    """How it is drawn; a bar and a strip have shapes of their own."""
    shape: Shape
    """How lines meet it."""
    is_source: bool = False
    """True when it belongs above the bus bar."""
    is_inside_module: bool = False
    """True when it belongs to the power module."""
    part: DesignPart | None = None
    """The placed part."""
    load: DesignLoad | None = None
    """The load."""
    bond: DesignBond | None = None
    """The tie to metal."""
    channels: tuple[DesignChannel, ...] = ()
    """Channels in use, of a strip."""


@record
class End:
    """Where a joint meets a block."""

    block: int
    """Index of the block."""
    terminal: str
    """ "", "in", "out", "ac", or the number of a channel."""


@record
class Joint:
    """A line between two blocks."""

    kind: Literal["run", "plugged", "mains", "bond"]
    """A cable run, a load at its outlet, the mains side, a tie to metal."""
    start: End
    """Where it comes from."""
    end: End
    """Where it goes to."""
    run: DesignRun | None = None
    """The cable run."""
    port: str = ""
    """Port of the module it is connected at."""


@record
class Graph:
    """Everything that is drawn, in the order of the design."""

    blocks: tuple[Block, ...]
    """Blocks."""
    joints: tuple[Joint, ...]
    """Joints."""
    main: int
    """Index of the main bus bar."""

    def joints_at(self, block: int) -> list[tuple[int, Joint, End, End]]:
        """Return position, joint, own end and other end of what meets a block; at a strip in the order of its channels."""
        found = [
            (position, joint, own, other)
            for position, joint in enumerate(self.joints)
            for own, other in ((joint.start, joint.end), (joint.end, joint.start))
            if own.block == block
        ]
        return sorted(found, key=lambda each: int(each[2].terminal) if each[2].terminal.isdigit() else 0)

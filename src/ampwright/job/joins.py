"""Relays between the starter battery and the auxiliary one, and when their contacts can be closed."""

from __future__ import annotations

from ampwright.job.design import Design, DesignPart
from ampwright.job.nodes import STARTER_NODE
from ampwright.parts.relay import Relay
from ampwright.records import record

__all__ = ["Join", "close_v", "closes_hooked_up", "closes_while_starting", "open_v", "relay_joins"]


@record
class Join:
    """A relay whose contacts join the two batteries."""

    link: int
    """Index of the path through its contacts."""
    starter_end: int
    """Index of the node on the starter battery's side."""
    auxiliary_end: int
    """Index of the node on the auxiliary battery's side."""
    placed: DesignPart
    """The placed relay."""
    part: Relay
    """Its catalogue record."""


def relay_joins(design: Design) -> tuple[Join, ...]:
    """Return the relays that join the batteries when they close: one end hangs on either battery while they are open.

    Relays elsewhere are contactors of some circuit, and reckoned as closed.
    """
    starter, battery = design.node_of(STARTER_NODE), design.node_of(design.parts[design.battery].id)
    relays = {
        index: part
        for index, link in enumerate(design.links)
        if isinstance(part := design.parts[link.part].part, Relay)
    }
    if not relays or starter < 0 or battery < 0:
        return ()
    piece = _pieces(design, _open_links(design, relays, (starter, battery)))
    found: list[Join] = []
    for index, part in relays.items() if piece[starter] != piece[battery] else ():
        link = design.links[index]
        ends = (link.start, link.end) if piece[link.start] == piece[starter] else (link.end, link.start)
        if (piece[ends[0]], piece[ends[1]]) == (piece[starter], piece[battery]):
            placed = design.parts[link.part]
            found.append(
                Join(link=index, starter_end=ends[0], auxiliary_end=ends[1], placed=placed, part=part)
            )
    return tuple(found)


def _open_links(design: Design, relays: dict[int, Relay], batteries: tuple[int, int]) -> set[int]:
    """Return the relays that part the batteries: those worked by hand only where no other does.

    Of two in series the first in the file is taken as closed, so that the pair is judged by the other.
    """
    opened = {index for index, part in relays.items() if part.pick_up != "manual"}
    by_hand = set(relays) - opened
    if _are_joined(design, opened, batteries):
        alone = [index for index in by_hand if not _are_joined(design, opened | {index}, batteries)]
        # a contactor in the battery's own lead parts them too, but leaves it alone
        opened |= (
            {max(alone, key=lambda index: (_size(design, opened | {index}, batteries[1]), index))}
            if alone
            else by_hand
        )
    for index in sorted(opened):
        piece = _pieces(design, opened)
        ends = {piece[design.links[index].start], piece[design.links[index].end]}
        is_between = ends == {piece[node] for node in batteries}
        if not is_between and not _are_joined(design, opened - {index}, batteries):
            opened.discard(index)
    return opened


def _are_joined(design: Design, opened: set[int], batteries: tuple[int, int]) -> bool:
    piece = _pieces(design, opened)
    return piece[batteries[0]] == piece[batteries[1]]


def _size(design: Design, opened: set[int], node: int) -> int:
    piece = _pieces(design, opened)
    return piece.count(piece[node])


def _pieces(design: Design, open_links: set[int]) -> list[int]:
    """Return the connected piece of each node with some paths open."""
    parent = list(range(len(design.nodes)))

    def root(node: int) -> int:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    edges = [(run.start, run.end) for run in design.runs]
    edges += [(link.start, link.end) for index, link in enumerate(design.links) if index not in open_links]
    for start, end in edges:
        parent[root(start)] = root(end)
    return [root(node) for node in range(len(parent))]


def close_v(placed: DesignPart, part: Relay) -> float:
    """Return the voltage above which a relay closes: as set, else as delivered."""
    setting = placed.setting
    return setting.start_v if setting is not None and setting.start_v is not None else part.close_v


def open_v(placed: DesignPart, part: Relay) -> float:
    """Return the voltage below which a relay opens: as set, else as delivered."""
    setting = placed.setting
    return setting.stop_v if setting is not None and setting.stop_v is not None else part.open_v


def closes_hooked_up(join: Join) -> bool:
    """Tell whether it can be closed while a mains charger holds the auxiliary battery high."""
    return join.part.pick_up == "manual" or (join.part.pick_up == "voltage" and join.part.is_two_way)


def closes_while_starting(join: Join) -> bool:
    """Tell whether it may be closed while the starter turns; a restart soon after a stop counts."""
    return not join.part.is_open_while_starting

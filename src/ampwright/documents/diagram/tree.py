"""Graph -> trees that hang on a bus bar: what is above, what is below, and where a line must be interrupted.

A twig is scratch for the layout and changes while it is made; nothing outside this package sees one.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from typing import Literal

from ampwright.documents.diagram.graph import Block, End, Graph, Joint, Shows
from ampwright.documents.diagram.labels import Item, Line

__all__ = ["Side", "Tree", "Twig", "all_twigs", "cut", "grow", "set_levels"]

Side = Literal["above", "below"]


class Twig:
    """A joint and the block at its far end, with what hangs on that block."""

    def __init__(
        self,
        joint: Joint | None = None,
        block: Block | None = None,
        *,
        is_forward: bool = True,
        shows: Shows = "all",
    ) -> None:
        self.joint = joint
        """How it hangs on its parent; None = it hangs on nothing."""
        self.block = block
        """What is at its end; None = another twig's block (`hub`) or a reference to another place (`partner`)."""
        self.is_forward = is_forward
        """True when the joint starts at the parent."""
        self.shows: Shows = shows
        """Devices drawn on it."""
        self.near: list[Twig] = []
        """Twigs on the terminal by which this block is entered."""
        self.far: list[Twig] = []
        """Twigs on its other terminals."""
        self.parent: Twig | None = None
        """What it hangs on."""
        self.hub: Twig | None = None
        """Block of another twig that it meets from the side."""
        self.partner: Twig | None = None
        """Where its line goes on."""
        self.level = 0
        """Row, counted from the bus bar."""
        self.sheet = 0
        """Number of its sheet."""
        self.items: tuple[Item, ...] = ()
        """What stands along its line."""
        self.lines: tuple[Line, ...] = ()
        """Text at its block."""
        self.x_mm = 0.0
        """Axis from the left."""
        self.left_mm = 0.0
        """Reach of it and what hangs on it to the left."""
        self.right_mm = 0.0
        """Reach to the right."""
        self.core_mm = (0.0, 0.0)
        """Reach of what is its own and on its far side."""

    @property
    def children(self) -> list[Twig]:
        """Return what hangs on it, from left to right."""
        return [*self.far, *self.near]


class Tree:
    """What hangs on the main bus bar."""

    def __init__(self, root: Twig) -> None:
        self.root = root
        """The bus bar."""
        self.side: dict[int, Side] = {}
        """Side of each branch, by id() of its twig."""
        self.links: list[Twig] = []
        """Twigs that meet another twig's block from the side."""
        self.count_interrupted = 0
        """Lines that are drawn in two pieces."""


def all_twigs(twig: Twig) -> Iterator[Twig]:
    """Yield a twig and everything that hangs on it."""
    yield twig
    for child in twig.children:
        yield from all_twigs(child)


def grow(graph: Graph, interrupted: frozenset[int]) -> Tree:
    """Return the tree of a graph; the joints named (by position) are interrupted instead of drawn through."""
    twigs: dict[int, Twig] = {}
    used: set[int] = set()
    root = _breadth_first(graph, graph.main, twigs, used)
    for block in sorted(graph.blocks, key=lambda each: each.shape != "bar"):
        if block.index not in twigs:
            loose = _breadth_first(graph, block.index, twigs, used)
            loose.parent = root
            root.far.append(loose)
    tree = Tree(root)
    tree.side = {id(branch): _side(branch) for branch in root.far}
    open_ends = [(position, joint) for position, joint in enumerate(graph.joints) if position not in used]
    for _, joint in open_ends:
        _raise(tree, twigs[joint.start.block], twigs[joint.end.block])
    for position, joint in open_ends:
        _close(tree, twigs, joint, may_link=position not in interrupted)
    set_levels(root.far, tree.links)
    return tree


def cut(twig: Twig) -> Twig:
    """Cut a twig off its parent, which keeps a reference in its place; return the reference at the twig's own side."""
    stub = Twig(twig.joint, is_forward=twig.is_forward)
    feed = Twig(twig.joint, is_forward=not twig.is_forward, shows="none")
    stub.parent, feed.parent = twig.parent, twig
    stub.partner, feed.partner = feed, stub
    if twig.parent is not None:
        for side in (twig.parent.near, twig.parent.far):
            if twig in side:
                side[side.index(twig)] = stub
    twig.parent = None
    return feed


def _breadth_first(graph: Graph, start: int, twigs: dict[int, Twig], used: set[int]) -> Twig:
    root = Twig(block=graph.blocks[start])
    twigs[start] = root
    queue = deque([root])
    while queue:
        twig = queue.popleft()
        for position, joint, own, other in graph.joints_at(_index(twig)):
            if other.block not in twigs:
                child = Twig(joint=joint, block=graph.blocks[other.block], is_forward=own is joint.start)
                _hang(twig, child, own)
                twigs[other.block] = child
                used.add(position)
                queue.append(child)
    return root


def _index(twig: Twig) -> int:
    return -1 if twig.block is None else twig.block.index


def _hang(parent: Twig, child: Twig, own: End) -> None:
    """Hang a twig on the near or the far side of its parent."""
    child.parent = parent
    shape = "bar" if parent.block is None else parent.block.shape
    is_near = shape == "end" or (shape != "bar" and own.terminal == _entered(parent))
    (parent.near if is_near else parent.far).append(child)


def _entered(twig: Twig) -> str | None:
    """Return the terminal by which a twig's block is entered; None where everything hangs on its far side."""
    if twig.joint is None:
        return "" if twig.block is not None and twig.block.shape == "end" else None
    return (twig.joint.end if twig.is_forward else twig.joint.start).terminal


def _side(branch: Twig) -> Side:
    is_source = any(twig.block is not None and twig.block.is_source for twig in all_twigs(branch))
    return "above" if is_source else "below"


def _raise(tree: Tree, one: Twig, two: Twig) -> None:
    """Put a branch that only passes current on, such as a relay's, above the bar where it leads to something above."""
    for twig, other in ((one, two), (two, one)):
        branch, there = _branch_of(tree, twig), _branch_of(tree, other)
        if branch is None or there is None or tree.side[id(there)] != "above":
            continue
        if all(each.block is not None and each.block.shape == "pass" for each in all_twigs(branch)):
            tree.side[id(branch)] = "above"


def _branch_of(tree: Tree, twig: Twig) -> Twig | None:
    """Return the branch of the root that a twig belongs to; None for the root."""
    while twig.parent is not None and twig.parent is not tree.root:
        twig = twig.parent
    return None if twig is tree.root else twig


def _depth(twig: Twig) -> int:
    return 0 if twig.parent is None else 1 + _depth(twig.parent)


def _close(tree: Tree, twigs: dict[int, Twig], joint: Joint, *, may_link: bool) -> None:
    """Draw a joint that closes a loop: from the block nearer to the bus bar to the side of the other, or in two pieces."""
    start, end = twigs[joint.start.block], twigs[joint.end.block]
    ways = [(True, start, end), (False, end, start)][:: 1 if _depth(start) <= _depth(end) else -1]
    for is_forward, parent, hub in ways if may_link else []:
        own, other = (joint.start, joint.end) if is_forward else (joint.end, joint.start)
        if not _can_meet(tree, parent, hub, other):
            continue
        link = Twig(joint, is_forward=is_forward)
        link.hub = hub
        _hang(parent, link, own)
        tree.links.append(link)
        branch = _branch_of(tree, hub)
        if parent is tree.root and branch is not None:
            tree.side[id(link)] = tree.side[id(branch)]
            tree.root.far.remove(link)
            tree.root.far.insert(tree.root.far.index(branch), link)
        else:
            _draw_together(tree, parent, hub)
        return
    tree.count_interrupted += 1
    pieces = (Twig(joint=joint, shows="from"), Twig(joint=joint, is_forward=False, shows="to"))
    pieces[0].partner, pieces[1].partner = pieces[1], pieces[0]
    for piece, twig, at in ((pieces[0], start, joint.start), (pieces[1], end, joint.end)):
        _hang(twig, piece, at)
        if twig is tree.root:
            tree.side[id(piece)] = "below"


def _can_meet(tree: Tree, parent: Twig, hub: Twig, other: End) -> bool:
    """Tell whether a line from a parent may meet a block from the side: same side of the bar, at the terminal it is entered by."""
    if hub.block is None or hub is tree.root or hub.joint is None:
        return False
    one, two = _branch_of(tree, parent), _branch_of(tree, hub)
    if two is None or (one is not None and tree.side[id(one)] != tree.side[id(two)]):
        return False
    return hub.block.shape in {"end", "bar"} or other.terminal == _entered(hub)


def _draw_together(tree: Tree, parent: Twig, hub: Twig) -> None:
    """Put the branch of a hub to the right of the branch that comes to meet it."""
    one, two = _branch_of(tree, parent), _branch_of(tree, hub)
    if one is None or two is None or one is two:
        return
    order = tree.root.far
    order.remove(one)
    order.insert(order.index(two), one)


def _is_beside(twig: Twig) -> bool:
    """Tell whether a load stands in the row of the outlet it is plugged into."""
    is_plugged = twig.joint is not None and twig.joint.kind == "plugged" and not twig.children
    return is_plugged and twig.parent is not None and twig in twig.parent.near


def set_levels(branches: list[Twig], links: list[Twig]) -> None:
    """Give branches their rows; a block is in a row with the last piece of every line that meets it."""
    for _ in range(1 + len(links)):
        for branch in branches:
            for twig in all_twigs(branch):
                before = 0 if twig is branch or twig.parent is None else twig.parent.level - _is_beside(twig)
                meets = (link.parent.level for link in links if link.hub is twig and link.parent is not None)
                twig.level = 1 + max(before, max(meets, default=0))

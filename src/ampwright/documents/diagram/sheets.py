"""Tree -> sheets: what is too wide or too deep becomes a bar of its own with a reference at both ends, and a bar goes on over sheets."""

from __future__ import annotations

from collections import deque

from ampwright.documents.diagram.graph import Graph
from ampwright.documents.diagram.labels import MARGIN_MM, Writer
from ampwright.documents.diagram.layout import BAR_MM, Rows, measure, place, rows_of, write, wrong_links
from ampwright.documents.diagram.records import Size
from ampwright.documents.diagram.tree import Side, Tree, Twig, all_twigs, cut, grow, set_levels
from ampwright.records import record

__all__ = ["CONTINUED_MM", "LEFT_MM", "Page", "Plan", "plan_of"]

LEFT_MM = MARGIN_MM + 5.0
"""Column at the left of a bar for its name and its tie to metal."""
CONTINUED_MM = 23.0
"""Column at the right of a bar that goes on."""


class Section:
    """One bus bar with all that hangs on it, or what hangs on no bar."""

    def __init__(self, root: Twig | None, above: list[Twig], below: list[Twig]) -> None:
        self.root = root
        """The bar; None = none."""
        self.above = above
        """Branches above it."""
        self.below = below
        """Branches below it."""


class Page:
    """What one sheet holds."""

    def __init__(self, section: Section, above: list[Twig], below: list[Twig], bonds: list[Twig]) -> None:
        self.section = section
        """The bar it shows."""
        self.above = above
        """Branches above."""
        self.below = below
        """Branches below."""
        self.bonds = bonds
        """Ties of the bar to metal."""
        self.rows: dict[Side, Rows] = {"above": rows_of(above), "below": rows_of(below)}
        """Rows of either side."""
        self.before = 0
        """Sheet from which the bar comes; 0 = none."""
        self.after = 0
        """Sheet to which the bar goes on; 0 = none."""
        self.width_mm = 0.0
        """Width of its branches."""
        self.left_mm = LEFT_MM
        """Where its branches begin."""
        self.links: list[Twig] = []
        """Lines that meet a block from the side."""


@record
class Plan:
    """All sheets."""

    pages: tuple[Page, ...]
    """Sheets in order."""
    interrupted_count: int
    """Lines drawn in two pieces."""


def plan_of(graph: Graph, writer: Writer, size: Size, *, may_split: bool) -> Plan | None:
    """Return the sheets of a graph on an area; None where it does not fit on one sheet and may not be split."""
    interrupted: frozenset[int] = frozenset()
    while True:
        tree = grow(graph, interrupted)
        sections = _sections(tree, writer, size)
        pages = [page for section in sections for page in _pages(section, size)]
        if len(pages) > 1 and not may_split:
            return None
        _number(pages, writer, size)
        for page in pages:
            page.links = tree.links
        wrong = {
            joint
            for page in pages
            for side, branches in (("above", page.above), ("below", page.below))
            for joint in wrong_links(tree.links, branches, page.rows["above" if side == "above" else "below"])
        } | {joint for page in pages if page.width_mm > size.width_mm - LEFT_MM for joint in _linked(page)}
        if not wrong:
            return Plan(pages=tuple(pages), interrupted_count=tree.count_interrupted + len(sections) - 1)
        interrupted |= {position for position, joint in enumerate(graph.joints) if id(joint) in wrong}


def _linked(page: Page) -> set[int]:
    """Return the joints, by id(), that hold branches of a sheet together."""
    here = {id(twig) for branch in (*page.above, *page.below) for twig in all_twigs(branch)}
    return {id(link.joint) for link in page.links if id(link) in here}


def _sections(tree: Tree, writer: Writer, size: Size) -> list[Section]:
    """Return the sections, cut until each part of each fits on a sheet."""
    main = Section(tree.root, [], [])
    for branch in tree.root.far:
        (main.above if tree.side[id(branch)] == "above" else main.below).append(branch)
    queue, done = deque([main]), []
    while queue:
        section = queue.popleft()
        done.append(section)
        while True:
            new = _next_cut(section, tree, writer, size)
            if new is None:
                break
            queue.append(new)
    return done


def _next_cut(section: Section, tree: Tree, writer: Writer, size: Size) -> Section | None:
    """Cut one thing off a section that is too wide or too deep; None where it fits."""
    branches = [*section.above, *section.below]
    if section.root is not None:
        write(section.root, writer)
    for branch in branches:
        measure(branch, writer)
    set_levels(branches, tree.links)
    room_mm = size.width_mm - LEFT_MM - CONTINUED_MM
    for branch in branches:
        if branch.left_mm + branch.right_mm > room_mm:
            found = _widest(branch)
            if found is not None:
                return _cut_off(section, found)
    rows = {"above": rows_of(section.above), "below": rows_of(section.below)}
    if sum(each.depth_mm for each in rows.values()) + BAR_MM > size.height_mm:
        deep = section.above if rows["above"].depth_mm > rows["below"].depth_mm else section.below
        found = _deepest(deep)
        if found is not None:
            return _cut_off(section, found)
    return None


def _widest(branch: Twig) -> Twig | None:
    """Return the widest bar or strip of a branch; where it has none, the widest twig with more than one line on it."""
    wide = [twig for twig in all_twigs(branch) if len(twig.children) > 1 and (twig.joint is not None)]
    bars = [twig for twig in wide if twig.block is not None and twig.block.shape in {"bar", "strip"}]
    return max(bars or wide, key=lambda each: each.left_mm + each.right_mm, default=None)


def _deepest(branches: list[Twig]) -> Twig | None:
    """Return the parent of the first block of the deepest row; None where that is a bar itself."""
    twigs = [twig for branch in branches for twig in all_twigs(branch)]
    last = max(twigs, key=lambda each: each.level, default=None)
    found = None if last is None else last.parent
    return found if found is not None and found.joint is not None and found.level >= 1 else None


def _cut_off(section: Section, twig: Twig) -> Section:
    feed = cut(twig)
    for side in (section.above, section.below):
        if twig in side and feed.partner is not None:
            side[side.index(twig)] = feed.partner
    block = twig.block
    if block is not None and block.shape in {"bar", "strip"}:
        feed.near = twig.near
        for child in feed.near:
            child.parent = feed
        new = Section(twig, [feed], twig.far)
        twig.near, twig.level = [], 0
    else:
        twig.near.append(feed)
        twig.joint = None
        new = Section(None, [], [twig])
    return new


def _pages(section: Section, size: Size) -> list[Page]:
    """Fill sheets with the branches of a section, in order."""
    bonds = [
        twig
        for twig in section.below
        if twig.block is not None and twig.block.bond is not None and section.root is not None
    ]
    below = [twig for twig in section.below if twig not in bonds]
    filled = [_filled(_units(side), size.width_mm - LEFT_MM) for side in (section.above, below)]
    count = max(len(filled[0]), len(filled[1]))
    if count > 1:
        filled = [
            _filled(_units(side), size.width_mm - LEFT_MM - CONTINUED_MM) for side in (section.above, below)
        ]
        count = max(len(filled[0]), len(filled[1]))
    pages = []
    for number in range(max(count, 1)):
        above, under = (each[number] if number < len(each) else [] for each in filled)
        pages.append(Page(section, above, under, bonds if number == 0 else []))
    return pages


def _units(branches: list[Twig]) -> list[list[Twig]]:
    """Return branches, those together that a line from the side joins."""
    units: list[list[Twig]] = []
    owner = {id(twig): number for number, branch in enumerate(branches) for twig in all_twigs(branch)}
    reach = list(range(len(branches)))
    for number, branch in enumerate(branches):
        for twig in all_twigs(branch):
            if twig.hub is not None and id(twig.hub) in owner:
                low, high = sorted((number, owner[id(twig.hub)]))
                reach[low] = max(reach[low], high)
    number = 0
    while number < len(branches):
        end = number
        scan = number
        while scan <= end:
            end = max(end, reach[scan])
            scan += 1
        units.append(branches[number : end + 1])
        number = end + 1
    return units


def _filled(units: list[list[Twig]], room_mm: float) -> list[list[Twig]]:
    pages: list[list[Twig]] = []
    used = 0.0
    for unit in units:
        width = _width(unit)
        if not pages or used + width > room_mm:
            pages.append([])
            used = 0.0
        pages[-1].extend(unit)
        used += width
    return pages


def _width(branches: list[Twig]) -> float:
    return sum(branch.left_mm + branch.right_mm for branch in branches)


def _number(pages: list[Page], writer: Writer, size: Size) -> None:
    """Give the sheets numbers, put every branch in its place, and write the references."""
    for number, page in enumerate(pages, 1):
        for twig in [each for branch in (*page.above, *page.below) for each in all_twigs(branch)]:
            twig.sheet = number
        if page.section.root is not None and page.section.root.sheet == 0:
            page.section.root.sheet = number
        widths = _width(page.above), _width(page.below)
        page.width_mm = max(widths)
        is_alone = sum(each.section is page.section for each in pages) == 1
        page.left_mm = LEFT_MM + (
            max(size.width_mm - LEFT_MM - page.width_mm, 0.0) / 2.0 if is_alone else 0.0
        )
        for branches, width in zip((page.above, page.below), widths, strict=True):
            edge = page.left_mm + (page.width_mm - width) / 2.0
            for branch in branches:
                place(branch, edge + branch.left_mm)
                edge += branch.left_mm + branch.right_mm
        page.before = number - 1 if number > 1 and pages[number - 2].section is page.section else 0
        page.after = number + 1 if number < len(pages) and pages[number].section is page.section else 0
    for page in pages:
        for branch in (*page.above, *page.below):
            for twig in all_twigs(branch):
                if twig.partner is not None:
                    write(twig, writer)

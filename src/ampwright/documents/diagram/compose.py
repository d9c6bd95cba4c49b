"""Material -> Drawing: sheet size, sheets, and everything on them."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.diagram.blocks import graph_of
from ampwright.documents.diagram.draw import block_label, branch_groups, joint_label
from ampwright.documents.diagram.frame import BLOCK_MM, TitleBlock, frame_group
from ampwright.documents.diagram.graph import Graph
from ampwright.documents.diagram.labels import LINE_MM, MARGIN_MM, Line, Writer
from ampwright.documents.diagram.layout import BAR_MM
from ampwright.documents.diagram.outline import AROUND_MM, bar_cell, inside_cells, outlines
from ampwright.documents.diagram.pen import column, line, stamp
from ampwright.documents.diagram.placer import Placer
from ampwright.documents.diagram.records import Drawing, DrawnSheet, Group, Path, Point, Size, Text
from ampwright.documents.diagram.sheets import LEFT_MM, Page, Plan, plan_of
from ampwright.documents.diagram.symbols import SYMBOLS
from ampwright.documents.diagram.text_width import clean, wrapped
from ampwright.documents.diagram.tree import Twig, all_twigs
from ampwright.documents.pack.records import Material
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.job.records import About
from ampwright.records import record

__all__ = ["MARGINS_MM", "TITLE", "Subject", "drawing_of", "subject_drawing"]

TITLE = noted("Single-line diagram")
PAPERS: dict[str, tuple[tuple[str, float, float], ...]] = {
    "a4": (("a4", 297.0, 210.0), ("a3", 420.0, 297.0)),
    "us-letter": (("us-letter", 279.4, 215.9), ("us-tabloid", 431.8, 279.4)),
}
"""Sheets on their side, the smaller first: ISO 216, ANSI/ASME Y14.1."""
MARGINS_MM = (28.0, 32.5)
"""Width and height of a page that its margins, banner and foot take; as sheet/sheet.typ has them."""
OVERRIDE_LINE_MM = 3.1


@record
class Subject:
    """What is drawn: a design, whether all of it is known to be right or not."""

    design: Design
    """The design."""
    words: Words
    """Language of the labels."""
    is_draft: bool
    """True unless no fault was found."""
    override_count: int
    """Findings taken on that stand above the drawing on paper."""

    @property
    def about(self) -> About:
        """Title block of the job."""
        return self.design.job.job


def drawing_of(material: Material) -> Drawing:
    """Return the diagram of a job that is answered."""
    return subject_drawing(
        Subject(
            design=material.design,
            words=material.words,
            is_draft=material.answer.wiring_verdict != "no fault found",
            override_count=len(material.answer.overridden),
        )
    )


def subject_drawing(subject: Subject) -> Drawing:
    """Return the diagram: on the smaller sheet where all of it fits, else on as many of the larger as it takes."""
    writer, graph = _writer(subject)
    papers = PAPERS[subject.design.region.paper]
    for number, (name, width, height) in enumerate(papers):
        size = _size(subject, width, height)
        room = Size(width_mm=size.width_mm, height_mm=size.height_mm - BLOCK_MM - 3.0)
        plan = plan_of(graph, writer, room, may_split=number == len(papers) - 1)
        if plan is not None:
            sheets = tuple(_sheet(subject, writer, plan, each, size) for each in range(len(plan.pages)))
            return Drawing(paper=name, sheets=sheets, reference_count=plan.interrupted_count)
    message = "the larger sheet may always be split"
    raise AssertionError(message)


def _writer(subject: Subject) -> tuple[Writer, Graph]:
    graph = graph_of(subject.design)
    names = tuple(block.name for block in graph.blocks)
    writer = Writer(words=subject.words, units=subject.about.units, design=subject.design, block_names=names)
    return writer, graph


def _size(subject: Subject, width_mm: float, height_mm: float) -> Size:
    """Return what a page leaves for the drawing."""
    lines = subject.override_count
    overrides = 2.0 + OVERRIDE_LINE_MM * (lines + 1) if lines else 0.0
    return Size(width_mm=width_mm - MARGINS_MM[0], height_mm=height_mm - MARGINS_MM[1] - overrides)


def _sheet(subject: Subject, writer: Writer, plan: Plan, index: int, size: Size) -> DrawnSheet:
    page, words = plan.pages[index], subject.words
    depths = page.rows["above"].depth_mm, page.rows["below"].depth_mm
    spare = max(size.height_mm - BLOCK_MM - sum(depths) - BAR_MM, 0.0)
    bar_mm = depths[0] + BAR_MM / 2.0 + spare / 2.0
    sides = [Placer(page=page, side=side, bar_mm=bar_mm, writer=writer) for side in ("above", "below")]
    block = TitleBlock(
        about=subject.about, title=words(TITLE), words=words,
        is_draft=subject.is_draft,
    )  # fmt: skip
    number, count = index + 1, len(plan.pages)
    branches = [*page.above, *page.below]
    groups = [
        frame_group(block, size, number=number, count=count),
        *_module(writer, sides, page),
        *_bar(writer, page, bar_mm),
        *(
            group
            for placer in sides
            for branch in _branches(placer)
            for group in branch_groups(placer, branch)
        ),
    ]
    title = words(
        "{title}, single-line diagram, sheet {number} of {count}",
        title=subject.about.title,
        number=number,
        count=count,
    )
    return DrawnSheet(
        number=number,
        size=size,
        title=title,
        description=_description(writer, branches),
        groups=tuple(groups),
    )


def _branches(placer: Placer) -> list[Twig]:
    return placer.page.above if placer.is_up else placer.page.below


def _description(writer: Writer, branches: list[Twig]) -> str:
    """Return every circuit and what it feeds in words."""
    twigs = [twig for branch in branches for twig in all_twigs(branch)]
    circuits = [
        joint_label(twig.joint, writer)
        for twig in twigs
        if twig.joint is not None and twig.joint.run is not None
    ]
    things = [block_label(twig.block, writer) for twig in twigs if twig.block is not None]
    return ". ".join(clean(text) for text in (*circuits, *things))


def _bar(writer: Writer, page: Page, bar_mm: float) -> Iterator[Group]:
    """Yield the bus bar of a sheet with its name, where it comes from and goes on to, and its tie to metal."""
    root = page.section.root
    if root is None or root.block is None:
        return
    axes = [branch.x_mm for branch in (*page.above, *page.below) if branch.joint is not None]
    left = page.left_mm - LEFT_MM + 2.0
    right = max([*axes, page.left_mm]) + 5.0 if not page.after else page.left_mm + page.width_mm + 2.0
    lines = [*writer.block(root.block, MARGIN_MM), *_module_lines(writer, page)]
    if page.before:
        lines = [*lines[:1], Line(text=writer.words("from sheet {sheet}", sheet=page.before))]
    texts = [*column(lines, left, bar_mm - BAR_MM - 0.8 - LINE_MM * len(lines))]
    paths = [line((left, bar_mm), (right, bar_mm), width_mm=BAR_MM)]
    if page.after:
        after = (Line(text=writer.words("to sheet {sheet}", sheet=page.after), is_bold=True),)
        texts += column(after, right + 3.0, bar_mm - LINE_MM / 2.0)
        head = ((right + 2.4, bar_mm), (right - 0.2, bar_mm - 1.2), (right - 0.2, bar_mm + 1.2))
        paths.append(Path(points_mm=head, is_closed=True, is_filled=True))
    yield Group(
        id=root.block.id,
        layer="bar",
        label=block_label(root.block, writer),
        paths=tuple(paths),
        texts=tuple(texts),
    )
    for number, bond in enumerate(page.bonds):
        yield _bond(writer, bond, (left + 3.5, bar_mm + BAR_MM / 2.0), number)


def _bond(writer: Writer, bond: Twig, at_mm: Point, number: int) -> Group:
    symbol = SYMBOLS["chassis"]
    lines = writer.block(bond.block, MARGIN_MM - 3.0) if bond.block is not None else ()
    x, top_mm = at_mm
    start = top_mm + 4.0 + number * (symbol.height_mm + LINE_MM * len(lines) + 2.0)
    drawn = stamp(symbol, x, start)
    stem = Path(points_mm=((x, top_mm), (x, start)), dash="dashed", width_mm=0.25)
    texts: tuple[Text, ...] = column(lines, x - 2.5, start + symbol.height_mm + 0.6)
    block_id = bond.block.id if bond.block is not None else "bond"
    label = block_label(bond.block, writer) if bond.block is not None else ""
    return Group(id=block_id, layer="bond", label=label, paths=(*drawn.paths, stem), texts=texts)


def _module_lines(writer: Writer, page: Page) -> list[Line]:
    """Return the name of the module whose border is on this sheet."""
    design = writer.design
    use, definition = design.job.module, design.module
    if use is None or definition is None:
        return []
    text = writer.words(
        "in module {id}: {name}, revision {revision}", id=use.id, name=definition.name, revision=use.revision
    )
    root = page.section.root
    is_inside = root is not None and root.block is not None and root.block.is_inside_module
    return [Line(text=each) for each in wrapped(clean(text), MARGIN_MM, 2.3, most=5)] if is_inside else []


def _module(writer: Writer, sides: list[Placer], page: Page) -> Iterator[Group]:
    cells = [cell for placer in sides for cell in inside_cells(placer, _branches(placer))]
    root = page.section.root
    if root is not None and root.block is not None and root.block.is_inside_module:
        cells.append(
            bar_cell(sides[0], page.left_mm - LEFT_MM + 0.9, page.left_mm + page.width_mm + AROUND_MM)
        )
        height = LINE_MM * (len(writer.block(root.block, MARGIN_MM)) + len(_module_lines(writer, page))) + 2.4
        cells.append(
            (
                page.left_mm - LEFT_MM + 0.9,
                sides[0].bar_mm - height,
                page.left_mm - AROUND_MM,
                sides[0].bar_mm,
            )
        )
    if not cells:
        return
    paths = tuple(
        Path(points_mm=loop, is_closed=True, width_mm=0.35, dash="chain") for loop in outlines(cells)
    )
    use = writer.design.job.module
    label = writer.words("border of the power module {id}", id=use.id if use is not None else "")
    yield Group(id="module", layer="module", label=label, paths=paths)

"""The same schedule as sheets of a workbook: one row for each conductor, sums as formulas."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ampwright.documents.book.records import Cell, Formula, Look, Table
from ampwright.documents.book.workbook import head_rows
from ampwright.documents.cabling.fittings import colour_text, terminal_text
from ampwright.documents.cabling.pieces import pieces
from ampwright.documents.cabling.records import Piece
from ampwright.documents.cabling.wording import OWNERS, cable_size_text, run_details
from ampwright.documents.pack.records import Material
from ampwright.documents.schedule.cutting import cut_pieces, grouped
from ampwright.documents.schedule.records import ScheduleModel
from ampwright.documents.schedule.runs import end_text
from ampwright.documents.sheet.sheet import Sheet

__all__ = ["schedule_tables"]

Row = tuple[Cell, ...]


def schedule_tables(material: Material, model: ScheduleModel, sheet: Sheet) -> tuple[Table, ...]:
    """Return the sheets: schedule, terminals, cutting list, fittings."""
    words, found = material.words, pieces(material.design)
    top = head_rows(sheet)
    return (
        _table(
            model.titles[0],
            (8, 9, 22, 28, 22, 28, 16, 20, 11, 9, 9, 40, 15, 12),
            [*top, *_notes(model.notes), _heads(_schedule_heads(material)), *_schedule(material, found)],
            head_row=len(top) + len(model.notes) + 1,
        ),
        _table(
            model.titles[2],
            (26, 22, 8, 10, 14, 26, 30),
            [*top, *_notes((model.terminal_note,)), _heads(_terminal_heads(model)), *_terminals(model)],
            head_row=len(top) + 2,
        ),
        _table(
            model.titles[3],
            (20, 26, 18, 14, 12),
            [*top, *_notes((model.cut_note, *model.not_cut)), *_cutting(material, found, top, model)],
            head_row=len(top) + 2 + len(model.not_cut),
        ),
        _table(
            words("Fittings"),
            (60, 12),
            [
                *top,
                _heads(model.count_heads),
                *(_counts(row) for row in (*model.fittings, *model.sleeves)),
            ],
            head_row=len(top) + 1,
        ),
    )


def _table(name: str, widths: tuple[int, ...], rows: Sequence[Row], *, head_row: int) -> Table:
    return Table(name=name, widths=widths, rows=tuple(rows), head_row=head_row)


def _notes(texts: Sequence[str]) -> Iterator[Row]:
    for text in texts:
        yield (Cell(value=text, look="note"),)


def _heads(texts: Sequence[str]) -> Row:
    return tuple(Cell(value=text, look="head") for text in texts)


def _schedule_heads(material: Material) -> tuple[str, ...]:
    words = material.words
    return (
        words("run"),
        words("label"),
        words("from"),
        words("its end"),
        words("to"),
        words("its end"),
        words("cable"),
        words("conductor"),
        words("colour"),
        words("length, m"),
        words("cut to, m"),
        words("devices, way, plugs"),
        words("supplied by"),
        words("inside the module"),
    )


def _schedule(material: Material, found: tuple[Piece, ...]) -> Iterator[Row]:
    words, units = material.words, material.design.job.job.units
    details = {
        run.id: "; ".join(run_details(material.design, run, words, units=units))
        for run in material.design.runs
    }
    for piece in found:
        texts = (
            piece.run or piece.id,
            piece.id,
            terminal_text(piece.start, words),
            end_text(piece.start, piece, words, units),
            terminal_text(piece.end, words),
            end_text(piece.end, piece, words, units),
            piece.cable.id,
            cable_size_text(piece.cable, words, units=units),
            colour_text(piece.colour, words),
        )
        yield (
            *(Cell(value=text) for text in texts),
            Cell(value=piece.length_m if piece.length_m is None else round(piece.length_m, 3), look="metres"),
            Cell(value=piece.cut_m, look="metres"),
            Cell(value=details.get(piece.run, "")),
            Cell(value=words(OWNERS[piece.supplied_by])),
            Cell(value=words("do not open") if piece.is_inside_module else ""),
        )


def _terminal_heads(model: ScheduleModel) -> tuple[str, ...]:
    return (model.terminal_heads[0], "", *model.terminal_heads[1:])


def _terminals(model: ScheduleModel) -> Iterator[Row]:
    for block in model.terminals:
        for row in block.rows:
            yield tuple(Cell(value=text) for text in (block.place, block.what, *row))


def _cutting(
    material: Material, found: tuple[Piece, ...], top: Sequence[Row], model: ScheduleModel
) -> Iterator[Row]:
    """Yield head, conductors of each cable and colour, and their sum as a formula."""
    words, units = material.words, material.design.job.job.units
    yield _heads((words("cable"), words("conductor"), words("colour"), words("label"), words("cut to, m")))
    number = len(top) + 2 + len(model.not_cut)
    for group in grouped(cut_pieces(found)).values():
        first = number + 1
        for piece in group:
            number += 1
            texts = (
                piece.cable.id,
                cable_size_text(piece.cable, words, units=units),
                colour_text(piece.colour, words),
                piece.id,
            )
            yield (*(Cell(value=text) for text in texts), Cell(value=piece.cut_m, look="metres"))
        if all(piece.cut_m is None for piece in group):
            continue
        number += 1
        total: Look = "total"
        yield (
            *(Cell(value=text, look=total) for text in ("", "", "", words("sum"))),
            Cell(value=Formula(text=f"=SUM(E{first}:E{number - 1})"), look="metres"),
        )


def _counts(row: tuple[str, ...]) -> Row:
    return (Cell(value=row[0]), Cell(value=int(row[1])))

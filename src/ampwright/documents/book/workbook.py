"""Tables -> bytes of an XLSX file, the same for the same tables: no clock in the properties nor in the archive.

A text stays a text, whatever it begins with: only a `Formula` is one.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import textwrap
import zipfile
from collections.abc import Sequence
from copy import copy
from typing import Any, get_args

from ampwright.documents.book.records import Cell, Formula, Look, Table
from ampwright.documents.report_records import Paper
from ampwright.documents.sheet.sheet import Sheet

__all__ = ["head_rows", "quoted_text", "sheet_name", "workbook_bytes"]

FORMATS: dict[Look, str] = {
    "money": "#,##0.00",
    "money-total": "#,##0.00",
    "metres": "0.00",
    "rate": "0.0###%",
}
BOLD: frozenset[Look] = frozenset({"head", "title", "total", "money-total"})
OVER: frozenset[Look] = frozenset({"total", "money-total"})
PLAIN: frozenset[Look] = frozenset({"title"})
LINE_PT = 13.5
MARGINS_INCH = {"left": 0.6, "right": 0.6, "top": 0.9, "bottom": 0.8, "header": 0.35, "footer": 0.35}
FACE = "Arial"
PAPER_CODES: dict[Paper, int] = {"a4": 9, "us-letter": 1}  # ECMA-376, part 1, 18.3.1.63 (from memory)
ZIP_DAY = (1980, 1, 1, 0, 0, 0)
LONGEST_NAME = 31
SHEET_MARKS = re.compile(r"[\[\]:*?/\\']")
NOT_IN_XML = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
LONGEST_TEXT = 32_767


def head_rows(sheet: Sheet) -> tuple[tuple[Cell, ...], ...]:
    """Return the rows every sheet begins with: whose it is, what it is, draft and overrides."""
    rows = [(Cell(value=sheet.title, look="title"),), (Cell(value=sheet.kind, look="note"),)]
    if sheet.draft:
        rows.append((Cell(value=sheet.draft, look="title"),))
    if sheet.overrides_heading:
        rows += [(Cell(value=text, look="note"),) for text in (sheet.overrides_heading, *sheet.overrides)]
    return (*rows, (Cell(value=sheet.running, look="note"),), ())


def sheet_name(text: str) -> str:
    """Return a text as the name of a sheet, as the file and formulas have it.

    Examples
    --------
    >>> sheet_name("Bill: what's in it")
    'Bill  what s in it'
    """
    return SHEET_MARKS.sub(" ", text)[:LONGEST_NAME]


def quoted_text(text: str) -> str:
    """Return a text as a formula holds it: in quotes, a quote in it written twice.

    Examples
    --------
    >>> quoted_text('an "x" in it')
    '"an ""x"" in it"'
    """
    return '"' + text.replace('"', '""') + '"'


def workbook_bytes(tables: Sequence[Table], sheet: Sheet) -> bytes:
    """Return the XLSX file; `sheet` gives title, date, paper and what stands at the head of each printed page."""
    from openpyxl import Workbook  # noqa: PLC0415 - heavy, and only workbooks need it

    book = Workbook()
    book.remove(book.active)
    styles = _styles(book.create_sheet("styles"))
    book.remove(book.active)
    for table in tables:
        _fill(book.create_sheet(sheet_name(table.name)), table, sheet, styles)
    day = dt.date.fromisoformat(sheet.date)
    moment = dt.datetime(day.year, day.month, day.day)  # noqa: DTZ001 - the file format knows no zone
    book.properties.title, book.properties.creator = _clean(sheet.document_title), _clean(sheet.author)
    book.properties.created = moment
    made = io.BytesIO()
    book.save(made)
    return _without_clock(made.getvalue(), moment)


def _fill(target: Any, table: Table, sheet: Sheet, styles: dict[Look, Any]) -> None:
    from openpyxl.utils import get_column_letter  # noqa: PLC0415 - as above

    for row_number, row in enumerate(table.rows, start=1):
        for column, cell in enumerate(row, start=1):
            if cell.value not in {None, ""}:
                _put(target.cell(row=row_number, column=column), cell, styles)
        if row and row[0].look == "note" and len(table.widths) > 1:
            target.merge_cells(
                start_row=row_number, end_row=row_number, start_column=1, end_column=len(table.widths)
            )
        target.row_dimensions[row_number].height = LINE_PT * _line_count(row, table.widths)
    for column, width in enumerate(table.widths, start=1):
        target.column_dimensions[get_column_letter(column)].width = width
    if table.head_row:
        target.freeze_panes = f"A{table.head_row + 1}"
        target.print_title_rows = f"{table.head_row}:{table.head_row}"
    target.page_setup.orientation = "landscape" if table.is_landscape else "portrait"
    target.page_setup.paperSize = PAPER_CODES[sheet.paper]
    target.page_setup.fitToWidth, target.page_setup.fitToHeight = 1, 0
    target.sheet_properties.pageSetUpPr.fitToPage = True
    target.oddFooter.center.text = "&P / &N"
    target.oddHeader.center.text = sheet.draft.replace("&", "&&")
    for side, inch in MARGINS_INCH.items():
        setattr(target.page_margins, side, inch)


def _line_count(row: tuple[Cell, ...], widths: tuple[int, ...]) -> int:
    """Return the lines of the fullest cell that is wrapped; programs differ in whether they find that themselves."""
    lines = [1]
    if row and row[0].look == "note":
        widths = (sum(widths),)
    for cell, width in zip(row, widths, strict=False):
        if isinstance(cell.value, str) and cell.look not in PLAIN:
            room = max(width - 2, 4)
            lines.append(len(textwrap.wrap(cell.value, room)) if len(cell.value) > room else 1)
        elif cell.look == "title":
            lines.append(2)
    return max(lines)


def _styles(target: Any) -> dict[Look, Any]:
    """Return the finished style of each look; a style given to thousands of cells one by one takes seconds."""
    from openpyxl.styles import Alignment, Border, Font, Side  # noqa: PLC0415 - as above

    line = Side(style="thin", color="808080")
    fonts = {"title": Font(name=FACE, bold=True, size=14), "note": Font(name=FACE, size=9, color="505050")}
    found: dict[Look, Any] = {}
    for look in get_args(Look):
        cell = target.cell(row=1, column=1)
        cell.number_format = FORMATS.get(look, "General")
        cell.alignment = Alignment(vertical="top", wrap_text=look not in PLAIN)
        cell.font = fonts.get(look, Font(name=FACE, size=10, bold=look in BOLD))
        cell.border = Border(bottom=line if look == "head" else None, top=line if look in OVER else None)
        found[look] = copy(cell._style)  # noqa: SLF001 - the library's own way to copy a style
    return found


def _put(target: Any, cell: Cell, styles: dict[Look, Any]) -> None:
    value = cell.value
    target._style = styles[cell.look]  # noqa: SLF001 - the library's own way to copy a style
    if isinstance(value, Formula):
        target.value = value.text
    elif isinstance(value, str):
        target.value = _clean(value)
        target.data_type = "s"
    else:
        target.value = value


def _clean(text: str) -> str:
    return NOT_IN_XML.sub("", text)[:LONGEST_TEXT]


def _without_clock(content: bytes, moment: dt.datetime) -> bytes:
    """Return the archive with the writer's time replaced by the revision's, and the entries' by a fixed one."""
    stamp = f"{moment.isoformat()}Z".encode()
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            data = old.read(name)
            if name == "docProps/core.xml":
                data = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp, data)
            entry = zipfile.ZipInfo(name, date_time=ZIP_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            new.writestr(entry, data)
    return made.getvalue()

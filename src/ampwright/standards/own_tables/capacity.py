"""Current a cable may carry, from the user's own copy of a table: looked up inside its range, never beyond.

One row for each copper area, rating of the insulation, air temperature and number of conductors loaded together.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import product

from ampwright.errors import JobError, Problem, TableError
from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.sources import Source
from ampwright.standards.own_tables.sheet import OwnRow, own_sheet

__all__ = ["CapacityTable", "OwnCurrent", "capacity_table", "own_current"]

COLUMNS = ("area_mm2", "insulation_degc", "ambient_degc", "conductors_loaded", "current_a")
ROUNDED_AREA_FRAC = 0.005
"""An area this near to a row of the table is that row: sizes are sold with rounded areas (own choice)."""

Key = tuple[float, int]
Grid = dict[tuple[float, float], tuple[float, int]]


@record
class CapacityBlock:
    """Currents for one rating of insulation and one number of loaded conductors: a full grid."""

    insulation_degc: float
    """Rating of the insulation."""
    conductors_loaded: int
    """Conductors that are loaded together."""
    areas_mm2: tuple[float, ...]
    """Copper areas, ascending."""
    ambients_degc: tuple[float, ...]
    """Air temperatures, ascending."""
    currents_a: tuple[tuple[float, ...], ...]
    """Current of each area at each air temperature."""


@record
class CapacityTable:
    """A user's own table."""

    file: str
    """Name of the file."""
    source: Source
    """The document it was read in."""
    blocks: tuple[CapacityBlock, ...]
    """By rating of insulation and number of loaded conductors, ascending."""


@record
class OwnCurrent:
    """A current read in a user's table."""

    current_a: float
    """Allowable current."""
    source: Source
    """The user's document."""
    note: str
    """What was read where; empty for a row of the table itself."""


def capacity_table(text: str, *, file: str) -> CapacityTable:
    """Return the table of a CSV text; raises JobError with every problem of it."""
    sheet, problems = own_sheet(text, file=file, needed=COLUMNS)
    groups: dict[Key, Grid] = {}
    for row in sheet.rows:
        values = _values(row, problems)
        if values is None:
            continue
        area_mm2, insulation_degc, ambient_degc, loaded, current_a = values
        grid = groups.setdefault((insulation_degc, int(loaded)), {})
        taken = grid.setdefault((area_mm2, ambient_degc), (current_a, row.line))
        if taken[1] != row.line:
            message = f"says again what line {taken[1]} says; keep one of them"
            problems.append(Problem(path="area_mm2", message=message, line=row.line))
    blocks = [_block(key, grid, problems) for key, grid in sorted(groups.items())]
    if problems:
        raise JobError(file, tuple(sorted(problems, key=_line)))
    return CapacityTable(file=file, source=sheet.source, blocks=tuple(blocks))


def _line(problem: Problem) -> int:
    return problem.line or 0


def _values(row: OwnRow, problems: list[Problem]) -> tuple[float, ...] | None:
    """Return the five figures of a row; None where one is wrong."""
    before = len(problems)
    values = [row.number(column, problems) for column in COLUMNS]
    for column, value in zip(COLUMNS, values, strict=True):
        if value is None:
            if not row.cells[column]:
                problems.append(Problem(path=column, message="is empty; give a number", line=row.line))
        elif column == "conductors_loaded" and (value < 1 or value != int(value)):
            message = f"must be a whole number from 1; you gave {value:g}"
            problems.append(Problem(path=column, message=message, line=row.line))
        elif column in {"insulation_degc", "ambient_degc"} and not -60.0 <= value <= 300.0:
            message = f"must lie between -60 and 300 degC; you gave {value:g}"
            problems.append(Problem(path=column, message=message, line=row.line))
        elif column in {"area_mm2", "current_a"} and not 0.0 < value < 10_000.0:
            message = f"must be more than 0 and below 10,000; you gave {value:g}"
            problems.append(Problem(path=column, message=message, line=row.line))
    found = tuple(value for value in values if value is not None)
    return found if len(problems) == before else None


def _block(key: Key, grid: Grid, problems: list[Problem]) -> CapacityBlock:
    """Return a full grid; a hole, and a current that goes the wrong way, are problems."""
    areas, ambients = sorted({area for area, _ in grid}), sorted({air for _, air in grid})
    where = f"insulation of {key[0]:g} degC with {key[1]} conductors loaded"
    for area, air in product(areas, ambients):
        if (area, air) not in grid:
            message = (
                f"no row for {area:g} mm2 at {air:g} degC, {where}; add it: a table without holes is needed"
            )
            problems.append(Problem(path="area_mm2", message=message))
    for (area, air), (current_a, line) in grid.items():
        thinner = [grid[other, air] for other in areas if other < area and (other, air) in grid]
        cooler = [grid[area, other] for other in ambients if other < air and (area, other) in grid]
        if thinner and current_a <= thinner[-1][0]:
            message = f"{current_a:g} A is not above that of the next thinner conductor (line {thinner[-1][1]}); one is wrong"
            problems.append(Problem(path="current_a", message=message, line=line))
        if cooler and current_a > cooler[-1][0]:
            message = f"{current_a:g} A is above that in cooler air (line {cooler[-1][1]}); one is wrong"
            problems.append(Problem(path="current_a", message=message, line=line))
        if air > key[0]:
            message = f"air of {air:g} degC is above the insulation's {key[0]:g} degC"
            problems.append(Problem(path="ambient_degc", message=message, line=line))
    return CapacityBlock(
        insulation_degc=key[0],
        conductors_loaded=key[1],
        areas_mm2=tuple(areas),
        ambients_degc=tuple(ambients),
        currents_a=tuple(tuple(grid.get((area, air), (0.0, 0))[0] for air in ambients) for area in areas),
    )


def own_current(
    table: CapacityTable,
    area_mm2: float,
    *,
    insulation_degc: float,
    ambient_degc: float,
    conductors_loaded: int,
) -> OwnCurrent:
    """Return the current of one conductor; raises TableError outside the table.

    Read with the highest rating of insulation not above the cable's and the next number of loaded conductors
    that is not smaller. Straight lines between areas and between air temperatures: both curves bend
    downward (heat balance), so a chord lies below them. Air cooler than the table's counts as its coolest.
    """
    block = _block_for(table, insulation_degc, conductors_loaded)
    areas, ambients = block.areas_mm2, block.ambients_degc
    area_mm2 = next((row for row in areas if abs(area_mm2 / row - 1.0) <= ROUNDED_AREA_FRAC), area_mm2)
    if not areas[0] <= area_mm2 <= areas[-1]:
        raise TableError(
            said(
                "{area_mm2:g} mm²: {file} holds {areas:g} to {areas_2:g} mm²",
                area_mm2=area_mm2,
                file=table.file,
                areas=areas[0],
                areas_2=areas[-1],
            )
        )
    if ambient_degc > ambients[-1]:
        raise TableError(
            said(
                "air of {ambient_degc:g} degC: {file} ends at {ambients:g} degC",
                ambient_degc=ambient_degc,
                file=table.file,
                ambients=ambients[-1],
            )
        )
    air_degc = max(ambient_degc, ambients[0])
    row, area_share = _place(areas, area_mm2)
    column, air_share = _place(ambients, air_degc)
    lower, upper = (
        _between(block.currents_a[at], column, air_share) for at in (row, min(row + 1, len(areas) - 1))
    )
    return OwnCurrent(
        current_a=lower + area_share * (upper - lower),
        source=table.source,
        note=_note(block, insulation_degc, conductors_loaded, is_between=area_share > 0.0 or air_share > 0.0),
    )


def _block_for(table: CapacityTable, insulation_degc: float, conductors_loaded: int) -> CapacityBlock:
    ratings = sorted({block.insulation_degc for block in table.blocks})
    if insulation_degc < ratings[0]:
        raise TableError(
            said(
                "insulation of {insulation_degc:g} degC: {file} begins at {ratings:g} degC",
                insulation_degc=insulation_degc,
                file=table.file,
                ratings=ratings[0],
            )
        )
    rating = ratings[bisect_right(ratings, insulation_degc) - 1]
    blocks = [block for block in table.blocks if block.insulation_degc == rating]
    enough = [block for block in blocks if block.conductors_loaded >= conductors_loaded]
    if not enough:
        raise TableError(
            said(
                "{conductors_loaded} conductors loaded together: {file} ends at {conductors_loaded_2} "
                "for insulation of {rating:g} degC",
                conductors_loaded=conductors_loaded,
                file=table.file,
                conductors_loaded_2=blocks[-1].conductors_loaded,
                rating=rating,
            )
        )
    return enough[0]


def _place(rows: tuple[float, ...], value: float) -> tuple[int, float]:
    """Return the row at or below a value inside the rows, and the share of the way to the next."""
    at = bisect_left(rows, value)
    if rows[at] == value:
        return at, 0.0
    return at - 1, (value - rows[at - 1]) / (rows[at] - rows[at - 1])


def _between(currents_a: tuple[float, ...], column: int, share: float) -> float:
    if share == 0.0:
        return currents_a[column]
    return currents_a[column] + share * (currents_a[column + 1] - currents_a[column])


def _note(block: CapacityBlock, insulation_degc: float, conductors_loaded: int, *, is_between: bool) -> str:
    notes = []
    if block.insulation_degc != insulation_degc:
        notes.append(
            said(
                "insulation of {insulation_degc:g} degC read as {insulation_degc_2:g} degC",
                insulation_degc=insulation_degc,
                insulation_degc_2=block.insulation_degc,
            )
        )
    if block.conductors_loaded != conductors_loaded:
        notes.append(
            said(
                "{conductors_loaded} loaded conductors read as {conductors_loaded_2}",
                conductors_loaded=conductors_loaded,
                conductors_loaded_2=block.conductors_loaded,
            )
        )
    if is_between:
        notes.append(said("interpolated between rows"))
    return said_together(notes, between="; ")

"""Opening times of devices from the user's own data sheets: by class of device, or by the part itself.

Where the file speaks of a class or part, none of the shipped times of it is used.
"""

from __future__ import annotations

from ampwright.errors import JobError, Problem
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.device_bands.classes import DEVICE_CLASSES
from ampwright.standards.iso_8820.limits import OpeningPoint
from ampwright.standards.own_tables.sheet import OwnRow, own_sheet

__all__ = ["OwnOpening", "opening_times", "own_points"]

NEEDED = ("device", "current_factor", "current_a", "shortest_s", "longest_s")
OPTIONAL = ("rating_min_a", "rating_max_a")


@record
class OwnOpening:
    """One point of a user's time-current curve."""

    device: str
    """Class of device, or catalogue id of a part."""
    current_factor: float | None
    """Current over rated current; None where it is given in ampere."""
    current_a: float | None
    """Current; None where it is given as a multiple."""
    opening_min_s: float | None
    """It stays closed for so long; None = not stated."""
    opening_max_s: float | None
    """It is open after so long; None = not stated."""
    rating_min_a: float | None
    """Smallest rated current the point holds for; None = any."""
    rating_max_a: float | None
    """Largest rated current the point holds for; None = any."""
    source: Source
    """The user's document."""
    line: int
    """Line of the file."""


def opening_times(text: str, *, file: str) -> tuple[OwnOpening, ...]:
    """Return the points of a CSV text; raises JobError with every problem of it."""
    sheet, problems = own_sheet(text, file=file, needed=NEEDED, optional=OPTIONAL)
    found = [point for row in sheet.rows if (point := _point(row, sheet.source, problems)) is not None]
    problems += _order_problems(found)
    if problems:
        raise JobError(file, tuple(sorted(problems, key=_line)))
    return tuple(found)


def _line(problem: Problem) -> int:
    return problem.line or 0


def _point(row: OwnRow, source: Source, problems: list[Problem]) -> OwnOpening | None:
    before = len(problems)
    numbers = {name: row.number(name, problems) for name in (*NEEDED[1:], *OPTIONAL)}
    problems += [
        Problem(path=name, message=f"must be above 0; you gave {value:g}", line=row.line)
        for name, value in numbers.items()
        if value is not None and value <= 0.0
    ]
    if len(problems) == before:
        problems += [
            Problem(path=column, message=message, line=row.line)
            for column, message in _complaints(row.cells["device"], numbers)
        ]
    if len(problems) > before:
        return None
    return OwnOpening(
        device=row.cells["device"],
        current_factor=numbers["current_factor"],
        current_a=numbers["current_a"],
        opening_min_s=numbers["shortest_s"],
        opening_max_s=numbers["longest_s"],
        rating_min_a=numbers["rating_min_a"],
        rating_max_a=numbers["rating_max_a"],
        source=source,
        line=row.line,
    )


def _complaints(device: str, numbers: dict[str, float | None]) -> list[tuple[str, str]]:
    found = []
    shortest, longest = numbers["shortest_s"], numbers["longest_s"]
    smallest, largest = numbers["rating_min_a"], numbers["rating_max_a"]
    if not device:
        found.append(("device", f"is empty; give the id of a part, or one of {', '.join(DEVICE_CLASSES)}"))
    if (numbers["current_factor"] is None) == (numbers["current_a"] is None):
        found.append(("current_factor", "give either the multiple of the rated current or the current in A"))
    elif numbers["current_a"] is not None and device in DEVICE_CLASSES:
        found.append(("current_a", "holds for one rating; give current_factor, or name the part instead"))
    if shortest is None and longest is None:
        found.append(("longest_s", "both times are empty; give at least one"))
    if shortest is not None and longest is not None and shortest > longest:
        found.append(("shortest_s", f"{shortest:g} s is above the longest time {longest:g} s; exchange them"))
    if smallest is not None and largest is not None and smallest > largest:
        found.append(("rating_min_a", f"{smallest:g} A is above rating_max_a {largest:g} A; exchange them"))
    if (smallest is not None or largest is not None) and device not in DEVICE_CLASSES:
        found.append(("rating_min_a", "a part has one rating; leave rating_min_a and rating_max_a empty"))
    return found


def _order_problems(points: list[OwnOpening]) -> list[Problem]:
    """Complain where one device's points repeat a current, or its times grow with the current."""
    problems: list[Problem] = []
    series: dict[tuple[str, float | None, float | None, bool], list[OwnOpening]] = {}
    for point in points:
        key = (point.device, point.rating_min_a, point.rating_max_a, point.current_a is None)
        series.setdefault(key, []).append(point)
    for own in series.values():
        own.sort(key=_current)
        for number, point in enumerate(own):
            for other in own[:number]:
                if _current(point) == _current(other):
                    message = f"says again what line {other.line} says; keep one of them"
                    problems.append(Problem(path="current_factor", message=message, line=point.line))
                problems += _growing(point, other)
    return problems


def _growing(point: OwnOpening, lower: OwnOpening) -> list[Problem]:
    pairs = (
        ("shortest_s", point.opening_min_s, lower.opening_min_s),
        ("longest_s", point.opening_max_s, lower.opening_max_s),
    )
    return [
        Problem(
            path=name,
            message=f"{later:g} s is longer than at the smaller current of line {lower.line}; one is wrong",
            line=point.line,
        )
        for name, later, earlier in pairs
        if later is not None and earlier is not None and later > earlier
    ]


def _current(point: OwnOpening) -> float:
    return point.current_factor if point.current_factor is not None else (point.current_a or 0.0)


def own_points(
    times: tuple[OwnOpening, ...], *, part_id: str, device_class: str, rating_a: float
) -> tuple[OpeningPoint, ...] | None:
    """Return a device's points: those of the part, else those of its class that hold for its rating; None without any."""
    own = [point for point in times if point.device == part_id]
    own = own or [
        point
        for point in times
        if point.device == device_class
        and (point.rating_min_a or 0.0) <= rating_a
        and (point.rating_max_a is None or rating_a <= point.rating_max_a)
    ]
    if not own:
        return None
    made = [
        OpeningPoint(
            family=device_class,
            current_factor=point.current_factor or (point.current_a or 0.0) / rating_a,
            opening_min_s=point.opening_min_s,
            opening_max_s=point.opening_max_s,
            rating_min_a=None,
            rating_max_a=None,
            source=point.source,
        )
        for point in own
    ]
    return tuple(sorted(made, key=_factor))


def _factor(point: OpeningPoint) -> float:
    return point.current_factor

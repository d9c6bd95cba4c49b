"""Writes the generated parts of docs/job-file.md and docs/commands.md; `make docs` runs it.

The field tables come from the records, the help texts from the commands, so that neither is said twice.
"""  # noqa: INP001 - run as `python -m tools.reference`

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from pathlib import Path
from typing import Annotated, Any, TypeVar, get_args, get_origin

import typer
from annotated_types import Ge, Gt, Le, Lt

from ampwright.cli.main import app
from ampwright.field_types import field_hints, field_meanings, options, wanted
from ampwright.job.buttons import Button, Interlock, SceneLevel
from ampwright.job.cabling import Cabling
from ampwright.job.consumer import Load, When
from ampwright.job.doubt import Doubt
from ampwright.job.fit import Carried, Mount, Rectangle, VehicleMass
from ampwright.job.mains import (
    Certificate,
    Mains,
    MainsEarth,
    MainsLead,
    MainsLeg,
    MainsSupply,
    NeutralLink,
    Overcurrent,
    ResidualCurrent,
    Transfer,
)  # fmt: skip
from ampwright.job.module import ModuleChange, ModuleDefinition, ModuleOption, ModulePort, ModuleUse
from ampwright.job.override import Override
from ampwright.job.own_tables import Tables
from ampwright.job.place import Leg, Place, Season, Spell
from ampwright.job.plate import OnPlate, Plate
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.quote import Quote, QuotePrice
from ampwright.job.records import About, Job
from ampwright.job.string_links import StringLinks
from ampwright.job.sunlight import PanelPlace, ShadeTime
from ampwright.job.use import DayPlan, Period, Use
from ampwright.job.vehicle import Alternator, SecondAlternator, StarterBattery, Vehicle, Zone
from ampwright.job.wiring import (
    AsLeft,
    Bond,
    Channel,
    ChannelAsLeft,
    ComfortStage,
    CutoffAsLeft,
    Device,
    LoadCutoff,
    PlacedPart,
    Run,
    Setting,
)
from ampwright.standards.regions import REGIONS, RegionRules, region_rules
from ampwright.units import symbol

SCREEN_COLUMNS = 78
"""What a help text fills of a screen of 80 columns."""
DOCS = Path(__file__).parents[1] / "docs"
RECORDS = (
    Job, Measured, Unknown, About, Vehicle, Alternator, SecondAlternator, StarterBattery, Place, Leg, Season, Spell, Use, DayPlan,
    Period, Zone, PlacedPart, Run, Device, Bond, Load, When, Channel, Button, SceneLevel, Interlock, Setting, AsLeft, LoadCutoff,
    ComfortStage, CutoffAsLeft, ChannelAsLeft, Doubt, ModuleUse, ModuleChange,
    ModuleDefinition, ModulePort, ModuleOption, VehicleMass, Carried, Rectangle, Mount, Mains, MainsSupply,
    MainsLead, MainsLeg, ResidualCurrent, Overcurrent, Transfer, NeutralLink, MainsEarth, Certificate, Tables, Override,
    Plate, OnPlate, PanelPlace, ShadeTime, StringLinks,
    Cabling, Quote, QuotePrice,
)  # fmt: skip
UNBOUNDED = 1e9
"""A bound from here on only keeps nonsense out; the tables do not name it."""


def documents() -> dict[Path, str]:
    """Return the text each generated page should have."""
    job_file = _filled(DOCS / "job-file.md", {kind.__name__: field_table(kind) for kind in RECORDS})
    helps = {" ".join(("ampwright", *names)): text for names, text in _helps()}
    return {
        DOCS / "job-file.md": job_file,
        DOCS / "regions.md": _filled(DOCS / "regions.md", {"regions": region_tables()}),
        DOCS / "commands.md": _filled(
            DOCS / "commands.md", {name: f"```\n{text}\n```" for name, text in helps.items()}
        ),
    }


def _filled(path: Path, content: dict[str, str]) -> str:
    """Return a page with everything between its markers written anew."""
    text = path.read_text(encoding="utf-8")
    for name, part in content.items():
        marked = re.compile(rf"(<!-- {re.escape(name)} -->\n).*?(<!-- end -->)", re.DOTALL)
        found = marked.findall(text)
        count = len(found)
        if count != 1:
            message = (
                f"{path.name}: the marker '<!-- {name} -->' stands there {count} times; "
                "write it, and '<!-- end -->' below it, once where the text shall stand"
            )
            raise ValueError(message)
        start, end = found[0]
        text = marked.sub((f"{start}{part}\n{end}").replace("\\", r"\\"), text)
    return text


def field_table(kind: type) -> str:
    """Return the table of a record's fields."""
    hints, meanings = field_hints(kind), field_meanings(kind)
    rows = ["| key | unit | takes | default | meaning |", "| --- | --- | --- | --- | --- |"]
    for field in fields(kind):
        cells = (
            f"`{field.name}`",
            symbol(field.name) or "-",
            _takes(field.name, hints[field.name]),
            _default(field.default),
            meanings[field.name],
        )
        rows.append("| " + " | ".join(cells) + " |")
    return "\n".join(rows)


def region_tables() -> str:
    """Return one table for each field that differs by region: value, source and condition."""
    hints, meanings = field_hints(RegionRules), field_meanings(RegionRules)
    parts: list[str] = []
    for name in hints:
        if name in {"name", "entries"}:
            continue
        parts += [f"**`{name}`** {meanings[name]}", "", "| region | value | source | condition |"]
        parts.append("| --- | --- | --- | --- |")
        for region in REGIONS:
            rules = region_rules(region)
            value = _region_value(name, getattr(rules, name))
            parts.append(f"| {region} | {value} | {rules.source(name)} | {rules.note(name)} |")
        parts.append("")
    return "\n".join(parts[:-1])


def _region_value(name: str, value: object) -> str:
    if value is None:
        return "none held"
    items = value if isinstance(value, tuple) else (value,)
    said = [f"{item:g}" if isinstance(item, float) else str(item) for item in items]
    glue = "; " if any(isinstance(item, str) for item in items) else ", "
    return f"{glue.join(said)} {symbol(name)}".strip()


def _takes(name: str, hint: object) -> str:
    members = options(hint)
    if any(isinstance(each, TypeVar) for each in members):
        return "number"
    words = (
        "a date" if any(getattr(each, "__name__", "") == "date" for each in members) else wanted(name, hint)
    )
    words = words.split(" in ")[0] if words.startswith("a number") else words
    words = words.replace(" from 0 to 1", "")
    items = [each for member in members if get_origin(member) is tuple for each in get_args(member)]
    if items:
        is_of_tables = any(is_dataclass(each) for each in items)
        count = "" if Ellipsis in items else f"{len(items)} "
        words = f"list of {count}" + ("tables" if is_of_tables else _items(items[0]))
    words = re.sub(r"'([^']*)'", r'`"\1"`', words).removeprefix("a ")
    limits = _limits(hint)
    words = f"{words}, {limits}" if limits else words
    is_quantity = any(get_origin(each) in (Measured, Unknown) for each in members)
    return f"{words}; may be unknown" if is_quantity else words


def _items(item: object) -> str:
    members = options(item)
    if str in members:
        return "texts"
    return "numbers" if float in members or isinstance(item, TypeVar) else f"texts, each {wanted('', item)}"


def _limits(hint: object) -> str:
    """Return the bounds of a number in words."""
    low = high = ""
    for bound in _bounds(hint):
        if isinstance(bound, Gt):
            low = f"more than {bound.gt:g}"
        elif isinstance(bound, Ge):
            low = f"{bound.ge:g}"
        elif isinstance(bound, Le):
            high = f"{bound.le:g}"
        elif isinstance(bound, Lt) and float(bound.lt) < UNBOUNDED:  # type: ignore[arg-type]
            high = f"below {bound.lt:g}"
    if low and high:
        return f"{low} to {high}"
    return low if low.startswith("more") else f"{low} or more" if low else high


def _bounds(hint: object) -> Iterator[Any]:
    if get_origin(hint) is Annotated:
        inner, *notes = get_args(hint)
        yield from _bounds(inner)
        yield from notes
    elif get_origin(hint) not in (tuple, Measured, Unknown):
        for member in get_args(hint):
            if get_origin(member) is not None:
                yield from _bounds(member)


def _default(value: object) -> str:
    if value is MISSING:
        return "needed"
    if value is None or value == "":
        return "absent"
    if value == ():
        return "none"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if is_dataclass(value):
        return "its own defaults"
    return f'`"{value}"`' if isinstance(value, str) else f"`{value:g}`"


def _helps() -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield the words of each command and its help text, as a screen of 80 columns shows it."""
    group = typer.main.get_command(app)
    top = group.context_class(
        group,
        info_name="ampwright",
        terminal_width=SCREEN_COLUMNS,
        max_content_width=SCREEN_COLUMNS,
        **group.context_settings,
    )
    yield (), group.get_help(top)
    for name, command in group.commands.items():  # type: ignore[attr-defined]
        context = command.context_class(
            command,
            info_name=name,
            parent=top,
            terminal_width=SCREEN_COLUMNS,
            max_content_width=SCREEN_COLUMNS,
        )
        yield (name,), command.get_help(context)


def main() -> None:
    """Write every generated page anew."""
    for path, text in documents().items():
        path.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

"""Gathers the texts of the documents into the catalogues of messages; `make docs` runs it.

A text is what `words("...")`, `noted("...")` or `said("...")` is given. A translation is written by hand into `<language>.po`; this
tool adds texts that are new, drops those that are gone, and compiles `<language>.mo` from it.
"""  # noqa: INP001 - run as `python -m tools.translations`

from __future__ import annotations

import ast
import calendar
import datetime as dt
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from ampwright.assessment.charging import IDLING
from ampwright.assessment.result import UseVerdict, WiringVerdict
from ampwright.assessment.rules import RULES
from ampwright.documents.pack.documents import DOCUMENTS
from ampwright.job.intake.usual import usual_appliances, usual_vehicles
from ampwright.job.supply import SECOND
from ampwright.job.wiring import Chemistry, Owner
from ampwright.network.tree import EVERYTHING
from ampwright.parts.base import TerminalForm
from ampwright.sizing.real_years import YEARS_RULE
from ampwright.sizing.spells import SPELL_RULES
from ampwright.sizing.sureness import RUNS_RULE
from ampwright.sources import COMMON_PRACTICE
from ampwright.standards.csv_table import STANDINGS, table_rows
from ampwright.standards.regions import REGIONS, region_rules

SOURCE = Path(__file__).parents[1] / "src" / "ampwright"
FOLDER = SOURCE / "documents" / "words"
LANGUAGES = ("de",)
MARKS = {"words", "noted", "said"}
LINE_COUNT = 110
REGION_WORDS = (
    "licensed_words",
    "licensed_person",
    "mains_word",
    "isolator_word",
    "positive_colour",
    "negative_colour",
    "chassis_colour",
    "smallest_sheathed_said",
    "smallest_separate_said",
)
"""Words of a region that documents print."""
PLACES_OF_DEVICES = (
    "battery_device_sheathed_m",
    "battery_device_bare_m",
    "source_device_sheathed_m",
    "source_device_bare_m",
)
"""Fields of a region whose notes a finding repeats."""


def texts() -> tuple[str, ...]:
    """Return every text of the documents, sorted."""
    found: set[str] = set()
    for path in sorted(SOURCE.rglob("*.py")):
        found.update(_marked(ast.parse(path.read_text(encoding="utf-8"))))
    found.add(IDLING)
    found.update(document.title for document in DOCUMENTS)
    found.update(each.name for each in usual_vehicles().values())
    found.update(each.name for each in usual_appliances().values())
    found.update(calendar.month_name[1:])
    found.update((*get_args(UseVerdict), *get_args(WiringVerdict)))
    found.update(
        (
            SECOND,
            RUNS_RULE,
            YEARS_RULE,
            *SPELL_RULES,
            *STANDINGS,
            COMMON_PRACTICE.document,
            "years",
            "days",
        )
    )
    found.update(region_rules(name).title for name in REGIONS)
    found.update(text for rule in RULES for text in (rule.name, rule.asks, rule.no_override))
    found.update((*get_args(TerminalForm), *get_args(Owner), *get_args(Chemistry), "idle", "road"))
    found.update(
        (
            *EVERYTHING,
            *(row["sold_as"] for row in table_rows("ampwright.standards.mains_supply", "plugs.csv")),
            "separate outlets",
        )
    )
    found.update(getattr(region_rules(name), field) for name in REGIONS for field in REGION_WORDS)
    found.update(region_rules(name).note(field) for name in REGIONS for field in PLACES_OF_DEVICES)
    return tuple(sorted(text for text in found if _has_words(text)))


def _has_words(text: str) -> bool:
    """Tell whether anything but blanks and signs is in a text."""
    return any(sign.isalpha() for sign in re.sub(r"\{[^{}]*\}", "", text))


def _marked(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and node.args and _name(node.func) in MARKS:
            first = node.args[0]
            if isinstance(first, ast.Constant) and isinstance(first.value, str):
                yield first.value


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def read(language: str) -> Catalog:
    """Return the catalogue of a language as it stands."""
    path = FOLDER / f"{language}.po"
    if not path.exists():
        return Catalog(locale=language)
    with path.open("rb") as stream:
        return read_po(stream, locale=language)


def renewed(language: str) -> Catalog:
    """Return the catalogue with exactly the texts there are, translations kept."""
    before = read(language)
    fresh = Catalog(
        locale=language,
        project="ampwright",
        version="1",
        header_comment="# Texts of the documents.",
        creation_date=dt.datetime(2026, 1, 1, tzinfo=dt.UTC),
        revision_date=dt.datetime(2026, 1, 1, tzinfo=dt.UTC),
        fuzzy=False,
    )
    for text in texts():
        known = before.get(text)
        fresh.add(text, string=known.string if known is not None else "")
    return fresh


def po_bytes(catalogue: Catalog) -> bytes:
    """Return a catalogue as it is written by hand."""
    out = io.BytesIO()
    write_po(out, catalogue, width=LINE_COUNT, omit_header=False, sort_output=True)
    return out.getvalue()


def mo_bytes(catalogue: Catalog) -> bytes:
    """Return a catalogue as the program reads it."""
    out = io.BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def main() -> None:
    """Renew both files of every language and say what is not translated."""
    for language in LANGUAGES:
        catalogue = renewed(language)
        (FOLDER / f"{language}.po").write_bytes(po_bytes(catalogue))
        (FOLDER / f"{language}.mo").write_bytes(mo_bytes(catalogue))
        missing = [message.id for message in catalogue if message.id and not message.string]
        print(f"{language}: {len(catalogue)} texts, {len(missing)} not translated")  # noqa: T201 - a tool prints


if __name__ == "__main__":
    main()

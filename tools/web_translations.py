"""Gathers the texts of the web app into its catalogues of messages; `make docs` runs it.

A text is what `{% translate "..." %}` or `{% blocktranslate %}` says in a template, and what `gettext("...")` and its
kin are given in Python. Labels, meanings and choices of the fields of a job come from the records. Translations are
written by hand into `src/ampwright/web/words/<language>/*.po`, or taken from JSON files {English: translation}:

    python -m tools.web_translations mine.json
"""  # noqa: INP001 - run as `python -m tools.web_translations`

from __future__ import annotations

import datetime as dt
import io
import json
import sys
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.extract import DEFAULT_KEYWORDS, extract
from babel.messages.pofile import read_po, write_po
from django.utils.translation.template import templatize

from ampwright.job.records import Job
from ampwright.parts.tables import kinds
from ampwright.web.fields import YES_NO, english_fields

WEB = Path(__file__).parents[1] / "src" / "ampwright" / "web"
FOLDER = WEB / "words"
LANGUAGES = ("de",)
AREAS = ("pages", "fields")
KEYWORDS = {
    **DEFAULT_KEYWORDS,
    "gettext_lazy": None,
    "gettext_noop": None,
    "ngettext_lazy": (1, 2),
    "pgettext_lazy": ((1, "c"), 2),
}
LINE_COUNT = 110
Key = tuple[Any, str | None]


def texts(area: str) -> set[Key]:
    """Return every text of an area: text (with its plural), and context."""
    return {"pages": _texts_of_pages, "fields": _texts_of_fields}[area]()


def _texts_of_pages() -> set[Key]:
    found: set[Key] = set()
    for path in sorted(WEB.rglob("*.html")):
        found.update(_marked(template_source(path.read_text(encoding="utf-8")), path))
    for path in sorted(WEB.rglob("*.py")):
        found.update(_marked(path.read_text(encoding="utf-8"), path))
    return found


def _texts_of_fields() -> set[Key]:
    """Return labels, meanings and choices of every field that a job can say."""
    found: set[Key] = set()
    waiting = [Job, *kinds().values()]
    seen = set(waiting)
    while waiting:
        for field in english_fields(waiting.pop()):
            found.add((field.label, "field"))
            found.update((YES_NO.get(each, each), "choice") for each in field.choices if each)
            if field.meaning:
                found.add((field.meaning, None))
            if field.below is not None and field.below not in seen:
                seen.add(field.below)
                waiting.append(field.below)
    return found


def template_source(text: str) -> str:
    """Return a template as Python source with nothing but its marked texts."""
    return "\n".join(line.strip() for line in templatize(text).splitlines())


def _marked(source: str, path: Path) -> set[Key]:
    try:
        found = list(extract("python", io.BytesIO(source.encode()), keywords=KEYWORDS))
    except (SyntaxError, UnicodeError) as error:
        raise SystemExit(f"{path}: {error}") from error
    return {(message, context) for _, message, _, context in found if message}


def read(language: str, area: str) -> Catalog:
    """Return a catalogue as it stands."""
    path = FOLDER / language / f"{area}.po"
    if not path.exists():
        return Catalog(locale=language)
    with path.open("rb") as stream:
        return read_po(stream, locale=language)


def renewed(language: str, area: str, written: dict[str, Any]) -> Catalog:
    """Return a catalogue with exactly the texts there are, translations kept, those of `written` taken."""
    before = read(language, area)
    day = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)
    fresh = Catalog(
        locale=language,
        project="ampwright",
        version="1",
        header_comment=f"# Texts of the web app: {area}.",
        creation_date=day,
        revision_date=day,
        fuzzy=False,
    )
    for text, context in texts(area):
        known = before.get(text, context)
        said = written.get(text if isinstance(text, str) else text[0], known.string if known else "")
        if isinstance(text, tuple) and not isinstance(said, (list, tuple)):
            said = ("", "")
        fresh.add(text, string=tuple(said) if isinstance(text, tuple) else said, context=context)
    return fresh


def po_bytes(catalogue: Catalog) -> bytes:
    """Return a catalogue as it is written by hand."""
    out = io.BytesIO()
    write_po(out, catalogue, width=LINE_COUNT, sort_output=True)
    return out.getvalue()


def missing(catalogue: Catalog) -> list[Any]:
    """Return the texts without a translation, or with a doubtful one."""
    return [each.id for each in catalogue if each.id and (each.fuzzy or not _is_said(each.string))]


def _is_said(string: str | tuple[str, ...]) -> bool:
    return all(string) if isinstance(string, tuple) else bool(string)


def main(files: list[str]) -> None:
    """Renew every catalogue and say what is not translated."""
    written: dict[str, Any] = {}
    for name in files:
        written |= json.loads(Path(name).read_text(encoding="utf-8"))
    for language in LANGUAGES:
        for area in AREAS:
            catalogue = renewed(language, area, written)
            (FOLDER / language).mkdir(exist_ok=True)
            (FOLDER / language / f"{area}.po").write_bytes(po_bytes(catalogue))
            lacking = missing(catalogue)
            print(f"web {language} {area}: {len(catalogue)} texts, {len(lacking)} not translated")  # noqa: T201
            for text in lacking:
                print(f"  {json.dumps(text, ensure_ascii=False)}")  # noqa: T201 - a tool prints


if __name__ == "__main__":
    main(sys.argv[1:])

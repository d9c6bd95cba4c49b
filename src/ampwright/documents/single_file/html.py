"""A page as one file: elements whose texts are always escaped, and the frame round them.

The frame forbids the page to load anything: what is in the file is all there is.
"""

from __future__ import annotations

from html import escape
from importlib.resources import files

__all__ = ["Html", "joined", "raw", "tag", "whole_page"]

EMPTY = frozenset({"br", "hr", "img", "input", "meta"})
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"
SCRIPT_POLICY = "; script-src 'unsafe-inline'"


class Html(str):
    """Text that is HTML already."""

    __slots__ = ()


def raw(text: str) -> Html:
    """Return a text of the program's own as HTML; nothing that came from elsewhere is given here."""
    return Html(text)


def tag(name: str, /, *inside: str, **attributes: str | bool) -> Html:
    """Return one element; texts are escaped, `class_` and `for_` lose their line, `data_x` becomes `data-x`.

    Examples
    --------
    >>> tag("p", "a < b", class_="quiet")
    '<p class="quiet">a &lt; b</p>'
    >>> tag("input", required=True, hidden=False)
    '<input required>'
    """
    said = "".join(_attribute(key, value) for key, value in attributes.items())
    if name in EMPTY:
        return Html(f"<{name}{said}>")
    return Html(f"<{name}{said}>{joined(*inside)}</{name}>")


def _attribute(key: str, value: str | bool) -> str:  # noqa: FBT001 - a bare attribute or none
    name = key.rstrip("_").replace("_", "-")
    if isinstance(value, bool):
        return f" {name}" if value else ""
    return f' {name}="{escape(value, quote=True)}"'


def joined(*inside: str) -> Html:
    """Return texts and elements one after the other."""
    return Html("".join(each if isinstance(each, Html) else escape(each, quote=False) for each in inside))


def whole_page(*, title: str, language: str, body: Html, styles: tuple[str, ...], script: str = "") -> str:
    """Return a page with its style, and its own script where it has one.

    Parameters
    ----------
    styles : more style, as CSS
    script : one script of the program's own
    """
    base = files("ampwright.documents.single_file").joinpath("page.css").read_text(encoding="utf-8")
    policy = POLICY + (SCRIPT_POLICY if script else "")
    head = joined(
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="referrer", content="no-referrer"),
        tag("title", title),
        raw("<style>\n" + base + "".join(styles) + "</style>"),
    )
    end = raw(f"<script>\n{script}</script>") if script else raw("")
    page = tag("html", tag("head", head), tag("body", body, end), lang=language)
    return f"<!DOCTYPE html>\n{page}\n"

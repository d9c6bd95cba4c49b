"""Which part of a job stands on which page, and the names offered while typing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext_noop

from ampwright.climate.sources import shipped_sites
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.fridge import Fridge
from ampwright.parts.hardware import Plug
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record
from ampwright.web.app import the_stock
from ampwright.web.sheet import names_below

__all__ = ["PAGES", "Page", "offered_names", "page_named"]


@record
class Page:
    """One page of a job with editable parts."""

    name: str
    """Name in the address."""
    title: str
    """Word on its tab."""
    paths: tuple[str, ...]
    """What it shows, top to bottom."""
    help: str
    """What it is for, in one sentence."""


PAGES = (
    Page(
        name="vehicle",
        title=gettext_noop("Vehicle"),
        paths=("job", "vehicle", "zone"),
        help=gettext_noop("Whose vehicle it is, what it gives, and the places in it."),
    ),
    Page(
        name="use",
        title=gettext_noop("Place and days"),
        paths=("place", "leg", "season", "use", "day", "doubt"),
        help=gettext_noop("Where, when and how the trip or the working week goes."),
    ),
    Page(
        name="loads",
        title=gettext_noop("Loads"),
        paths=("load",),
        help=gettext_noop("What is to run, when, and how much it matters."),
    ),
    Page(
        name="parts",
        title=gettext_noop("Parts"),
        paths=("part", "module"),
        help=gettext_noop("What is fitted, and in which place."),
    ),
    Page(
        name="switching",
        title=gettext_noop("Switching"),
        paths=("channel", "button", "interlock"),
        help=gettext_noop("Output channels, which button does what, and what stays off on the road."),
    ),
    Page(
        name="wiring",
        title=gettext_noop("Wiring"),
        paths=("run", "bond"),
        help=gettext_noop("Cable runs from the battery outwards, with their devices."),
    ),
    Page(
        name="settings",
        title=gettext_noop("Settings"),
        paths=("setting", "load_cutoff"),
        help=gettext_noop("What is set on each device, and what was left."),
    ),
    Page(
        name="mains",
        title=gettext_noop("Mains and overrides"),
        paths=("mains", "override"),
        help=gettext_noop(
            "The mains side for the licensed electrician; findings that a named person takes on for a time."
        ),
    ),
)


def page_named(name: str) -> Page | None:
    """Return a page by its name."""
    return next((page for page in PAGES if page.name == name), None)


def offered_names(raw: Mapping[str, Any], nodes: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Return the names offered while typing, by what they are names of."""
    own = {
        "zones": tuple(names_below(raw, "zone")),
        "placed": tuple(names_below(raw, "part")),
        "days": tuple(names_below(raw, "day")),
        "nodes": nodes or ("starter-battery", *names_below(raw, "part"), *names_below(raw, "load")),
    }
    return {**own, **part_names(the_stock().workshop.catalogue), "sites": _site_names()}


def part_names(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """Return the ids of parts by the lists they are offered in; the workshop's own are among them."""
    by_list: dict[str, tuple[type, ...]] = {
        "cables": (Cable,),
        "devices": (Fuse, Breaker, Isolator),
        "plugs": (Plug,),
        "fridges": (Fridge,),
    }
    found = {
        name: tuple(sorted(each for each, part in catalogue.parts.items() if isinstance(part, kinds)))
        for name, kinds in by_list.items()
    }
    taken = {each for names in found.values() for each in names}
    found["parts"] = tuple(sorted(name for name in catalogue.parts if name not in taken))
    return found


@lru_cache(maxsize=1)
def _site_names() -> tuple[str, ...]:
    """Return the places that come with the program (a memo: they never change)."""
    return tuple(sorted(shipped_sites()))

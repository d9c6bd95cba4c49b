"""Spares to carry: fuses of each rating with the holder they fit, relays, lamps.

The list is about what a traveller can change by hand. A breaker is closed again, an output resets itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.cabling.wording import FAMILIES
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import Words
from ampwright.job.design import Design
from ampwright.parts.protection import Fuse
from ampwright.parts.relay import Relay
from ampwright.records import record

__all__ = ["SparesList", "fuse_uses", "spare_count", "spares_list"]

BLADE_FROM, BOLTED_FROM = 5, 10
"""One spare more for every so many fitted (own choice, docs/choices.md#spares)."""
LEAST_BLADE, LEAST_BOLTED = 2, 1
"""Fewest spares of a rating (own choice, docs/choices.md#spares)."""


@record
class SparesList:
    """Everything the list prints."""

    notes: tuple[str, ...]
    """Before a fuse is changed."""
    titles: tuple[str, ...]
    """Headings: fuses, relays, lamps."""
    heads: tuple[str, ...]
    """Heads of the columns."""
    fuses: tuple[tuple[str, ...], ...]
    """Rating, holder, where, fitted, to carry."""
    relays: tuple[tuple[str, ...], ...]
    """Name, kind, where, fitted, to carry."""
    lamps: tuple[tuple[str, ...], ...]
    """Name, what it is, where, fitted, to carry."""
    none: str
    """What stands where a list is empty."""


def spares_list(material: Material) -> SparesList:
    """Return what the list prints."""
    design, words = material.design, material.words
    return SparesList(
        notes=(
            words(
                "Find out why a fuse has opened before it is replaced: the same type and rating, never a larger one, never a wire."
            ),
            words(
                "Switch the circuit off first. What sits inside a module is its maker's to change; its fuses are listed so that they are at hand."
            ),
            words("How many is a choice of this program: {rule}.", rule=_rule(words)),
        ),
        titles=(words("Fuses"), words("Relays"), words("Lamps and what drives them")),
        heads=(words("what"), words("type and holder"), words("where"), words("fitted"), words("to carry")),
        fuses=tuple(_fuses(design, words)),
        relays=tuple(_relays(design, words)),
        lamps=tuple(_lamps(design, words)),
        none=words("none in this job"),
    )


def _rule(words: Words) -> str:
    return words(
        "two blade fuses of each rating, one more for each {blade} fitted beyond the first {blade}; one bolted fuse, one more for each {bolted} likewise",
        blade=BLADE_FROM,
        bolted=BOLTED_FROM,
    )


def fuse_uses(design: Design) -> dict[str, tuple[Fuse, list[str]]]:
    """Return the fuses by part, each with where it sits; those inside the module too."""
    found: dict[str, tuple[Fuse, list[str]]] = {}
    for run in design.runs:
        for device in run.devices:
            if isinstance(device.part, Fuse):
                found.setdefault(device.part.id, (device.part, []))[1].append(device.id)
    for placed in design.parts:
        fuse = placed.string_device
        if isinstance(fuse, Fuse):
            found.setdefault(fuse.id, (fuse, []))[1].extend(
                f"{placed.id} {number}" for number in range(1, placed.strings + 1)
            )
    return dict(sorted(found.items(), key=lambda item: (item[1][0].family, item[1][0].rating_a)))


def spare_count(fuse: Fuse, fitted: int) -> int:
    """Return how many to carry.

    Two blade fuses for up to five fitted, one more for each further five begun; one bolted fuse for up to ten, likewise.
    """
    is_blade = fuse.family.startswith("iso-8820-3")
    least, every = (LEAST_BLADE, BLADE_FROM) if is_blade else (LEAST_BOLTED, BOLTED_FROM)
    return least + max(0, math.ceil(fitted / every) - 1)


def _fuses(design: Design, words: Words) -> Iterator[tuple[str, ...]]:
    for fuse, places in fuse_uses(design).values():
        holder = words(
            "{family}; holder up to {limit}",
            family=words(FAMILIES[fuse.family]),
            limit=words.decimal(f"{fuse.holder_max_a:g}{UNIT_SPACE}A"),
        )
        yield (
            words.decimal(f"{fuse.rating_a:g}{UNIT_SPACE}A"),
            holder,
            ", ".join(places),
            str(len(places)),
            str(spare_count(fuse, len(places))),
        )


def _relays(design: Design, words: Words) -> Iterator[tuple[str, ...]]:
    for placed, part in design.placed(Relay):
        coil = words.decimal(f"{part.name}, {part.rating_a:g}{UNIT_SPACE}A")
        yield placed.id, coil, placed.zone.id if placed.zone else words("place not said"), "1", "1"


def _lamps(design: Design, words: Words) -> Iterator[tuple[str, ...]]:
    """Yield loads that draw a constant current: lamps and their drivers, as a rule."""
    for load in design.loads:
        if load.behaves == "current" and load.inverter < 0:
            each_w = words.quantity(load.peak_w / load.count, "W")
            where = load.zone.id if load.zone else words("place not said")
            yield (
                load.name,
                words("{power} each, constant current", power=each_w),
                where,
                str(load.count),
                "1",
            )

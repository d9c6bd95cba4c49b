"""Words for the readings before the last fuse: what, where, limits, what to do with them."""

from __future__ import annotations

from ampwright.documents.sheet.figures import limits
from ampwright.documents.words.words import Words, noted
from ampwright.fieldwork.first_readings import LAMP_W, FirstReading, LastStep, ReadingKind

__all__ = ["dead_state", "last_name", "reading_limit", "reading_stop", "reading_where", "reading_words"]

WORDS: dict[ReadingKind, str] = {
    "battery-voltage": noted("voltage and polarity of the battery"),
    "plus-to-minus": noted("resistance plus to minus, all loads off"),
    "minus-to-metal": noted("resistance minus to metal of the vehicle"),
    "plus-to-metal": noted("resistance plus to metal of the vehicle"),
    "charger-input": noted("voltage and polarity at the charger's input"),
    "panel-open-circuit": noted("open-circuit voltage and polarity of the panels"),
    "across-holder": noted("voltage across the gap at the battery, with a lamp"),
}
WHERE: dict[ReadingKind, str] = {
    "battery-voltage": noted("{dead}: red on the battery's side of {gap}, black on the battery's minus"),
    "plus-to-minus": noted(
        "{dead}: from the system's plus bar to its minus bar; wait a minute, then swap the probes and read "
        "again"
    ),
    "minus-to-metal": noted(
        "from the minus at {subject} to bare metal of the vehicle; first touch the probes together and take that off"
    ),
    "plus-to-metal": noted("{dead}: from the system's plus bar to bare metal; wait a minute"),
    "charger-input": noted(
        "vehicle's own battery joined for it, engine off, key out, its fuse in: on {at}, red on plus; then take that fuse out again"
    ),
    "panel-open-circuit": noted(
        "plug or isolator of {subject} open, in daylight: on the cable's end for {at}, red on plus"
    ),
    "across-holder": noted(
        "{closed}everything off: clip a {lamp} W lamp of the system's voltage across {gap}, wait ten seconds, "
        "read with red on the battery's side"
    ),
}
STOP: dict[ReadingKind, str] = {
    "battery-voltage": noted(
        "negative: poles swapped. Lower: empty, or its management is off. Higher: wrong battery"
    ),
    "plus-to-minus": noted(
        "lower: a load is on, a wire is pinched, or a device is connected the wrong way round. It may climb slowly: capacitors fill"
    ),
    "minus-to-metal": noted("higher: the bond is missing, loose or on paint"),
    "plus-to-metal": noted("lower: a plus wire touches metal. Find it before anything else"),
    "charger-input": noted("negative: swapped. Near 0: fuse or joint. Lower: the starter battery is empty"),
    "panel-open-circuit": noted(
        "negative: swapped. Half or a third: a panel of the row is missing or swapped. Higher: more in series than drawn, the "
        "controller is destroyed"
    ),
    "across-holder": noted(
        "lamp stays bright: a short or a load that is on. Negative: something else feeds the system, find it and switch it off"
    ),
}


def reading_words(words: Words, kind: ReadingKind) -> str:
    """Return what is read."""
    return words(WORDS[kind])


def last_name(words: Words, last: LastStep) -> str:
    """Return the name of what joins the battery last."""
    return words(" and ").join(last.names) if last.names else words("the battery's plus lead")


def dead_state(words: Words, last: LastStep) -> str:
    """Return the state in which nothing is joined to the battery."""
    opened = words(" and ").join(last.isolators)
    if last.kind == "isolator":
        return words("isolator {isolator} open", isolator=opened)
    if last.kind == "lead":
        return words("the battery's plus lead off and covered")
    out = words("{fuse} out", fuse=last_name(words, last))
    return words("isolator {isolator} open, {out}", isolator=opened, out=out) if opened else out


def reading_where(words: Words, reading: FirstReading, last: LastStep) -> str:
    """Return where the probes go, and what is open meanwhile."""
    gap = {
        "fuse": words("the open holder {name}", name=reading.at),
        "isolator": words(
            "the open isolator {name} (in a closed module at its main terminals, or on its display)",
            name=reading.at,
        ),
        "lead": words("the gap between the battery's plus post and its lead"),
    }[last.kind]
    closes = last.kind == "fuse" and last.isolators
    return words(
        WHERE[reading.kind],
        at=reading.at,
        subject=reading.subject,
        lamp=f"{LAMP_W:g}",
        dead=dead_state(words, last),
        gap=gap,
        closed=words("isolator {isolator} closed, ", isolator=words(" and ").join(last.isolators))
        if closes
        else "",
    )


def reading_stop(words: Words, reading: FirstReading) -> str:
    """Return what a reading outside the limits means."""
    return words(STOP[reading.kind])


def reading_limit(words: Words, reading: FirstReading) -> str:
    """Return between which figures the work goes on."""
    if reading.low is None and reading.high is None:
        return words("the job does not say whether they are tied: ask first")
    spread = {"V": 1.0, "Ω": 10.0 if reading.low else 1.0}[reading.unit]
    like = 0.0 if reading.unit == "V" else 10.0
    return limits(words, reading.low, reading.high, unit=reading.unit, spread=spread, like=like)

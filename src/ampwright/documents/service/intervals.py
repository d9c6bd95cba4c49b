"""What is looked at in a vehicle's system, and how often: by the parts the job holds.

Intervals are this project's choice (docs/choices.md#service-intervals); the manuals of the parts go first.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.figures import limits
from ampwright.fieldwork.predict import predicted_tests
from ampwright.parts.hardware import Enclosure
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record
from ampwright.sources import own_choice

__all__ = ["FIRST_KM", "FIRST_MILES", "FIRST_WEEKS", "PLAN_SOURCE", "Task", "tasks"]

FIRST_KM = 1000
FIRST_MILES = 600
FIRST_WEEKS = 4
PLAN_SOURCE = own_choice("service-intervals")


@record
class Task:
    """One line of the plan."""

    when: str
    """How often."""
    what: str
    """What is done."""
    good: str
    """What it should look like."""


def tasks(material: Material) -> tuple[Task, ...]:
    """Return the lines of the plan, most frequent first."""
    return (*_first(material), *_monthly(material), *_yearly(material), *_rare(material))


def _first(material: Material) -> Iterator[Task]:
    words = material.words
    first = words("first weeks, then yearly")
    yield Task(
        when=first,
        what=words(
            "Tighten all joints again by the list below; feel along cables and holders after half an hour under load."
        ),
        good=words("nothing moved, nothing hot to the hand, paint lines in place"),
    )
    yield Task(
        when=first,
        what=words("Mounts of battery, boxes and panels: bolts at their torque, no cracks around them."),
        good=words("nothing moves by hand"),
    )


def _monthly(material: Material) -> Iterator[Task]:
    words, design = material.words, material.design
    month = words("every month of use")
    if has_mains(design):
        yield Task(
            when=words("every month of use, and before each hook-up season"),
            what=words("Press the test button of the residual-current device while hooked up."),
            good=words("it opens at once; if not, leads out and a licensed electrician"),
        )
    if any(isinstance(placed.part, Enclosure) for placed in design.parts):
        yield Task(
            when=month,
            what=words("Fans, filters and vents: free of dust and luggage; fan turns when warm."),
            good=words("air moves, nothing leans on the vents"),
        )
    if design.battery_part().chemistry == "flooded":
        yield Task(
            when=month,
            what=words(
                "Acid above the plates; top up with purified water after charging, glasses and gloves on."
            ),
            good=words("between the marks"),
        )
    if any(isinstance(placed.part, Panel) for placed in design.parts):
        yield Task(
            when=month,
            what=words("Panels: wash with water, look at glass, mounts and cables; nobody walks on them."),
            good=words("clean, no cracks, no cable loose in the wind"),
        )


def _yearly(material: Material) -> Iterator[Task]:
    words, design = material.words, material.design
    year = words("every year")
    off = next(test for test in predicted_tests(material.found) if test.kind == "standby-current")
    yield Task(
        when=year,
        what=words(
            "Battery: case, posts, vents; rest voltage; full charge once, then what it gives to its cut-off."
        ),
        good=words("no bulge, no white bloom, no smell; at least four fifths of what it gave new"),
    )
    yield Task(
        when=year,
        what=words("Current with everything off, at the battery's minus post."),
        good=limits(words, off.low, off.high, unit="A", spread=off.tolerance, like=off.expected or 0.0),
    )
    yield Task(
        when=year,
        what=words(
            "Drops of the three heaviest circuits and of each charger's way, as on the commissioning sheet."
        ),
        good=words("within its limits, and not a quarter more than at commissioning"),
    )
    devices = [device.part for run in design.runs for device in run.devices]
    if any(isinstance(part, Fuse | Breaker | Isolator) for part in devices):
        yield Task(
            when=year,
            what=words(
                "Fuses and holders: no brown plastic, no dull contacts. Breakers and isolators: open and close five times, load off."
            ),
            good=words("rating as listed, action crisp"),
        )
    yield Task(
        when=year,
        what=words("Read back every setting; firmware only as the maker advises, then settings again."),
        good=words("as on the as-built record"),
    )
    yield Task(
        when=year,
        what=words(
            "Cables: edges, grommets, clips, places near heat and moving parts; seals of roof and floor."
        ),
        good=words("nothing chafed, nothing wet"),
    )


def _rare(material: Material) -> Iterator[Task]:
    words, design = material.words, material.design
    if has_mains(design):
        yield Task(
            when=words("as the local code asks, and after any change"),
            what=words("Mains side tested by the licensed person."),
            good=words("new certificate, kept with the vehicle"),
        )
    if any(isinstance(placed.part, Inverter) for placed in design.parts):
        yield Task(
            when=words("every year"),
            what=words("Inverter: dust out of its vents, load of the commissioning sheet for ten minutes."),
            good=words("no alarm, voltage at its terminals within its limits"),
        )
    yield Task(
        when=words("after an accident, a flood or a fire"),
        what=words(
            "Isolate it and leave it off; a lithium battery that was crushed or under water stands outside, away from buildings."
        ),
        good=words("looked at by whoever built it before it is used again"),
    )

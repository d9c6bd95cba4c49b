"""Order of work, readings before the battery's fuse, and the points at which the work stops until somebody has looked."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.figures import limits
from ampwright.documents.sheet.first_reading_words import (
    dead_state,
    last_name,
    reading_limit,
    reading_stop,
    reading_where,
    reading_words,
)
from ampwright.documents.sheet.sections import BLANK, TICK, Section, Table
from ampwright.documents.words.words import Words
from ampwright.fieldwork.first_readings import FirstReading, LastStep, first_readings, last_step
from ampwright.fieldwork.predict import predicted_tests
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.parts.charger import PanelController
from ampwright.parts.protection import Breaker, Fuse

__all__ = ["hold_section", "order_section", "reading_section"]


def order_section(material: Material) -> Section:
    """Return the order of work: what joins the battery is the last in and the first out."""
    words, design = material.words, material.design
    last = last_step(design)
    rule = {
        "fuse": words("The battery's fuse goes in last and comes out first, for any work at any time."),
        "isolator": words(
            "Isolator {name} is closed last and opened first, for any work at any time; the fuse before it stays inside the closed module.",
            name=last_name(words, last),
        ),
        "lead": words(
            "This job has neither fuse nor isolator at the battery: its plus lead is joined last and taken off first. Ask before going on."
        ),
    }[last.kind]
    holds = words(
        "Hold points A to E are explained in the last section: there the work stops until somebody has looked and signed."
    )
    return Section(title=words("Order of work"), text=(rule, holds), steps=tuple(_steps(words, design, last)))


def _steps(words: Words, design: Design, last: LastStep) -> Iterator[str]:
    starter = _starter_devices(words, design)
    yield words(
        "Read this pack and the manuals of the parts. Engine off, key out; take the vehicle's own battery off as its handbook says. Hold point A."
    )
    yield words("Bolt down what is heavy: battery, inverter, boxes, panels. Nothing is connected yet.")
    yield words(
        "Lay the cables by the list: away from exhaust, steering, brakes, belts and edges; plus and minus of a circuit side by side; clips "
        "every 30 cm (12 in). Leave the ends insulated."
    )
    yield words(
        "Join the cables at loads, outputs, bars and chargers. All fuses out, all breakers and switches off."
    )
    yield (
        words(
            "Join minus: bar, bond to the metal, then everything else. {name} stays open. Hold point B.",
            name=last_name(words, last),
        )
        if last.kind == "isolator"
        else words(
            "Join minus: bar, bond to the metal, then everything else; the battery's own minus at the end. Its plus lead stays off and covered. "
            "Hold point B."
        )
    )
    if last.kind == "fuse":
        yield words(
            "With {state}: join the battery's plus lead to its holder.", state=dead_state(words, last)
        )
    yield words(
        "Take the readings of the next section. Hold point C: every one within its limits, else stop."
    )
    yield _join(words, last)
    yield words("Set the devices by the settings sheet, from top to bottom, before anything charges.")
    if starter:
        yield words(
            "Join the vehicle's battery again as its handbook says, put in {devices}, then close the breaker of the charger.",
            devices=starter,
        )
    if any(isinstance(placed.part, PanelController) for placed in design.parts):
        yield words(
            "Panels last of the sources: the controller wants its battery first, unless its manual says otherwise."
        )
    yield words(
        "Close breakers and outputs one by one, each with its load off; then one load after the other."
    )
    yield words("Fill in the commissioning sheet and the as-built record. Hold point E.")


def _join(words: Words, last: LastStep) -> str:
    name = last_name(words, last)
    if last.kind == "isolator":
        return words("Close {name}. Hold point D.", name=name)
    if last.kind == "fuse" and last.isolators:
        return words(
            "{isolator} still open: put in {fuse}. Then close {isolator}. Hold point D.",
            isolator=words(" and ").join(last.isolators),
            fuse=name,
        )
    return words(
        "Join {name}: a small spark from capacitors is usual, a large one is not. Hold point D.", name=name
    )


def _starter_devices(words: Words, design: Design) -> str:
    node = design.node_of(STARTER_NODE)
    names = [
        device.id
        for run in design.runs
        if node >= 0 and node in (run.start, run.end)
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    return words(" and ").join(names)


def reading_section(material: Material) -> Section:
    """Return the readings before the battery's fuse goes in, each with go and stop."""
    words, design = material.words, material.design
    readings = first_readings(design)
    return Section(
        title=words("Readings before {fuse} joins the battery", fuse=last_name(words, last_step(design))),
        text=(
            words(
                "In this order; loads off, the mains lead away, fuses of the starter side out and panels unplugged unless the row says otherwise. "
                "Go: the reading is within. Stop: leave {fuse} as it is, find the cause, read again.",
                fuse=last_name(words, last_step(design)),
            ),
        ),
        cautions=_bare_ends(material, readings),
        table=Table(
            heads=(
                "",
                words("reading"),
                words("where and how"),
                words("go when"),
                words("else stop; it usually means"),
                words("read"),
                words("go"),
                words("stop"),
            ),
            width_factor=(-5.0, 1.3, 2.1, 1.0, 2.0, -17.0, -6.0, -7.0),
            rows=tuple(
                (
                    str(number),
                    reading_words(words, reading.kind),
                    reading_where(words, reading, last_step(design)),
                    reading_limit(words, reading),
                    reading_stop(words, reading),
                    BLANK,
                    TICK,
                    TICK,
                )
                for number, reading in enumerate(readings, start=1)
            ),
        ),
    )


def _bare_ends(material: Material, readings: tuple[FirstReading, ...]) -> tuple[str, ...]:
    """Return the caution on panel voltages above what bare parts may have."""
    words, region = material.words, material.design.region
    highest_v = max((each.high or 0.0 for each in readings if each.kind == "panel-open-circuit"), default=0.0)
    if highest_v <= region.caution_dc_v:
        return ()
    return (
        words(
            "The panels' cable carries up to {high}: above {limit} touching bare ends can kill. Cover the panels before the ends are bared.",
            high=words.quantity(highest_v, "V"),
            limit=words.quantity(region.caution_dc_v, "V"),
        ),
    )


def hold_section(material: Material) -> Section:
    """Return the hold points."""
    words = material.words
    return Section(
        title=words("Hold points"),
        text=(
            words(
                "At each point the work waits. Where two people are there, the one who did not do the work looks; both sign."
            ),
        ),
        table=Table(
            heads=("", words("before"), words("go when"), words("stop when"), words("signed, date")),
            width_factor=(-5.0, 1.2, 2.4, 2.0, -34.0),
            rows=tuple((*row, BLANK) for row in _hold_rows(material)),
        ),
    )


def _hold_rows(material: Material) -> Iterator[tuple[str, str, str, str]]:
    words, design = material.words, material.design
    tests = predicted_tests(material.found)
    fuse = last_name(words, last_step(design))
    yield (
        "A",
        words("drilling and bolting"),
        words("places as in the job, nothing behind the holes, owner agrees"),
        words("a line, a wire or an airbag is near; the part is not the one in the list"),
    )
    yield (
        "B",
        words("the battery's plus lead"),
        words(
            "size, route, device and rating of each cable as listed; every lug holds a tug; no bare copper; labels on"
        ),
        words("a device is larger than listed, a cable thinner or longer; a cable without its fuse"),
    )
    yield (
        "C",
        words("{fuse} joins the battery", fuse=fuse),
        words("every reading within its limits"),
        words("any reading outside"),
    )
    rest = next((test for test in tests if test.kind == "rest-voltage"), None)
    off = next((test for test in tests if test.kind == "standby-current"), None)
    yield (
        "D",
        words("engine side, panels and loads are joined"),
        words(
            "{volts} on the bar; {standby} from the battery with everything off; nothing warm, no smell, no noise",
            volts=_limit(words, rest),
            standby=_limit(words, off),
        ),
        words("anything else: {fuse} off again at once", fuse=fuse),
    )
    mains = words("; mains side tested and signed by the licensed person") if has_mains(design) else ""
    yield (
        "E",
        words("hand-over"),
        words(
            "commissioning sheet passed, settings read back, as-built record filled in{mains}", mains=mains
        ),
        words("a reading outside, a setting not read, or every page of this pack still says DRAFT"),
    )


def _limit(words: Words, test: PredictedTest | None) -> str:
    if test is None or test.expected is None:
        return words("the battery's voltage")
    return limits(words, test.low, test.high, unit=test.unit, spread=test.tolerance, like=test.expected)

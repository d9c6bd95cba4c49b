"""Sections of the commissioning sheet on what is read of the system as a whole, before and after the battery is joined."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.documents.commissioning.circuit_tables import limit_text, predicted_text
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.first_reading_words import reading_limit, reading_where, reading_words
from ampwright.documents.sheet.sections import BLANK, TICK, Section, Table
from ampwright.documents.words.words import Words, noted
from ampwright.fieldwork.first_readings import first_readings, last_step
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.parts.protection import Breaker, Fuse

__all__ = ["battery_section", "channel_section", "dead_section", "polarity_section", "threshold_section"]

NO_INSULATION_TEST = noted(
    "Never a 250 V or 500 V insulation test on these DC wires: it destroys electronics, battery management and controllers that "
    "stay connected. Resistance is read with a multimeter, isolator open."
)
NAMES = {
    "open_v": noted("opens when the voltage falls to"),
    "close_v": noted("closes again when it rises to"),
    "stop_v": noted("stops when its input falls to"),
    "start_v": noted("starts when its input rises to"),
}


def dead_section(material: Material) -> Section:
    """Return the readings with the battery's fuse out and its isolator open."""
    words = material.words
    last = last_step(material.design)
    rows = tuple(
        (
            reading_words(words, reading.kind),
            reading_where(words, reading, last),
            reading_limit(words, reading),
            BLANK,
            TICK,
        )
        for reading in first_readings(material.design)
    )
    return Section(
        title=words("Dead: before the battery is joined"),
        text=(
            words(
                "Fuses of the battery and of the starter side out, isolator open, every load off, the mains lead away, panels covered, unless a row says otherwise. "
                "What a reading means and when to stop stands in the installation pack."
            ),
        ),
        cautions=(words(NO_INSULATION_TEST),),
        table=Table(
            heads=(words("reading"), words("where"), words("passes"), words("read"), words("ok")),
            width_factor=(1.5, 2.6, 1.3, -24.0, -6.0),
            rows=rows,
        ),
    )


def polarity_section(material: Material) -> Iterator[Section]:
    """Yield a box to tick for each device whose polarity is read before it is closed."""
    words = material.words
    devices = [
        (device.id, run.id, material.design.nodes[run.start if device.end == "from" else run.end])
        for run in material.design.runs
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker) and not run.is_inside_module
    ]
    if not devices:
        return
    beside = min(len(devices), 2)
    lines = [devices[i : i + beside] for i in range(0, len(devices), beside)]
    rows = tuple(
        tuple(
            cell for one in (*each, *(("", "", ""),) * (beside - len(each))) for cell in _polarity_cells(one)
        )
        for each in lines
    )
    yield Section(
        title=words("Polarity before any fuse goes in"),
        text=(
            words(
                "Black probe on the minus bar, red probe on the feeding side of the open holder or switch: the reading is positive "
                "and the feeding source's voltage, or 0 while that source is off. Then look that the load's plus goes to the plus pole "
                "of its plug. Wrong polarity destroys electronics in an instant."
            ),
        ),
        table=Table(
            heads=(words("device"), words("at, cable"), words("ok")) * beside,
            width_factor=(1.0, 2.6, -8.0) * beside,
            rows=rows,
        ),
    )


def _polarity_cells(device: tuple[str, str, str]) -> tuple[str, str, str]:
    name, run, node = device
    return (name, f"{node}, {run}", TICK) if name else ("", "", "")


def battery_section(material: Material, tests: Iterable[PredictedTest]) -> Section:
    """Return battery at rest and standby current."""
    words = material.words
    chosen = [test for test in tests if test.kind in {"rest-voltage", "standby-current"}]
    is_lithium = material.design.battery_part().chemistry == "lfp"
    return Section(
        title=words("Battery at rest, and everything off"),
        table=Table(
            heads=(
                words("reading"),
                words("state"),
                words("predicted"),
                words("passes"),
                words("read"),
                words("ok"),
            ),
            width_factor=(1.6, 2.4, 1.2, 1.3, -24.0, -6.0),
            rows=tuple(_battery_row(words, test, is_lithium=is_lithium) for test in chosen),
        ),
        notes=(
            words(
                "Lithium: a rest voltage tells no state of charge, the curve is flat. It only tells that the battery is alive. Take "
                "the charge from a counter that was set at a full battery."
            )
            if is_lithium
            else words(
                "Lead-acid: without rest the voltage is too high after charging and too low after use."
            ),
            words(
                "Standby above its limit: something was left on, or a device that the job does not know. Take the fuses out one by "
                "one and see which one ends it."
            ),
        ),
    )


def _battery_row(words: Words, test: PredictedTest, *, is_lithium: bool) -> tuple[str, ...]:
    hours = f"{test.warm_up_minutes / 60.0:g}"
    if test.kind == "standby-current":
        what = words("current at the battery's minus post, milliampere clamp")
        state = words(
            "everything off, isolator closed, engine off, {minutes} minutes",
            minutes=f"{test.warm_up_minutes:g}",
        )
        return (what, state, predicted_text(words, test), limit_text(words, test), BLANK, TICK)
    state = words("isolator open, {hours} h without charge or load", hours=hours)
    if is_lithium:
        return (
            words("voltage on the battery's posts"),
            state,
            words("a window only"),
            limit_text(words, test),
            BLANK,
            TICK,
        )
    what = words(
        "voltage on the posts at {soc} of charge", soc=f"{100.0 * (test.soc_frac or 0.0):.0f}\u00a0%"
    )
    return (what, state, predicted_text(words, test), limit_text(words, test), BLANK, TICK)


def threshold_section(material: Material, tests: Iterable[PredictedTest]) -> Iterator[Section]:
    """Yield what switches at which voltage; nothing where nothing is set."""
    words = material.words
    chosen = [test for test in tests if test.kind == "threshold"]
    if not chosen:
        return
    yield Section(
        title=words("Cut-off and restart voltages"),
        text=(
            words(
                "With an adjustable supply in the place of what feeds the sense input, in steps of 0.1 V, each step held longer than the "
                "delay. Never by emptying the battery. Where no bench supply can be connected, read the setting back instead and "
                "write an R beside it."
            ),
        ),
        table=Table(
            heads=(
                words("device"),
                words("what"),
                words("predicted"),
                words("passes"),
                words("read"),
                words("ok"),
            ),
            width_factor=(1.6, 2.4, 1.2, 1.3, -24.0, -6.0),
            rows=tuple(
                (
                    test.subject,
                    words(NAMES[test.name]),
                    predicted_text(words, test),
                    limit_text(words, test),
                    BLANK,
                    TICK,
                )
                for test in chosen
            ),
        ),
    )


def channel_section(material: Material, tests: Iterable[PredictedTest]) -> Iterator[Section]:
    """Yield the limits of the output channels; nothing without one."""
    words = material.words
    chosen = [test for test in tests if test.kind == "channel-limit"]
    if not chosen:
        return
    yield Section(
        title=words("Output channels"),
        text=(
            words(
                "Read each limit back. Press the button: only what its legend says may come on. The current is the largest of its loads."
            ),
        ),
        table=Table(
            heads=(
                words("output"),
                words("legend"),
                words("its loads take at most"),
                words("limit, passes"),
                words("read"),
                words("legend ok"),
            ),
            width_factor=(1.3, 1.6, 1.6, 1.3, -24.0, -16.0),
            rows=tuple(
                (
                    test.subject,
                    test.name,
                    words.quantity(test.load_a, "A")
                    if test.load_a is not None
                    else words("no load in the job"),
                    limit_text(words, test),
                    BLANK,
                    TICK,
                )
                for test in chosen
            ),
        ),
    )

"""Tables of the commissioning sheet for circuits and chargers: one row for each, a blank for each reading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.figures import limits, plus_minus
from ampwright.documents.sheet.sections import BLANK, TICK, Section, Table
from ampwright.documents.words.words import Words, noted
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.fieldwork.predicted_chargers import CHARGER_WARM_MINUTES
from ampwright.fieldwork.predicted_circuits import (
    NO_STEADY_VOLTAGE,
    TEST_SOC_FRAC,
    TEST_SOC_HIGH_FRAC,
    TEST_SOC_LOW_FRAC,
    TWO_BATTERIES,
    UNSOLVED,
    WARM_UP_MINUTES,
)

__all__ = ["charger_section", "circuit_section", "limit_text", "predicted_text"]

STATES = {
    "road": noted("on the road, engine hot"),
    "idle": noted("engine idling, hot"),
    "hooked-up": noted("hooked up; mains connected by its user, nothing opened"),
    "sun": noted("clear noon sun straight on the panels (1000 W/m²)"),
}
EXHAUST = noted(
    "Idling gives off carbon monoxide, which kills: outdoors only, nobody asleep beside it, not over dry grass. Keep hands, "
    "hair and leads away from belts and fans. On the road a second person reads, never the driver."
)
WHY = {
    NO_STEADY_VOLTAGE: noted("not predicted: no steady voltage, it takes more than its way gives"),
    UNSOLVED: noted("not predicted: its wiring joins sources in a way that is not solved"),
}
"""Why a circuit has no prediction."""


def predicted_text(words: Words, test: PredictedTest) -> str:
    """Return the prediction with its tolerance."""
    if test.expected is None:
        return words(WHY.get(test.note, WHY[UNSOLVED]))
    return plus_minus(words, test.expected, test.tolerance, test.unit)


def limit_text(words: Words, test: PredictedTest) -> str:
    """Return between which figures it passes."""
    if test.expected is None or (test.low is None and test.high is None):
        return ""
    return limits(words, test.low, test.high, unit=test.unit, spread=test.tolerance, like=test.expected)


def circuit_section(material: Material, tests: Iterable[PredictedTest]) -> Iterator[Section]:
    """Yield the section of circuits; nothing where no load is wired."""
    words = material.words
    rows = tuple(_circuit_row(material, each) for each in _by_subject(tests).values())
    if not rows:
        return
    yield Section(
        title=words("Each circuit with its load alone"),
        text=(
            words(
                "Battery at {soc} of charge ({low} to {high}), rested, chargers off. Switch on the load of the row alone, at full "
                "power, and wait {minutes} minutes. Clamp on the positive lead at the device. Drop: voltmeter from the battery's "
                "plus post to the device's plus, then from its minus to the battery's minus post; write the sum. Loop = drop divided "
                "by current: it holds for any current, so judge by it where the load takes more or less than predicted. Voltage: on "
                "the device's terminals.",
                soc=_percent(TEST_SOC_FRAC),
                low=_percent(TEST_SOC_LOW_FRAC),
                high=_percent(TEST_SOC_HIGH_FRAC),
                minutes=f"{WARM_UP_MINUTES:g}",
            ),
        ),
        table=Table(
            heads=(
                words("circuit"),
                words("current"),
                words("read"),
                words("drop, passes"),
                words("read"),
                words("loop, predicted"),
                words("passes"),
                words("read"),
                words("at the device, predicted"),
                words("passes"),
                words("read"),
                words("ok"),
            ),
            width_factor=(1.6, 1.05, -15.0, 1.1, -15.0, 1.1, 1.15, -15.0, 1.15, 1.2, -15.0, -6.0),
            rows=rows,
        ),
        notes=(
            words(
                "A drop or loop above its limit: thin cable, bad joint, or a longer way than written. Feel along it with the "
                "circuit off and find the piece that loses it."
            ),
            words(
                "Much less drop than predicted with the right current: the probes are not where they should be, or the circuit is "
                "fed another way."
            ),
        ),
    )


def _by_subject(tests: Iterable[PredictedTest]) -> dict[tuple[str, str], dict[str, PredictedTest]]:
    found: dict[tuple[str, str], dict[str, PredictedTest]] = {}
    for test in tests:
        if test.state == "load":
            found.setdefault((test.subject, test.at), {})[test.kind] = test
    return found


def _circuit_row(material: Material, tests: dict[str, PredictedTest]) -> tuple[str, ...]:
    words = material.words
    drop, loop = tests["voltage-drop"], tests.get("loop-resistance")
    current, device = tests.get("load-current"), tests.get("device-voltage")
    if current is None or device is None:
        return (
            _circuit_name(words, drop),
            predicted_text(words, drop),
            BLANK,
            "",
            BLANK,
            "",
            "",
            BLANK,
            "",
            "",
            BLANK,
            TICK,
        )
    return (
        _circuit_name(words, drop),
        predicted_text(words, current),
        BLANK,
        limit_text(words, drop),
        BLANK,
        predicted_text(words, loop) if loop else words("shared way"),
        limit_text(words, loop) if loop else "",
        BLANK if loop else "",
        predicted_text(words, device),
        limit_text(words, device),
        BLANK,
        TICK,
    )


def _circuit_name(words: Words, test: PredictedTest) -> str:
    name = (
        test.subject
        if test.at == test.subject
        else words("{load} at {node}", load=test.subject, node=test.at)
    )
    if test.source_node:
        name = words("{name}, drop from {node}", name=name, node=test.source_node)
    if test.note == TWO_BATTERIES:
        name = words("{name}, fed by two batteries", name=name)
    others = [each for each in test.switched_on if each != test.subject]
    return words("{name}, with {loads} on", name=name, loads=", ".join(others)) if others else name


def charger_section(material: Material, tests: Iterable[PredictedTest]) -> Iterator[Section]:
    """Yield the section of chargers; nothing without one."""
    words = material.words
    chosen = [test for test in tests if test.kind in {"charger-output", "charger-drop", "charge-voltage"}]
    if not chosen:
        return
    is_driven = any(test.state in {"road", "idle"} for test in chosen)
    yield Section(
        title=words("Chargers"),
        text=(
            words(
                "Battery at half charge or below, so that it takes everything; loads off. Let each charger run {minutes} minutes "
                "alone. Current: clamp on the positive lead of its output. Loss: as above, between the charger's terminals and the "
                "battery's posts, or between the starter battery's posts and the charger's input; divide by the current.",
                minutes=f"{CHARGER_WARM_MINUTES:g}",
            ),
        ),
        cautions=(words(EXHAUST),) if is_driven else (),
        table=Table(
            heads=(
                words("charger"),
                words("what"),
                words("state"),
                words("predicted"),
                words("passes"),
                words("read"),
                words("ok"),
            ),
            width_factor=(1.3, 1.6, 1.7, 1.1, 1.3, -24.0, -6.0),
            rows=tuple(_charger_row(words, test) for test in chosen),
        ),
    )


def _charger_row(words: Words, test: PredictedTest) -> tuple[str, ...]:
    what = {
        "charger-output": words("current it gives"),
        "charge-voltage": words("voltage at the battery's posts, end of charge"),
        "charger-drop": words("resistance of the way to {node}", node=test.at),
    }[test.kind]
    state = (
        words("charge nearly over, current small")
        if test.kind == "charge-voltage"
        else words(STATES[test.state])
    )
    predicted = (
        words("0: as reckoned it never starts")
        if test.note == "never starts"
        else predicted_text(words, test)
    )
    return (test.subject, what, state, predicted, limit_text(words, test), BLANK, TICK)


def _percent(frac: float) -> str:
    return f"{100.0 * frac:.0f}\u00a0%"

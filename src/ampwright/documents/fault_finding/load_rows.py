"""Symptoms of loads, battery and outputs, with this job's figures."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.fault_finding.records import Symptom
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.figures import limits
from ampwright.documents.words.words import Words
from ampwright.energy.bank import rest_v
from ampwright.energy.endurance import storage_days
from ampwright.fieldwork.first_readings import last_step
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.job.design import Design
from ampwright.parts.inverter import Inverter

__all__ = ["limit_of", "load_rows", "test_of"]

SHOWN_COUNT = 3
LEAD_LOW_FRAC = 0.5
LITHIUM_LOW_FRAC = 0.1


def test_of(tests: tuple[PredictedTest, ...], kind: str, **wanted: str) -> PredictedTest | None:
    """Return the first predicted test of a kind, subject or state; None where there is none that could be predicted."""
    return next(
        (
            test
            for test in tests
            if test.kind == kind
            and test.expected is not None
            and all(getattr(test, name) == value for name, value in wanted.items())
        ),
        None,
    )


def limit_of(words: Words, test: PredictedTest) -> str:
    """Return the limits of a test that could be predicted."""
    return limits(
        words, test.low, test.high, unit=test.unit, spread=test.tolerance, like=test.expected or 0.0
    )


def load_rows(material: Material, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    """Yield what can be wrong between battery and loads."""
    words, design = material.words, material.design
    yield _all_dead(words, design)
    yield _one_dead(material)
    yield from _trips(material)
    yield from _weak(words, tests)
    yield from _flat(words, design, tests)
    yield from _inverter(words, design, tests)


def _all_dead(words: Words, design: Design) -> Symptom:
    frac = LITHIUM_LOW_FRAC if design.battery_part().chemistry == "lfp" else LEAD_LOW_FRAC
    low = words.quantity(rest_v(design, frac), "V")
    last = last_step(design)
    devices = ", ".join(last.names) or words("the first joint")
    isolators = ", ".join(last.isolators)
    cutoff = design.job.load_cutoff
    behind = words("and then on either side of {devices}", devices=devices)
    opened = words("isolator {names} open; ", names=isolators) if isolators else ""
    return Symptom(
        symptom=words("nothing works"),
        reading=words("voltage on the battery's posts, {behind}", behind=behind),
        expected=words("{low} or more on the posts, the same on both sides", low=low),
        meaning=words(
            "{opened}posts good, nothing behind it: the fuse blew, see above. Posts near 0: the battery's management has opened; charge it. "
            "Posts below {cutoff}: the load cut-off did its work: low battery.",
            opened=opened,
            cutoff=words.quantity(cutoff.open_v, "V") if cutoff is not None else low,
        ),
    )


def _one_dead(material: Material) -> Symptom:
    words, design = material.words, material.design
    names = ", ".join(f"{design.parts[each.part].id}.{each.number} {each.name}" for each in design.channels)
    where = words("its output ({names})", names=names) if len(names) < 90 and names else words("its output")
    return Symptom(
        symptom=words("one thing is dead"),
        reading=words("voltage at its breaker or {where}, switched on; then at the device", where=where)
        if design.channels
        else words("voltage behind its breaker or fuse, switched on; then at the device"),
        expected=words("the battery's voltage less the drop of the commissioning sheet, at both"),
        meaning=words(
            "Nothing at the output: tripped, not switched on, or its fuse blew. There, but not at the device: plug, joint or broken wire. At "
            "both: the device itself."
        ),
    )


def _trips(material: Material) -> Iterator[Symptom]:
    words, design = material.words, material.design
    close = sorted(
        (
            (
                max(one.low_a, one.high_a) / channel.limit_a,
                channel.number,
                channel,
                max(one.low_a, one.high_a),
            )
            for channel in design.channels
            for one in material.found.network.alone
            if one.node == channel.node and math.isfinite(one.low_a) and math.isfinite(one.high_a)
        ),
        key=lambda each: (-each[0], each[1]),
    )[:SHOWN_COUNT]
    if close:
        figures = "; ".join(
            words(
                "{name}: {taken}, limit {limit}",
                name=channel.name,
                taken=words.quantity(taken_a, "A"),
                limit=words.quantity(channel.limit_a, "A"),
            )
            for _, _, channel, taken_a in close
        )
        yield Symptom(
            symptom=words("an output trips again and again"),
            reading=words("current of that output, clamp on its lead"),
            expected=figures,
            meaning=words(
                "More than foretold: another load hangs on it, or its motor is stiff. As foretold: the limit is set lower than on the "
                "settings sheet. Trips at once: short in the lead. Do not raise the limit to make it hold."
            ),
        )


def _weak(words: Words, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    drops = sorted(
        (test for test in tests if test.kind == "voltage-drop" and test.expected is not None),
        key=lambda test: -(test.expected or 0.0),
    )[:SHOWN_COUNT]
    if drops:
        yield Symptom(
            symptom=words("lamps dim, refrigerator stops, device restarts under load"),
            reading=words(
                "drop from the battery's posts to the device's terminals, that load on: plus and minus together"
            ),
            expected="; ".join(
                words(
                    "{name}: {limit} at {current}",
                    name=test.subject,
                    limit=limit_of(words, test),
                    current=words.quantity(test.load_a or 0.0, "A"),
                )
                for test in drops
            ),
            meaning=words(
                "More: read across each joint and fuse on the way. All in one place, and it is warm: bad joint. Spread over the cable: feed too "
                "thin or longer than written. Drop good, but voltage low: the battery is low, see below."
            ),
        )


def _flat(words: Words, design: Design, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    off = test_of(tests, "standby-current")
    if off is not None:
        days = storage_days(design)
        stands = (
            words("{days:.0f} days from full", days=days) if math.isfinite(days) else words("no end in sight")
        )
        yield Symptom(
            symptom=words("battery flat after standing"),
            reading=words("current at the battery's minus post, everything off, after 15 minutes"),
            expected=words("{limit}; it then stands {stands}", limit=limit_of(words, off), stands=stands),
            meaning=words(
                "More: an uncounted drain. Take fuses out one by one until it ends: that circuit holds it. As foretold: it stood too long; open "
                "the isolator when storing."
            ),
        )
    yield Symptom(
        symptom=words("battery is empty sooner than it used to be"),
        reading=words("did chargers run? Then charge it full, draw a known load, count the hours"),
        expected=words(
            "{capacity} when new",
            capacity=words.quantity(
                design.battery_part().capacity_ah * design.parts[design.battery].strings, "Ah"
            ),
        ),
        meaning=words(
            "Never full: see charging. Full, but much less comes out: it has aged, or one string or cell is out. Use has grown: compare with "
            "the report."
        ),
    )


def _inverter(words: Words, design: Design, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    for placed, inverter in design.placed(Inverter):
        under_load = test_of(tests, "device-voltage", subject=placed.id)
        if under_load is None:
            continue
        setting = placed.setting
        stop_v = (
            setting.stop_v if setting is not None and setting.stop_v is not None else inverter.input_min_v
        )
        yield Symptom(
            symptom=words("{name} stops under load", name=placed.id),
            reading=words(
                "voltage on its DC terminals with {loads} on ({current})",
                loads=", ".join(under_load.switched_on),
                current=words.quantity(under_load.load_a or 0.0, "A"),
            ),
            expected=words(
                "{limit}; it stops below {stop}",
                limit=limit_of(words, under_load),
                stop=words.quantity(stop_v, "V"),
            ),
            meaning=words(
                "Falls at the terminals but not at the posts: joint or cable. Falls at both: battery low or cold. Holds: overload or heat; read its "
                "display. Its output is mains voltage: not yours."
            ),
        )

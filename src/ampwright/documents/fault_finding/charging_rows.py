"""Symptoms of charging, with this job's figures."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.fault_finding.load_rows import limit_of, test_of
from ampwright.documents.fault_finding.records import Symptom
from ampwright.documents.pack.records import Material
from ampwright.documents.words.words import Words
from ampwright.fieldwork.first_readings import first_readings
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.job.design import Design, DesignPart
from ampwright.job.supply import alternator_name, supply
from ampwright.parts.charger import AlternatorCharger, PanelController
from ampwright.parts.inverter import Inverter

__all__ = ["charging_rows"]


def charging_rows(material: Material, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    """Yield what can be wrong with charging."""
    words, design = material.words, material.design
    for placed, part in design.placed(AlternatorCharger):
        yield _never_starts(words, design, placed, part)
        yield from _weak(words, placed, tests)
    for placed, controller in design.placed(PanelController):
        yield from _sun(words, design, placed, controller)
    yield from _mains(words, tests)
    yield _cold(material)
    yield _not_full(material)


def _never_starts(words: Words, design: Design, placed: DesignPart, part: AlternatorCharger) -> Symptom:
    vehicle = supply(design, alternator_name(design, placed))
    setting = placed.setting
    start_v = setting.start_v if setting is not None and setting.start_v is not None else part.input_start_v
    stop_v = setting.stop_v if setting is not None and setting.stop_v is not None else part.input_stop_v
    is_regulated = vehicle.regulation == "regulated"
    regulated = (
        words(
            " This alternator is regulated: its voltage may fall to {low} and come back by itself; look again after ten minutes of road.",
            low=words.quantity(vehicle.alternator_low_v, "V"),
        )
        if is_regulated
        else ""
    )
    signal = words(" and the run signal live") if part.needs_run_signal else ""
    return Symptom(
        symptom=words("{name} never starts", name=placed.id),
        reading=words("engine running: voltage at {name}.in{signal}", name=placed.id, signal=signal),
        expected=words(
            "above {start} to start, {usual} usual; it locks out below {stop}",
            start=words.quantity(start_v, "V"),
            usual=words.quantity(vehicle.alternator_v, "V"),
            stop=words.quantity(stop_v, "V"),
        ),
        meaning=words(
            "Nothing there: fuse at the starter battery or joint. Good at the starter battery but low here: thin feed. Good here: run "
            "signal, setting, or a full battery.{regulated}",
            regulated=regulated,
        ),
    )


def _weak(words: Words, placed: DesignPart, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    road = test_of(tests, "charger-output", subject=placed.id, state="road")
    idle = test_of(tests, "charger-output", subject=placed.id, state="idle")
    into = test_of(tests, "charger-drop", subject=placed.id, name="in")
    if road is None:
        return
    at_idle = words("; idling {limit}", limit=limit_of(words, idle)) if idle is not None else ""
    feed = words("; feed {limit}", limit=limit_of(words, into)) if into is not None else ""
    yield Symptom(
        symptom=words("{name} charges weakly", name=placed.id),
        reading=words(
            "battery half empty, on the road: clamp on its output; then drop from the starter battery to {name}.in over the current there",
            name=placed.id,
        ),
        expected=words("{limit}{idle}{feed}", limit=limit_of(words, road), idle=at_idle, feed=feed),
        meaning=words(
            "Feed above: bad joint or thin feed. Feed good: hot charger (let it cool, look at its air), nearly full battery, or an output limit "
            "set too low. Weak at idle alone: the alternator has no more to spare."
        ),
    )


def _sun(words: Words, design: Design, placed: DesignPart, controller: PanelController) -> Iterator[Symptom]:
    opens = [
        reading
        for reading in first_readings(design)
        if reading.kind == "panel-open-circuit" and reading.at == f"{placed.id}.in"
    ]
    if not opens:
        return
    reading = opens[0]
    yield Symptom(
        symptom=words("no charge from the sun"),
        reading=words(
            "panels unplugged from {name}, daylight: open-circuit voltage on their cable", name=placed.id
        ),
        expected=words(
            "{low} to {high}; it needs {above} more than the battery",
            low=words.number(reading.low or 0.0),
            high=words.quantity(reading.high or 0.0, "V"),
            above=words.quantity(controller.start_above_battery_v, "V"),
        ),
        meaning=words(
            "Nothing: plug, cable or a panel. Much lower: a panel of the row is dead or swapped. Good: controller's fuse or breaker, or the battery is full, "
            "or its management refuses charge. Little in shade of a rack is usual."
        ),
    )


def _mains(words: Words, tests: tuple[PredictedTest, ...]) -> Iterator[Symptom]:
    for test in tests:
        if test.kind == "charger-output" and test.state == "hooked-up":
            yield Symptom(
                symptom=words("no charge when hooked up: {name}", name=test.subject),
                reading=words("current at its DC output, battery half empty"),
                expected=limit_of(words, test),
                meaning=words(
                    "Nothing: look at post, lead and the residual-current device in this order; one try to switch it on again, not two. If it "
                    "opens again: leads out, licensed electrician. Less: input limit set low, or hot."
                ),
            )


def _cold(material: Material) -> Symptom:
    words, design = material.words, material.design
    battery = design.battery_part()
    units = material.about.units
    least = words.quantity(battery.charge_min_degc, "°C", units=units)
    heater = (
        words(
            " Its heater ({power}) needs a charger that gives before it warms.",
            power=words.quantity(battery.heater_w, "W"),
        )
        if battery.heater_w > 0.0
        else ""
    )
    return Symptom(
        symptom=words("battery takes no charge on a cold morning"),
        reading=words("temperature of the cells or of the battery's case; chargers on but 0 A"),
        expected=words("{least} or more to be charged", least=least),
        meaning=words(
            "Colder: it refuses to protect itself; that is no fault. Warm its space, drive, wait. Do not bridge its management.{heater}",
            heater=heater,
        )
        if battery.chemistry == "lfp"
        else words(
            "Colder: an empty lead-acid battery may freeze. Warm it before charging; never charge a frozen one."
        ),
    )


def _not_full(material: Material) -> Symptom:
    words, design = material.words, material.design
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    set_v = [
        placed.setting.charge_v
        for placed in design.parts
        if placed.setting is not None
        and placed.setting.charge_v is not None
        and not (isinstance(placed.part, Inverter) and placed.part.charger_max_a == 0.0)
    ]
    charge_v = max(set_v, default=battery.charge_v * series)
    return Symptom(
        symptom=words("battery is never full"),
        reading=words("voltage on its posts late in the charge"),
        expected=words(
            "{volts} reached and held until the current falls", volts=words.quantity(charge_v, "V")
        ),
        meaning=words(
            "Never reached: not enough hours or sun, or a load eats it. Reached at the charger but not at the posts: joint between. Another charger stops "
            "first: its voltages are set differently."
        ),
    )

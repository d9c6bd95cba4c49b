"""Rule on the mains frequency: 50 Hz and 60 Hz devices on the other supply.

What follows the frequency is a motor, a compressor, a transformer or a clock. Electronic supplies take both.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ampwright.assessment.mains_side import (
    NO_OVERRIDE,
    MainsSide,
    is_handed_over,
    mains_finding,
    mains_side,
    open_questions,
)
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.consumer import Load
from ampwright.job.design import Design
from ampwright.parts.charger import MainsCharger
from ampwright.parts.inverter import Inverter
from ampwright.said import all_of, capital, said, said_together
from ampwright.sources import Source

__all__ = ["MAINS_FREQUENCY"]

PLATE = Source(document="job file", place="load.mains_hz")
SLOW = said(
    "A 60 Hz motor turns a sixth slower on 50 Hz, and its iron carries a fifth more flux at "
    "the same voltage: it runs hot."
)
FAST = said(
    "A 50 Hz motor turns a fifth faster on 60 Hz: pumps and compressors ask more power and may overload it."
)
"""Synchronous speed is 120 f / poles, flux is in proportion to voltage over frequency (textbook form)."""


def _mains_frequency(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    supplies = _supplies_hz(design, side)
    if side.has_supply:
        for charger in side.chargers:
            yield _part_finding(charger.placed.id, charger.placed.part, supplies)
    charging = {charger.placed.id for charger in side.chargers} if side.has_supply else set()
    for placed, inverter in side.inverters:
        if placed.id not in charging:
            region: dict[str, float] = {
                said(
                    "appliances of the region are for {mains_hz:g} Hz", mains_hz=design.region.mains_hz
                ): design.region.mains_hz
            }
            yield _part_finding(placed.id, inverter, region)
    yield from _loads(design, side, supplies)


def _supplies_hz(design: Design, side: MainsSide) -> dict[str, float]:
    """Return what each supply gives, by words that say so; the region's where nothing is said."""
    usual_hz = design.region.mains_hz
    told = [(each.name or each.kind, each.nominal_hz or usual_hz) for each in side.said.supply]
    return {
        said("{name} gives {hz:g} Hz", name=name, hz=hz): hz
        for name, hz in told or [(said("the post"), usual_hz)]
    }


def _part_finding(name: str, part: object, wanted: Mapping[str, float]) -> Finding:
    """Return whether a charger or inverter is built for every frequency it meets."""
    make = mains_finding("mains-frequency", name)
    if not isinstance(part, MainsCharger | Inverter):
        return open_questions(make, [said("mains frequencies of {name}", name=name)])
    able = part.input_hz if isinstance(part, MainsCharger) else part.output_hz
    if not able:
        return open_questions(make, [said("mains frequencies on the plate of {name}", name=name)])
    wrong = [words for words, hz in wanted.items() if hz not in able]
    is_choice = len(able) > 1 and isinstance(part, Inverter) and not wrong
    built = all_of(said("{hz} Hz", hz=hz) for hz in able)
    return make(
        severity=Severity.CONDITION if wrong else Severity.PASS,
        message=said(
            "{name} is for {built}; {wrong}.", name=name, built=built, wrong=(wrong or list(wanted))[0]
        )
        + (said(" Set it to that.") if is_choice else ""),
        value=float(able[0]) if wrong else None,
        limit=wanted[wrong[0]] if wrong else None,
        unit="Hz" if wrong else "",
        at_most=bool(wrong) and able[0] > wanted[wrong[0]],
        source=part_source(part),
        way_out=said("Do not connect it there; use a part for the frequency of the place.") if wrong else "",
    )


def _loads(design: Design, side: MainsSide, supplies: dict[str, float]) -> Iterator[Finding]:
    """Yield a finding for each AC load whose plate is said, and one for those that meet another frequency unsaid."""
    written = {load.id: load for load in design.job.load}
    unsaid: list[str] = []
    foreign: list[str] = []
    for load in design.loads:
        if load.inverter < 0 or load.id not in written:
            continue
        met = _met_hz(design, side, load.inverter, supplies)
        if written[load.id].mains_hz:
            yield _load_finding(written[load.id], met)
        elif other := [words for words, hz in met.items() if hz != design.region.mains_hz]:
            unsaid.append(load.id)
            foreign += other
    if unsaid:
        yield mains_finding("mains-frequency", design.job.job.id)(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{foreign}, and it is not said what {unsaid} are built for.",
                foreign=capital(foreign[0]),
                unsaid=said_together(unsaid, between=", "),
            ),
            way_out=said(
                "Read their plates: mains_hz, and has_motor where a motor, compressor or clock is inside."
            ),
        )


def _met_hz(design: Design, side: MainsSide, inverter: int, supplies: dict[str, float]) -> dict[str, float]:
    """Return the frequencies a load behind an inverter meets: the inverter's, and the supply's where handed over."""
    placed = design.parts[inverter]
    usual_hz = design.region.mains_hz
    met: dict[str, float] = {}
    if isinstance(placed.part, Inverter) and placed.part.output_hz:
        able = placed.part.output_hz
        own_hz = usual_hz if usual_hz in able else able[0]
        met[said("{part} gives {own_hz:g} Hz", part=placed.id, own_hz=own_hz)] = own_hz
    if side.has_supply and is_handed_over(design, inverter):
        met.update(supplies)
    return met


def _load_finding(load: Load, met: dict[str, float]) -> Finding:
    make = mains_finding("mains-frequency", load.id)
    wrong = [words for words, hz in met.items() if hz not in load.mains_hz]
    plate = all_of(said("{hz} Hz", hz=hz) for hz in load.mains_hz)
    if not wrong:
        given = said("; {next}", next=next(iter(met))) if met else ""
        return make(
            severity=Severity.PASS,
            message=said("{load} is for {plate}{given}.", load=load.id, plate=plate, given=given),
            source=PLATE,
        )
    effect = SLOW if met[wrong[0]] < min(load.mains_hz) else FAST
    is_electronic = load.has_motor is False
    told = (
        said(" It has no motor or transformer: electronics usually take both.")
        if is_electronic
        else said(" {effect}", effect=effect)
    )
    if load.has_motor is None:
        told = said(" Whether it has a motor is not said. {effect}", effect=effect)
    return make(
        severity=Severity.ADVICE if is_electronic else Severity.CONDITION,
        message=said(
            "{load} is for {plate}; {wrong}.{told}", load=load.id, plate=plate, wrong=wrong[0], told=told
        ),
        value=met[wrong[0]],
        limit=float(load.mains_hz[0]),
        unit="Hz",
        at_most=met[wrong[0]] > load.mains_hz[0],
        source=PLATE,
        way_out=said("Run it only from a source of its own frequency, or take one for both."),
    )


MAINS_FREQUENCY = Rule(
    name="mains-frequency",
    group=Group.WIRING,
    asks="Are chargers, inverters and appliances made for the frequency they meet?",
    check=_mains_frequency,
    no_override=NO_OVERRIDE,
)

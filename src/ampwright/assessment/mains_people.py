"""Rules on what keeps people alive at the mains side: residual-current device, earth, poles switched."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.mains_side import NO_OVERRIDE, MainsSide, mains_finding, mains_side, open_questions
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.mains import Mains, ResidualCurrent
from ampwright.said import all_of, said
from ampwright.sources import Source
from ampwright.standards.mains_supply import (
    BOND_SOURCE,
    RESIDUAL_TYPE_SOURCE,
    bond_area_mm2,
)

__all__ = ["EARTH_CONTINUITY", "POLES_SWITCHED", "RESIDUAL_CURRENT_DEVICE"]

WIRING = Group.WIRING
POLES_SOURCE = Source(
    document="IEC 60364-7-721",
    place="main isolating switch, all live conductors",
    standing="second hand",
)


def _residual_current_device(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    if side.has_supply:
        yield _residual_of(design, side, "inlet", said("the inlet"))
    if side.has_fixed_inverter:
        yield _residual_of(design, side, "inverter", said("the inverter's output"))


def _residual_of(design: Design, side: MainsSide, covers: str, where: str) -> Finding:
    subject = side.inverters[0][0].id if covers == "inverter" else _supply_subject(side)
    make = mains_finding("residual-current-device", subject)
    devices = [device for device in side.said.residual_current if device.covers in {covers, "both"}]
    if not devices and side.said.is_complete:
        return make(
            severity=Severity.FAIL,
            message=said("No residual-current device stands behind {where}.", where=where),
            way_out=said("Have one fitted by a licensed electrician."),
        )
    if not devices:
        return open_questions(
            make, [said("which residual-current device stands behind {where}", where=where)]
        )
    best = min(devices, key=_sensitivity)
    return _rated(design, make, best, where) or _typed(side, make, best, where)


def _sensitivity(device: ResidualCurrent) -> float:
    return device.residual_a if device.residual_a is not None else 1e9


def _rated(design: Design, make: partial[Finding], device: ResidualCurrent, where: str) -> Finding | None:
    most_a = design.region.residual_current_a
    if device.residual_a is None:
        return open_questions(
            make, [said("the rated residual current of the device behind {where}", where=where)]
        )
    if device.residual_a <= most_a * (1.0 + 1e-9):
        return None
    return make(
        severity=Severity.FAIL,
        message=said(
            "The residual-current device behind {where} opens at {residual_a:.0f} mA; people are "
            "protected by {most_a:.0f} mA or less.",
            where=where,
            residual_a=1000 * device.residual_a,
            most_a=1000 * most_a,
        ),
        value=1000 * device.residual_a,
        limit=1000 * most_a,
        unit="mA",
        source=design.region.source("residual_current_a"),
        way_out=said("Have it changed by a licensed electrician."),
    )


def _typed(side: MainsSide, make: partial[Finding], device: ResidualCurrent, where: str) -> Finding:
    if device.type is None:
        return open_questions(
            make, [said("the type (A, F, B) of the residual-current device behind {where}", where=where)]
        )
    is_blind = device.type == "AC" and bool(side.chargers or side.inverters)
    rated = said("{residual_a:.0f} mA", residual_a=1000 * (device.residual_a or 0.0))
    return make(
        severity=Severity.CONDITION if is_blind else Severity.PASS,
        message=said(
            "Behind {where}: residual-current device {rated}, type {type}.",
            where=where,
            rated=rated,
            type=device.type,
        )
        + (
            said(" Chargers and inverters make direct current, which can blind this type.")
            if is_blind
            else ""
        ),
        source=RESIDUAL_TYPE_SOURCE,
        way_out=said("Ask the licensed electrician for type A or better, by the charger's data sheet.")
        if is_blind
        else "",
    )


def _supply_subject(side: MainsSide) -> str:
    if side.inlets:
        return side.inlets[0][0].id
    return side.chargers[0].placed.id if side.chargers else said("mains")


def _earth_continuity(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not (side.has_supply or side.has_fixed_inverter):
        return
    make = mains_finding("earth-continuity", _supply_subject(side))
    earth, lead = side.said.earth, side.said.lead
    bonded = earth.is_bonded if earth else None
    through = lead.has_earth if lead else None
    if bonded is False or through is False:
        what = (
            said("the earth of the mains side is not joined to the chassis")
            if bonded is False
            else said("the lead has no earth")
        )
        yield make(
            severity=Severity.FAIL,
            message=said("By the job, {what}: metal that becomes live stays live.", what=what),
            source=BOND_SOURCE,
            way_out=said("Do not connect it. Have it mended and measured by a licensed electrician."),
        )
        return
    area_mm2 = earth.area_mm2 if earth else None
    asked = [
        question
        for question, answer in (
            (said("whether the mains earth is joined to the chassis"), bonded),
            (said("the area of that conductor"), area_mm2),
            (said("whether the lead's earth goes through, measured"), through if side.inlets else True),
        )
        if answer is None
    ]
    if asked:
        yield open_questions(make, asked)
        return
    least_mm2 = bond_area_mm2(design.job.job.region)
    is_thin = (area_mm2 or 0.0) < 0.99 * least_mm2
    yield make(
        severity=Severity.CONDITION if is_thin else Severity.PASS,
        message=said(
            "The mains earth is joined to the chassis with {area_mm2:g} mm²; usual is {least_mm2:g} "
            "mm² or more.",
            area_mm2=area_mm2,
            least_mm2=least_mm2,
        ),
        value=area_mm2,
        limit=least_mm2,
        unit="mm²",
        at_most=False,
        source=BOND_SOURCE,
        way_out=said("Ask the licensed electrician.") if is_thin else "",
    )


def _poles_switched(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.has_supply or not side.inlets:
        return
    make = mains_finding("poles-switched", _supply_subject(side))
    if design.job.job.region == "us-ca" and not _is_shared(side):
        yield make(
            severity=Severity.PASS,
            message=said(
                "The lead's plug is the disconnect of all conductors; a licensed electrician decides on "
                "a main switch."
            ),
        )
        return
    asked = _pole_questions(design, side.said, is_shared=_is_shared(side))
    wrong = _pole_faults(design, side.said, is_shared=_is_shared(side))
    if wrong:
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{wrong}. Which conductor of a foreign socket is live is not sure.", wrong=all_of(wrong)
            ),
            source=POLES_SOURCE,
            way_out=said("Ask the licensed electrician for switching of line and neutral."),
        )
    elif asked:
        yield open_questions(make, asked)
    else:
        yield make(
            severity=Severity.PASS,
            message=said("Line and neutral are switched together."),
            source=POLES_SOURCE,
        )


def _is_shared(side: MainsSide) -> bool:
    """Tell whether inlet and inverter may reach the same outlets."""
    transfer = side.said.transfer
    return side.has_fixed_inverter and not (transfer and transfer.kind in {"plug", "separate-outlets"})


def _pole_questions(design: Design, told: Mains, *, is_shared: bool) -> list[str]:
    asked: list[str] = []
    if design.job.job.region != "us-ca" and told.main_switch_pole_count is None:
        asked.append(said("how many poles the main switch opens"))
    if is_shared and (told.transfer is None or told.transfer.switches_neutral is None):
        asked.append(said("whether the transfer switches the neutral too"))
    return asked


def _pole_faults(design: Design, told: Mains, *, is_shared: bool) -> list[str]:
    wrong: list[str] = []
    if design.job.job.region != "us-ca" and told.main_switch_pole_count == 1:
        wrong.append(said("The main switch opens one pole only"))
    if is_shared and told.transfer is not None and told.transfer.switches_neutral is False:
        wrong.append(
            said("the transfer leaves the neutral joined")
            if wrong
            else said("The transfer leaves the neutral joined")
        )
    return wrong


RESIDUAL_CURRENT_DEVICE = Rule(
    name="residual-current-device",
    group=WIRING,
    asks="Is there a residual-current device that protects people, of a type that fits, behind each source?",
    check=_residual_current_device,
    no_override=NO_OVERRIDE,
)
EARTH_CONTINUITY = Rule(
    name="earth-continuity",
    group=WIRING,
    asks="Is the earth of the mains side joined to the vehicle's metal and to the supply?",
    check=_earth_continuity,
    no_override=NO_OVERRIDE,
)
POLES_SWITCHED = Rule(
    name="poles-switched",
    group=WIRING,
    asks="Are line and neutral switched together?",
    check=_poles_switched,
    no_override=NO_OVERRIDE,
)

"""What is on the mains side of a design, the words its rules share, and the rule that asks for a description.

Checks and instructions only: whatever cannot be decided by figures is handed to a licensed electrician.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.energy.mains import has_transfer
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.mains import Mains
from ampwright.job.quantity import Amount, likely_value
from ampwright.network.loads import load_sets
from ampwright.parts.charger import MainsCharger
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.records import record
from ampwright.said import said, said_together

__all__ = [
    "MAINS_DESCRIBED",
    "NO_OVERRIDE",
    "MainsCharge",
    "MainsSide",
    "has_mains",
    "is_handed_over",
    "mains_chargers",
    "mains_finding",
    "mains_load_by_inverter_va",
    "mains_load_va",
    "mains_side",
    "number",
    "open_questions",
]

NO_OVERRIDE = said("It is answered by a licensed electrician, not by a sentence in a job file.")
"""Why no finding of the mains side is overridden."""
ASK = said("Ask the licensed electrician, and write the answers under [mains].")


@record
class MainsCharge:
    """A charger fed from the mains."""

    placed: DesignPart
    """The charger, or the inverter it is built into."""
    mains_v: float
    """Nominal mains voltage."""
    input_w: float
    """Largest power it takes, as set."""
    current_a: float
    """Largest current it takes at unity power factor, as set."""
    power_factor: float
    """Power factor of its input; 0 = not stated."""


@record
class MainsSide:
    """What touches mains voltage in a design."""

    said: Mains
    """What the job says of it."""
    inlets: tuple[tuple[DesignPart, Inlet], ...]
    """Inlets."""
    chargers: tuple[MainsCharge, ...]
    """Chargers fed from the mains."""
    inverters: tuple[tuple[DesignPart, Inverter], ...]
    """Inverters."""
    outlets: tuple[tuple[DesignPart, Outlet], ...]
    """Mains outlets."""

    @property
    def has_supply(self) -> bool:
        """True where a supply from outside is connected."""
        return bool(self.inlets or self.chargers or self.said.supply)

    @property
    def has_fixed_inverter(self) -> bool:
        """True where an inverter feeds fixed wiring, or nobody said that it does not."""
        is_fixed = self.said.inverter_wiring != "own-socket" or bool(self.outlets)
        return bool(self.inverters) and is_fixed


def mains_side(design: Design) -> MainsSide | None:
    """Return the mains side as far as it is described; None where there is none or nothing is said of it."""
    return None if design.job.mains is None or not has_mains(design) else _side(design, design.job.mains)


def _side(design: Design, told: Mains) -> MainsSide:
    outlets = tuple((placed, outlet) for placed, outlet in design.placed(Outlet) if outlet.supply == "ac")
    return MainsSide(
        said=told,
        inlets=design.placed(Inlet),
        chargers=mains_chargers(design),
        inverters=design.placed(Inverter),
        outlets=outlets,
    )


def has_mains(design: Design) -> bool:
    """Tell whether a part touches mains voltage, or a supply is described."""
    side = _side(design, design.job.mains or Mains())
    return bool(side.inlets or side.chargers or side.inverters or side.outlets or side.said.supply)


def mains_chargers(design: Design) -> tuple[MainsCharge, ...]:
    """Return every charger fed from the mains with what it takes at most, as set."""
    found: list[MainsCharge] = []
    for placed in design.parts:
        part, setting = placed.part, placed.setting
        if isinstance(part, MainsCharger):
            mains_v, most_w, efficiency = part.input_ac_v, part.input_max_w, part.efficiency_frac
            factor = part.power_factor
        elif isinstance(part, Inverter) and part.charger_max_a > 0.0:
            mains_v, most_w, efficiency = part.output_ac_v, part.charger_input_max_w, part.efficiency_100_frac
            factor = part.charger_power_factor
        else:
            continue
        if setting and setting.output_limit_a:
            most_w = min(most_w, setting.output_limit_a * (setting.charge_v or part.charge_v) / efficiency)
        if setting and setting.input_limit_a:
            most_w = min(most_w, setting.input_limit_a * mains_v)
        found.append(
            MainsCharge(
                placed=placed,
                mains_v=mains_v,
                input_w=most_w,
                current_a=most_w / mains_v,
                power_factor=factor,
            )
        )
    return tuple(found)


def mains_load_va(design: Design) -> float:
    """Return the most volt-amperes that inverters hand over to the mains while hooked up, at their peaks."""
    return max(
        (
            sum(_handed_va(design, index) for index in one.loads)
            for one in load_sets(design, states=("hooked-up",))
        ),
        default=0.0,
    )


def is_handed_over(design: Design, inverter: int) -> bool:
    """Tell whether the loads of an inverter go to the mains while hooked up: by itself, by a switch or by a plug."""
    mains = design.job.mains
    transfer = mains.transfer if mains is not None else None
    is_moved = transfer is not None and transfer.kind in {"in-inverter", "switch", "plug"}
    return inverter >= 0 and (is_moved or has_transfer(design, inverter))


def _handed_va(design: Design, index: int) -> float:
    load = design.loads[index]
    return load.peak_w / load.power_factor if is_handed_over(design, load.inverter) else 0.0


def mains_load_by_inverter_va(design: Design) -> dict[str, float]:
    """Return the most volt-amperes each inverter hands over to the mains while hooked up, by its id."""
    most: dict[str, float] = {}
    for one in load_sets(design, states=("hooked-up",)):
        now: dict[str, float] = {}
        for index in one.loads:
            load = design.loads[index]
            if is_handed_over(design, load.inverter):
                name = design.parts[load.inverter].id
                now[name] = now.get(name, 0.0) + _handed_va(design, index)
        most = {name: max(most.get(name, 0.0), now.get(name, 0.0)) for name in {*most, *now}}
    return most


def number(amount: Amount | None) -> float | None:
    """Return the number an amount stands for here; None where nothing is said."""
    return None if amount is None else likely_value(amount)


def mains_finding(rule: str, subject: str) -> partial[Finding]:
    """Return a finding of the mains side to be filled in."""
    return partial(Finding, rule=rule, group=Group.WIRING, subject=subject)


def open_questions(make: partial[Finding], questions: Sequence[str]) -> Finding:
    """Return one finding for everything a rule would have to know."""
    return make(
        severity=Severity.NOT_CHECKED,
        message=said("Not said: ") + said_together(questions, between="; ") + ".",
        way_out=ASK,
    )


def _described(design: Design, _: Studies) -> Iterator[Finding]:
    if not has_mains(design):
        return
    make = mains_finding("mains-described", design.job.job.id)
    if design.job.mains is None:
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "Nothing is said of the mains side: residual-current device, neutral-earth link, "
                "transfer, lead, earth, certificate."
            ),
            way_out=said(
                "Write what is known under [mains], and have a licensed electrician check the mains side."
            ),
        )
        return
    by = said(" ({work_by})", work_by=design.job.mains.work_by) if design.job.mains.work_by else ""
    yield make(
        severity=Severity.PASS,
        message=said("The mains side is described; a licensed electrician{by} decides on it.", by=by),
    )


MAINS_DESCRIBED = Rule(
    name="mains-described",
    group=Group.WIRING,
    asks="Is it said what the mains side consists of?",
    check=_described,
    no_override=NO_OVERRIDE,
)

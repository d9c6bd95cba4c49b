"""Run every study once, apply every rule, fold the findings into two verdicts."""

from __future__ import annotations

import datetime as dt

from ampwright.assessment.added_mass import added_mass
from ampwright.assessment.circuits import circuits
from ampwright.assessment.fold import by_weight, rule_count, use_verdict, wiring_verdict
from ampwright.assessment.overrides import overridden
from ampwright.assessment.result import Assessment
from ampwright.assessment.rule import Studies
from ampwright.assessment.rules import RULES
from ampwright.assessment.run_out import run_out
from ampwright.climate.series import SunSeries
from ampwright.energy.result import EnergyResult
from ampwright.energy.simulate import energy_result
from ampwright.findings import Group
from ampwright.job.design import Design
from ampwright.network.box_air import box_air, warmed
from ampwright.network.heat import enclosure_heat
from ampwright.network.solve import network_result
from ampwright.switching.plan import switch_plan

__all__ = ["assess", "studies_of"]


def studies_of(
    design: Design, sun: SunSeries, *, on: dt.date | None = None, energy: EnergyResult | None = None
) -> tuple[Design, Studies]:
    """Return the design warmed by its enclosures, and every study of it, each made once.

    Parameters
    ----------
    on : day on which overrides must be in force; the job's date where none is given
    energy : of a neighbouring design, for rules that ask nothing of it; reckoned where none is given
    """
    network = network_result(warmed(design, enclosure_heat(design)))
    heat = enclosure_heat(
        design, network.peak_a
    )  # protective devices too; their kelvins hardly change a voltage
    warm = warmed(design, heat)
    studies = Studies(
        network=network,
        energy=energy
        or energy_result(warm, sun, path_ohm=network.path_ohm, box_air=box_air(warm, network.peak_a)),
        switching=switch_plan(warm),
        circuits=circuits(warm, network),
        heat=heat,
        on=on or design.job.job.date,
    )
    return warm, studies


def assess(design: Design, sun: SunSeries, *, on: dt.date | None = None) -> Assessment:
    """Return everything found about a design.

    Parameters
    ----------
    sun : sun and air; one typical day, or all days of the use
    on : day on which overrides must be in force; the job's date where none is given
    """
    warm, studies = studies_of(design, sun, on=on)
    found = [finding for rule in RULES for finding in rule.check(warm, studies)]
    findings = by_weight(overridden(found, design.job.override, on=studies.on, rules=RULES))
    return Assessment(
        design=warm,
        network=studies.network,
        energy=studies.energy,
        findings=findings,
        use_verdict=use_verdict(findings),
        wiring_verdict=wiring_verdict(findings),
        use_rules=rule_count(findings, Group.USE),
        wiring_rules=rule_count(findings, Group.WIRING),
        run_out=run_out(warm, studies.energy),
        mass=added_mass(design),
        on=studies.on,
    )

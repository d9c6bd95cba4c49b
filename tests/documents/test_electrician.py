"""The list for the licensed electrician gathers what the mains rules found, and nothing else."""

import dataclasses

from answers import answer, finding

from ampwright.documents.electrician import ALWAYS, electrician_list
from ampwright.findings import Severity
from ampwright.job.mains import Certificate, Mains, MainsSupply, ResidualCurrent
from ampwright.parts.catalogue import shipped_catalogue


def _assessment(*findings, mains=None, without=()):
    given = answer().assessment
    design = dataclasses.replace(
        given.design,
        job=dataclasses.replace(given.design.job, mains=mains),
        parts=tuple(part for part in given.design.parts if part.id not in without),
    )
    return dataclasses.replace(given, design=design, findings=findings)


def test_points_are_the_findings_of_the_mains_side_and_one_that_always_stands():
    told = electrician_list(
        _assessment(
            finding(rule="earth-continuity", message="No bond.", way_out="Mend it.", severity=Severity.FAIL),
            finding(rule="mains-voltage", severity=Severity.PASS),
            finding(rule="cable-capacity", severity=Severity.FAIL),
            finding(rule="outlet-rating", subject="usb", severity=Severity.FAIL),
        )
    )
    assert told.points == ("No bond. Mend it.", ALWAYS)


def test_facts_name_what_is_fitted_and_said():
    mains = Mains(
        supply=(
            MainsSupply(kind="generator", rating_va=2000.0),
            MainsSupply(name="post", kind="site", rating_a=16.0),
        ),
        residual_current=(
            ResidualCurrent(covers="both", residual_a=0.03, type="A"),
            ResidualCurrent(covers="inlet"),
        ),
        certificate=Certificate(serial="T-1"),
    )
    facts = electrician_list(_assessment(mains=mains)).facts
    assert facts == (
        "inverter: inverter 600 VA, 230 V",
        "generator: generator, 2000 VA",
        "post: site, 16 A",
        "residual-current device, inlet and inverter: 30 mA, type A",
        "residual-current device, inlet: rating not said, type not said",
        "certificate T-1",
    )


def test_fitted_parts_of_every_kind_are_facts():
    given = _assessment()
    catalogue = shipped_catalogue()
    kinds = {"plug-in": "inlet-230v-16", "socket": "outlet-230v-10", "combi": "invchg-1600"}
    parts = tuple(
        dataclasses.replace(given.design.parts[0], id=name, part=catalogue.find(part), setting=None)
        for name, part in kinds.items()
    )
    design = dataclasses.replace(given.design, parts=parts)
    facts = electrician_list(dataclasses.replace(given, design=design)).facts
    assert facts == (
        "plug-in: inlet 250 V, 16 A",
        "combi: inverter 2000 VA, 230 V, transfer in 20 ms",
        "combi: charger, up to 1200 W from 230 V",
        "mains outlets: socket 10 A",
    )


def test_without_mains_there_is_no_list():
    assert electrician_list(_assessment(without=("inverter",))) is None

"""Rules of the mains side beyond the planted faults: what is not said is asked for, and figures worked by hand."""

from __future__ import annotations

from typing import Any

import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.mains_lead import MAINS_LEAD, MAINS_LEAD_DROP, MAINS_PLUGS
from ampwright.assessment.mains_people import EARTH_CONTINUITY, POLES_SWITCHED, RESIDUAL_CURRENT_DEVICE
from ampwright.assessment.mains_side import MAINS_DESCRIBED
from ampwright.assessment.mains_sources import (
    INVERTER_OUTPUT_DEVICE,
    MAINS_CERTIFICATE,
    NEUTRAL_EARTH_LINK,
    SUPPLY_TRANSFER,
)
from ampwright.assessment.mains_supply import GENERATOR_SIZE, MAINS_LOOP, MAINS_VOLTAGE
from ampwright.assessment.rule import Rule
from ampwright.assessment.rules import MAINS_RULES
from ampwright.findings import Finding, Severity

GENERATOR = {"name": "generator", "kind": "generator", "rating_va": 2000, "is_neutral_linked": True}


def _with(rule: Rule, subject: str | None = None, **change: Any) -> list[Finding]:
    edits = {f"mains/{key}": value for key, value in change.items()}
    return of_rule(studied("base-mains", change=edits), rule, subject)


def _one(rule: Rule, subject: str | None = None, **change: Any) -> Finding:
    (finding,) = _with(rule, subject, **change)
    return finding


def test_without_anything_said_one_rule_speaks_for_all() -> None:
    found = studied("base-mains", remove=["mains"])
    said = {rule.name: of_rule(found, rule) for rule in MAINS_RULES}
    assert [f.severity for f in said.pop("mains-described")] == [Severity.NOT_CHECKED]
    assert not any(said.values())
    assert found.wiring_verdict == "not fully checked"


def test_empty_description_asks_every_question_and_passes_nothing_unseen() -> None:
    found = studied("base-mains", change={"mains": {}})
    by_rule = {rule.name: {f.severity for f in of_rule(found, rule)} for rule in MAINS_RULES}
    silent = {"mains-loop", "mains-legs", "generator-size", "generator-start"}
    figures_alone = {"mains-described", "mains-voltage", "mains-frequency", "mains-certificate", *silent}
    assert all(
        severities == {Severity.NOT_CHECKED}
        for name, severities in by_rule.items()
        if name not in figures_alone
    )
    assert by_rule["mains-certificate"] == {Severity.ADVICE}
    assert not any(by_rule[name] for name in silent)


def test_a_job_without_mains_has_no_mains_side() -> None:
    found = base("base-module")
    assert not any(of_rule(found, rule) for rule in MAINS_RULES)
    described = studied("base-module", change={"mains": {}})
    assert not any(of_rule(described, rule) for rule in MAINS_RULES)


def test_inverter_with_its_own_sockets_needs_no_fixed_protection() -> None:
    found = base("base-12v")
    spoken = {rule.name for rule in MAINS_RULES if of_rule(found, rule)}
    assert spoken == {"mains-described", "mains-voltage", "mains-frequency"}


@pytest.mark.parametrize(
    ("device", "asked"),
    [
        ({"covers": "both"}, "rated residual current"),
        ({"covers": "both", "residual_a": 0.03}, "type (A, F, B)"),
    ],
)
def test_residual_current_device_half_described(device: dict[str, Any], asked: str) -> None:
    found = _with(RESIDUAL_CURRENT_DEVICE, residual_current=[device])
    assert {f.severity for f in found} == {Severity.NOT_CHECKED}
    assert all(asked in f.message for f in found)


def test_most_sensitive_of_several_devices_counts() -> None:
    two = [
        {"covers": "both", "residual_a": 0.1, "type": "A"},
        {"covers": "both", "residual_a": 0.03, "type": "B"},
    ]
    assert {f.severity for f in _with(RESIDUAL_CURRENT_DEVICE, residual_current=two)} == {Severity.PASS}


def test_lead_without_earth_fails_whatever_the_bond() -> None:
    found = studied("base-mains", change={"mains/lead/has_earth": False})
    (finding,) = of_rule(found, EARTH_CONTINUITY)
    assert finding.severity == Severity.FAIL
    assert "lead has no earth" in finding.message


def test_transfer_of_every_kind() -> None:
    assert _one(SUPPLY_TRANSFER, transfer={"kind": "plug"}).severity == Severity.PASS
    assert _one(SUPPLY_TRANSFER, transfer={"kind": "switch"}).severity == Severity.NOT_CHECKED
    assert _one(SUPPLY_TRANSFER, transfer={"breaks_first": True}).severity == Severity.NOT_CHECKED


def test_link_opened_by_hand_or_not_made() -> None:
    by_hand = {"is_made_on_inverter": True, "is_open_on_site": True, "opened_by": "hand"}
    assert _one(NEUTRAL_EARTH_LINK, neutral_link=by_hand).severity == Severity.CONDITION
    none = _one(NEUTRAL_EARTH_LINK, neutral_link={"is_made_on_inverter": False, "is_open_on_site": True})
    assert none.severity == Severity.CONDITION
    assert "may not open" in none.message
    asked = _one(NEUTRAL_EARTH_LINK, neutral_link={"is_made_on_inverter": True})
    assert "whether that link opens" in asked.message
    unknown = _one(NEUTRAL_EARTH_LINK, "genset", supply=[{"name": "genset", "kind": "generator"}])
    assert unknown.severity == Severity.NOT_CHECKED


def test_poles_of_switch_and_transfer() -> None:
    wrong = {"kind": "switch", "breaks_first": True, "switches_neutral": False}
    assert "leaves the neutral" in _one(POLES_SWITCHED, transfer=wrong).message
    both = _one(POLES_SWITCHED, transfer=wrong, main_switch_pole_count=1)
    assert both.message.startswith("The main switch opens one pole only and the transfer")
    assert _one(POLES_SWITCHED, transfer={"kind": "plug"}).severity == Severity.PASS
    american = studied("base-mains", change={"job/region": "us-ca", "mains/transfer": {"kind": "plug"}})
    assert [f.severity for f in of_rule(american, POLES_SWITCHED)] == [Severity.PASS]


def test_output_device_says_that_a_magnet_cannot_trip() -> None:
    # surge 1200 W / 230 V = 5.2 A, type C of 16 A wants 160 A
    assert "ended by the inverter itself" in _one(INVERTER_OUTPUT_DEVICE).message
    # a type B of 1 A wants 5 A
    small = _one(INVERTER_OUTPUT_DEVICE, overcurrent=[{"covers": "both", "rating_a": 1, "breaker": "B"}])
    assert "ended by" not in small.message
    unrated = _one(INVERTER_OUTPUT_DEVICE, overcurrent=[{"covers": "inverter"}])
    assert unrated.severity == Severity.NOT_CHECKED
    none = _one(INVERTER_OUTPUT_DEVICE, overcurrent=[])
    assert none.severity == Severity.PASS
    assert none.value == pytest.approx(750.0 / 230.0)


def test_output_device_without_outlets_is_asked() -> None:
    found = studied("base-mains", remove=["part/socket-1", "part/socket-2"])
    (finding,) = of_rule(found, INVERTER_OUTPUT_DEVICE)
    assert finding.severity == Severity.NOT_CHECKED
    assert "which outlets" in finding.message


def test_voltage_of_outlets_on_their_own_is_the_inverters() -> None:
    found = _with(MAINS_VOLTAGE, transfer={"kind": "separate-outlets"})
    assert {f.subject for f in found} == {"mains-charger", "inlet", "socket-1", "socket-2"}
    american = studied("base-mains", change={"job/region": "us-ca", "mains/supply": []})
    wrong = {f.subject for f in of_rule(american, MAINS_VOLTAGE) if f.severity == Severity.FAIL}
    assert wrong == {"mains-charger", "inverter"}
    inlet = _one(MAINS_VOLTAGE, "inlet", supply=[{"kind": "site", "nominal_v": 400}])
    assert inlet.severity == Severity.FAIL


def test_plug_into_another_inlet_and_through_a_smaller_connector() -> None:
    base_lead = {"length_m": 25, "area_mm2": 2.5, "has_earth": True}
    other = _one(MAINS_PLUGS, lead={**base_lead, "plug": "iec-60309-16", "connector": "cee-7"})
    assert other.message == "A 16 A two-pin plug with earth does not go on an inlet for a blue 16 A plug."
    big = _one(
        MAINS_PLUGS,
        lead={**base_lead, "plug": "iec-60309-32", "connector": "iec-60309-16"},
        supply=[{"kind": "site", "rating_a": 16}],
    )
    assert "lets 32 A through to a connector of 16 A" in big.message
    assert _one(MAINS_PLUGS, lead=base_lead).severity == Severity.NOT_CHECKED


def test_lead_of_australia_behind_16_a_and_joined_leads() -> None:
    lead = {"length_m": 25, "area_mm2": 1.5, "plug": "as-3112-15", "has_earth": True}
    found = studied("base-mains", change={"job/region": "au-nz", "mains/lead": lead})
    assert [f.severity for f in of_rule(found, MAINS_LEAD)] == [Severity.PASS]
    joined = studied("base-mains", change={"mains/lead/is_one_piece": False})
    assert [f.severity for f in of_rule(joined, MAINS_LEAD)] == [Severity.CONDITION]
    unsaid = studied("base-mains", change={"mains/lead": {"plug": "iec-60309-16"}})
    assert [f.severity for f in of_rule(unsaid, MAINS_LEAD)] == [Severity.NOT_CHECKED]
    long = studied("base-mains", change={"mains/lead/length_m": 60})
    (finding,) = of_rule(long, MAINS_LEAD)
    assert (finding.value, finding.limit, finding.unit) == (60.0, 27.0, "m")
    american = studied("base-mains", change={"job/region": "us-ca"})
    assert "No table of lengths" in of_rule(american, MAINS_LEAD)[0].message


def test_drop_of_a_united_states_lead_by_hand() -> None:
    # 10 AWG, 5.26 mm2: IEC 60228 4 mm2 4.95 ohm/km * 4 / 5.26 = 3.764; at 70 degC * 1.1965 = 4.504 ohm/km
    # 490 W at 120 V is 4.083 A; 2 * 15 m: 0.1351 ohm, 0.552 V
    found = studied(
        "base-mains",
        change={
            "job/region": "us-ca",
            "mains/supply": [{"kind": "site", "nominal_v": 120, "rating_a": 30}],
            "mains/lead": {"length_m": 15, "area_mm2": 5.26, "plug": "nema-tt-30"},
            "part/mains-charger/part": "mains-30-120v",
            "part/inlet/part": "inlet-120v-30",
        },
    )
    (finding,) = of_rule(found, MAINS_LEAD_DROP)
    assert finding.value == pytest.approx(500.0 / 120.0 * 0.13512, abs=0.001)
    assert finding.limit == pytest.approx(6.0)
    assert _one(MAINS_LEAD_DROP, lead={"length_m": 15}).severity == Severity.NOT_CHECKED


def test_loop_of_the_post_unknown_is_not_passed() -> None:
    # lead alone: 230 / 0.4774 = 482 A, enough for type C (160 A) if the post had no impedance
    open_ = _one(MAINS_LOOP, supply=[{"name": "post", "kind": "site", "rating_a": 16}])
    assert open_.severity == Severity.NOT_CHECKED
    assert "type C supposed" in open_.message
    # type D of 32 A wants 640 A: even the lead alone is too much
    bad = _one(MAINS_LOOP, supply=[{"name": "post", "kind": "site", "rating_a": 32, "breaker": "D"}])
    assert bad.severity == Severity.CONDITION
    assert bad.value == pytest.approx(482, abs=1)
    assert _one(MAINS_LOOP, lead={"length_m": 10}).severity == Severity.NOT_CHECKED


def test_generator_loses_by_altitude_and_is_asked_for_its_label() -> None:
    high = studied(
        "base-mains", change={"mains/supply": [{**GENERATOR, "rating_va": 800}], "place/elevation_m": 1500}
    )
    (finding,) = of_rule(high, GENERATOR_SIZE)
    assert finding.limit == pytest.approx(680.0)  # 800 VA less 15 %
    assert finding.severity == Severity.CONDITION
    assert "1,500 m up" in finding.message
    asked = _one(GENERATOR_SIZE, supply=[{"kind": "generator", "is_neutral_linked": True}])
    assert asked.severity == Severity.NOT_CHECKED
    old = _one(GENERATOR_SIZE, supply=[{**GENERATOR, "is_inverter_type": False}])
    assert old.severity == Severity.PASS
    assert "upset chargers" in old.message
    tiny = _one(GENERATOR_SIZE, supply=[{**GENERATOR, "rating_va": 100}])
    assert "Run fewer loads" in tiny.way_out


def test_certificate_not_recorded_or_for_another_inlet() -> None:
    missing = studied("base-mains", remove=["mains/certificate"])
    assert [f.severity for f in of_rule(missing, MAINS_CERTIFICATE)] == [Severity.ADVICE]
    other = _one(MAINS_CERTIFICATE, certificate={"serial": "T-2", "inlet": "inlet-230v-10"})
    assert "inlet is inlet-230v-16, not inlet-230v-10" in other.message


def test_work_is_put_down_to_somebody() -> None:
    assert "(licence 000)" in of_rule(base("base-mains"), MAINS_DESCRIBED)[0].message

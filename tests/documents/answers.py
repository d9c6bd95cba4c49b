"""Answers made by hand for the tests of documents: a small design, findings, both verdicts."""

import dataclasses
import datetime as dt
import tomllib

import numpy as np

from ampwright.assessment.added_mass import added_mass
from ampwright.assessment.result import Assessment, RuleCount, RunOut
from ampwright.energy.result import EnergyLedger, EnergyResult
from ampwright.findings import Finding, Group, Severity
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.job.unknowns import UnknownInput
from ampwright.network.result import NetworkResult
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.result import Answer, Change, Question
from ampwright.sources import COMMON_PRACTICE, Source
from ampwright.standards.regions import region_rules
from ampwright.validation import validated

JOB = """
format = 1
[job]
id = "van-7"
title = "Touring van with a vaccine refrigerator"
customer = "Hill Farm Tours"
author = "A. Planner"
revision = 3
date = 2026-03-14
region = "au-nz"
units = "{units}"
[vehicle]
description = "Panel van, 3.5 t, diesel"
system_v = 12
[vehicle.starter_battery]
capacity_ah = 80
short_circuit_a = 1500
resistance_ohm = 0.005
[vehicle.alternator]
rating_a = 120
regulation = "regulated"
voltage_v = 14.0
lowest_v = 12.5
highest_v = 15.0
hot_road_frac = 0.7
hot_idle_frac = 0.4
own_load_day_a = 30
own_load_night_a = 45
[place]
name = "Dry Creek"
latitude_deg = -30.0
longitude_deg = 140.0
ghi_kwh_m2_day = [7, 7, 6, 5, 4, 3, 3, 4, 5, 6, 7, 7]
max_degc = [35, 35, 32, 27, 22, 18, 18, 20, 24, 28, 31, 34]
min_degc = [20, 20, 17, 13, 9, 6, 5, 7, 10, 13, 16, 19]
[season]
month = 11
coldest_degc = 2
hottest_degc = 42
[use]
days = ["{days} x work"]
[[day]]
id = "work"
period = [
  {{ start = "08:00", end = "09:30", state = "road" }},
  {{ start = "18:00", end = "18:30", state = "idle" }},
]
[[part]]
id = "bank"
part = "lfp-100"
[[part]]
id = "inverter"
part = "inv-600"
[[load]]
id = "vaccines"
name = "Vaccine refrigerator"
part = "fridge-vaccine-30"
contents_low_degc = 2
contents_high_degc = 8
[[load]]
id = "lights"
name = "Lights"
power_w = 20
when = [{{ start = "18:00", end = "22:00" }}]
[[run]]
id = "feed"
start = "bank"
end = "vaccines"
cable = "cable-2-5"
length_m = 4
[[run]]
id = "lamp"
start = "bank"
end = "lights"
cable = "cable-1-5"
length_m = 3
"""

TABLE = Source(document="33 CFR 183.425", edition="2023", place="Table 5")


def design(*, units="metric", days=3):
    """Return the design of the small job."""
    return resolve(written_job(units=units, days=days), shipped_catalogue())


def written_job(*, units="metric", days=3):
    """Return the small job."""
    return validated(Job, tomllib.loads(JOB.format(units=units, days=days)))


def finding(number=0, *, severity=Severity.FAIL, group=Group.WIRING, **changed):
    """Return a finding on a cable."""
    known = {
        "rule": "cable-capacity",
        "group": group,
        "severity": severity,
        "subject": f"feed-{number}",
        "message": f"Run feed-{number}, 4 mm²: 31.0 A at 60 °C in the engine space.",
        "value": 31.0,
        "limit": 27.5,
        "unit": "A",
        "source": TABLE,
        "way_out": "Use 6 mm².",
    }
    return Finding(**{**known, **changed})


def findings(count):
    """Return that many findings that matter, a quarter of each weight, and five passes."""
    weights = (Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED, Severity.ADVICE)
    found = [finding(i, severity=weights[min(4 * i // max(count, 1), 3)]) for i in range(count)]
    passed = [
        finding(900 + i, severity=Severity.PASS, rule="device-at-source", source=COMMON_PRACTICE)
        for i in range(5)
    ]
    return (*found, *passed)


def network():
    """Return a network result without any point."""
    none = np.empty(0)
    return NetworkResult(
        points=(),
        peak_a=none,
        link_peak_a=none,
        node_low_v=none,
        node_high_v=none,
        path_ohm=none,
        root=np.empty(0, dtype=np.int64),
        loops=(),
        unfed=(),
        device_fault=(),
        run_fault_a=none,
        meshed=(),
        run_far_fault_a=none,
        far_fault=(),
        run_far_fault_note=(),
        alone=(),
        short_points=(),
        short_peak_a=none,
        short_low_v=none,
        crank_v=none,
    )


def energy_result(days=3):
    """Return an energy study with round books: 1000 Wh a day come in, 1100 go out or are lost.

    No panel gives anything from 18:00 to 06:00; loads are cut off on the last day from 05:00 to 06:00.
    """
    steps = 96 * days
    minute = np.arange(steps) % 96 * 15
    hour = minute / 60.0
    is_day = (hour >= 6.0) & (hour < 18.0)
    soc_frac = np.interp(np.arange(steps + 1), [0.0, steps], [0.9, 0.2])
    soc_frac[40::96] -= 0.1
    is_cut_off = (np.arange(steps) >= steps - 96 + 20) & (np.arange(steps) < steps - 96 + 24)
    fridge_degc = np.where(is_cut_off, 9.0, 5.0)[:, None]
    flat, two, one = np.zeros(steps), np.zeros((steps, 2)), np.zeros((steps, 1))
    unserved_w = np.where(is_cut_off, 50.0, 0.0)[:, None] * np.array([1.0, 0.0])
    source_w = np.stack(
        [np.where(is_day, 50.0, 0.0), np.where((hour >= 8.0) & (hour < 9.5), 800.0 / 3.0, 0.0)], axis=1
    )
    return EnergyResult(
        steps_per_day=96,
        day_of_step=np.arange(steps) // 96,
        minute_of_step=minute,
        plan_of_step=np.zeros(steps, dtype=np.int64),
        soc_frac=soc_frac,
        battery_v=flat + 13.0,
        battery_low_v=flat + 12.5,
        battery_a=flat,
        battery_peak_a=flat,
        cell_degc=flat + 25.0,
        source_labels=("mppt", "dcdc"),
        source_kinds=("panel", "alternator"),
        source_w=source_w,
        source_possible_w=source_w,
        load_w=two,
        unserved_w=unserved_w,
        is_unserved=unserved_w > 0.0,
        fridge_loads=(0,),
        fridge_degc=fridge_degc,
        fridge_ice_wh=one,
        fridge_air_degc=one + 30.0,
        fridge_leak_w_per_k=one + 1.0,
        fridge_is_used=one == 0.0,
        fridge_heat_wh=np.zeros((3, 1)),
        is_cut_off=is_cut_off,
        is_management_open=flat > 0.0,
        is_charge_blocked=flat > 0.0,
        inverter_parts=(1,),
        inverter_peak_w=one,
        inverter_peak_va=one,
        wanted_charge_a=flat,
        alternator=(),
        unconnected=(),
        ledger=ledger(days),
    )


def ledger(days):
    """Return books that balance."""
    return EnergyLedger(
        panel_wh=600.0 * days,
        alternator_wh=400.0 * days,
        mains_wh=0.0,
        charger_loss_wh=70.0 * days,
        load_wh=np.array([700.0, 80.0]) * days,
        mains_load_wh=np.array([0.0, 0.0]),
        inverter_loss_wh=150.0 * days,
        standby_wh=60.0 * days,
        heater_wh=0.0,
        cable_loss_wh=40.0 * days,
        battery_loss_wh=30.0 * days,
        coulombic_loss_wh=20.0 * days,
        self_discharge_wh=20.0 * days,
        stored_change_wh=-100.0 * days,
    )


def assessment(energy, *, count=8, units="metric", days=3, **changed):
    """Return an assessment of the small design."""
    known = {
        "design": design(units=units, days=days),
        "network": network(),
        "energy": energy,
        "findings": findings(count),
        "use_verdict": "suits with conditions",
        "wiring_verdict": "do not energise",
        "use_rules": RuleCount(checked_count=12, total_count=13, open_rules=("storage-days",)),
        "wiring_rules": RuleCount(
            checked_count=14,
            total_count=27,
            open_rules=("clearing-time", "discrimination", "inrush", "polarity"),
        ),
        "on": dt.date(2026, 1, 15),
        "run_out": RunOut(
            subject="bank",
            runs_out=True,
            day_count=3,
            clock="05:30",
            margin_frac=-0.06,
            message="The battery falls to 4 % of its capacity, below the reserve of 10 %.",
        ),
        "mass": added_mass(design(units=units, days=days)),
    }
    return Assessment(**{**known, **changed})


def question():
    """Return a question about the alternator."""
    return Question(
        input=UnknownInput(
            path=("vehicle", "alternator", "rating_a"),
            label="vehicle alternator rating_a",
            low=80.0,
            high=150.0,
            likely=120.0,
            unit="A",
            ask="read the alternator's label",
        ),
        use_at_low="does not suit",
        use_at_high="suits",
        wiring_at_low="no fault found",
        wiring_at_high="no fault found",
        margin_swing_frac=0.4,
        turns_at=97.0,
        message="suits if the alternator gives 97 A or more: read its label",
        turning="suits if the alternator gives 97 A or more",
    )


def changes(count=3):
    """Return that many changes, the first a habit."""
    return tuple(
        Change(
            kind="habit" if i == 0 else "panel",
            description="Park with the roof in the sun" if i == 0 else f"Add {i} panel of 100 W",
            cost_eur=110.0 * i,
            cures=("reserve-kept",),
            use_verdict="suits",
            wiring_verdict="do not energise",
            is_cure=i > 0,
            caution="The rack must bear its weight." if i == 1 else "",
            job=written_job(),
        )
        for i in range(count)
    )


def answer(*, count=8, units="metric", days=3, **changed):
    """Return an answer; fields may be changed by name."""
    found = assessment(energy_result(days), count=count, units=units, days=days)
    known = {
        "file": "van-7.toml",
        "job_hash": "0123456789ab",
        "program_version": "0.1.0",
        "assessment": found,
        "worst": found,
        "use_verdict": "suits with conditions",
        "wiring_verdict": "do not energise",
        "use_sentence": "Suits if the alternator gives 97 A or more: read its label.",
        "wiring_sentence": "Two protection rules fail: cable capacity of feed-0 and feed-1.",
        "unknown_count": 1,
        "questions": (question(),),
        "changes": changes(),
        "assumptions": ("The roof is free of shade.", "One year of monthly mean weather."),
    }
    return Answer(**{**known, **changed})


def with_job(given, **changed):
    """Return the answer with fields of its job's title block changed."""
    old = given.assessment.design
    job = dataclasses.replace(old.job, job=dataclasses.replace(old.job.job, **changed))
    design = dataclasses.replace(old, job=job, region=region_rules(job.job.region))
    found = dataclasses.replace(given.assessment, design=design)
    return dataclasses.replace(given, assessment=found)

"""The region of a job moves verdicts the way its published limits say; figures by hand from the documents."""

from __future__ import annotations

from functools import cache
from typing import Any

import base_jobs
import pytest

from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity

REGIONS = ("au-nz", "uk-eu", "us-ca")
PASS, CONDITION, FAIL = Severity.PASS, Severity.CONDITION, Severity.FAIL
EDITS: dict[str, dict[str, Any]] = {
    "sheathed, 1.5 m from the starter battery": {
        "run/W2/device/F2/is_sheathed": True,
        "run/W2/device/F2/distance_m": 1.5,
    },
    "bare, 0.19 m from the starter battery": {"run/W2/device/F2/distance_m": 0.19},
    "50 A on 4 mm² that carries 42 A": {"run/W6/device/Q6/part": "breaker-hm-50"},
    "one conductor of 1.13 mm²": {"run/W9/cable": "cable-3-outside"},
    "two panels in series, 51.96 V in the cold": {
        "part/panel/in_series": 2,
        "part/controller/part": "solar-mp-30",
    },
}
EXPECTED = {
    # AS/NZS 3001.2: below 1.0 m in a sheath; 33 CFR 183.460: 72 in = 1.829 m, taken in uk-eu too
    "sheathed, 1.5 m from the starter battery": ("device-at-source", "W2", (FAIL, PASS, PASS)),
    # AS/NZS 3001.2: 200 mm; 33 CFR 183.455: 7 in = 177.8 mm
    "bare, 0.19 m from the starter battery": ("device-at-source", "W2", (PASS, FAIL, FAIL)),
    # IEC 60364-4-43: 50 A > 42 A; 33 CFR 183.455(c): 50 A < 1.5 x 42 A = 63 A
    "50 A on 4 mm² that carries 42 A": ("device-against-cable", "W6", (FAIL, FAIL, PASS)),
    # ISO 10133: 1 mm²; 33 CFR 183.425(e): 16 AWG = 1.31 mm²
    "one conductor of 1.13 mm²": ("cable-minimum-size", "W9", (PASS, PASS, FAIL)),
    # 2 x 24.6 V x 1.056 = 51.96 V; caution from 60 V (IEC 60364-4-41), from 50 V (29 CFR 1910.303)
    "two panels in series, 51.96 V in the cold": ("panel-touch-voltage", "panel", (PASS, PASS, CONDITION)),
}


@cache
def found(name: str, region: str) -> Assessment:
    return base_jobs.studied(change={**EDITS[name], "job/region": region})


def of(name: str, region: str) -> Finding:
    rule, subject, _ = EXPECTED[name]
    (finding,) = [f for f in found(name, region).findings if (f.rule, f.subject) == (rule, subject)]
    return finding


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("name", EXPECTED)
def test_the_limit_is_the_regions(name: str, region: str) -> None:
    assert of(name, region).severity == EXPECTED[name][2][REGIONS.index(region)]


def test_each_region_changes_the_verdict_on_wiring() -> None:
    in_a_sheath = [
        found("sheathed, 1.5 m from the starter battery", region).wiring_verdict for region in REGIONS
    ]
    assert in_a_sheath == ["do not energise", "not fully checked", "not fully checked"]
    bare = [found("bare, 0.19 m from the starter battery", region).wiring_verdict for region in REGIONS]
    assert bare == ["not fully checked", "do not energise", "do not energise"]
    fuse = [found("50 A on 4 mm² that carries 42 A", region).wiring_verdict for region in REGIONS]
    assert fuse == ["do not energise", "do not energise", "not fully checked"]


def test_findings_name_the_regions_document() -> None:
    name = "bare, 0.19 m from the starter battery"
    sources = [str(of(name, region).source) for region in REGIONS]
    assert sources == [
        "AS/NZS 3001.2, 2022, 5.4 (second hand)",
        "Ampwright docs/choices.md, region-device-place",
        "33 CFR 183.455, text in force, (b)(1)",
    ]
    assert "law of boats" in of(name, "us-ca").message
    assert "boats of the USA" in of(name, "uk-eu").message


def test_the_fallback_drop_is_the_regions() -> None:
    base = base_jobs.job()
    unknown = {
        f"load/{load['id']}/min_v": None for load in base["load"] if "min_v" in load and "through" not in load
    }
    assert unknown
    answer = base_jobs.studied(remove=list(unknown))
    told = [f for f in answer.findings if f.rule == "lowest-voltage" and "not known" in f.message]
    assert told
    assert {str(f.source) for f in told} == {"ISO 13297, 2020 (second hand)"}
    assert all("a drop of 10 % is allowed" in f.message for f in told)

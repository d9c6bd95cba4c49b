import dataclasses
import math

import numpy as np
import planted
import pytest
from base_jobs import of_rule, studied, studies_of

from ampwright.assessment.outlets import AUTO_RESET, INLET_RATING, OUTLET_RATING
from ampwright.assessment.result import Assessment
from ampwright.findings import Severity


def _twin(name: str, **more: object) -> Assessment:
    case = planted.params(name)
    sound = planted.edited(planted.base_job(case["base"]), case.get("both", {}))
    return planted.assessed(planted.edited(sound, {"set": more}))


def test_outlet_with_unknown_current_is_not_checked() -> None:
    found = planted.twin("dc-outlet-too-small")
    lost = np.full_like(found.network.peak_a, math.nan)
    studies = dataclasses.replace(studies_of(found), network=dataclasses.replace(found.network, peak_a=lost))
    (finding,) = OUTLET_RATING.check(found.design, studies)
    assert (finding.severity, finding.value) == (Severity.NOT_CHECKED, None)


def test_single_load_above_the_rating_fails_though_the_current_is_unknown() -> None:
    found = planted.faulty("dc-outlet-too-small")
    lost = np.full_like(found.network.peak_a, math.nan)
    studies = dataclasses.replace(studies_of(found), network=dataclasses.replace(found.network, peak_a=lost))
    (finding,) = OUTLET_RATING.check(found.design, studies)
    assert finding.severity == Severity.FAIL
    assert finding.value == pytest.approx(150 / 12)


def test_outlet_without_loads_and_inverter_without_outlets_say_nothing() -> None:
    assert of_rule(studied(), OUTLET_RATING) == []


def test_loads_at_different_times_do_not_add_up_on_mains_outlets() -> None:
    case = planted.params("mains-outlets-overloaded")
    later = [{"start": "15:00", "end": "16:00", "uses": 1, "use_minutes": 5}]
    found = _twin("mains-outlets-overloaded", **case["fault"]["set"], **{"load/vacuum/when": later})
    (finding,) = of_rule(found, OUTLET_RATING)
    assert finding.severity == Severity.PASS
    assert finding.value == pytest.approx(800 / 0.7 / 120)


def test_set_limits_of_a_charger_lower_what_it_takes() -> None:
    found = _twin("mains-post-too-weak", **{"setting/mains-charger/input_limit_a": 1.5})
    (finding,) = of_rule(found, INLET_RATING)
    assert (finding.value, finding.limit) == (1.5, 16.0)


def test_output_limit_counts_behind_the_efficiency() -> None:
    found = _twin("mains-post-too-weak", **{"setting/mains-charger/output_limit_a": 10})
    (finding,) = of_rule(found, INLET_RATING)
    (efficiency,) = [p.part.efficiency_frac for p in found.design.parts if p.id == "mains-charger"]
    assert finding.value == pytest.approx(10 * 14.2 / efficiency / 230)


def test_never_hooked_up_asks_nothing() -> None:
    found = _twin("mains-post-too-weak", **{"day/stay/period": []})
    assert of_rule(found, INLET_RATING) == []


def test_without_an_inlet_the_post_is_asked() -> None:
    case = planted.params("mains-post-too-weak")
    sound = planted.edited(planted.base_job(case["base"]), case.get("both", {}))
    found = planted.assessed(planted.edited(sound, {"remove": ["part/inlet"]}))
    (finding,) = of_rule(found, INLET_RATING)
    assert (finding.subject, finding.severity, finding.limit) == ("base-mains", Severity.PASS, 16.0)


def test_loads_handed_to_the_mains_are_counted() -> None:
    changes = {
        "part/inverter/part": "invchg-1600",
        "load/mixer/when": [{"start": "19:00", "end": "20:00"}],
    }
    found = _twin("mains-post-too-weak", **changes)
    (finding,) = of_rule(found, INLET_RATING)
    (part,) = [p.part for p in found.design.parts if p.id == "inverter"]
    wanted = 490 / 230 + part.charger_input_max_w / 230 + 300 / 0.9 / 230
    assert finding.value == pytest.approx(wanted)


def test_fuses_are_not_asked_whether_they_close_again() -> None:
    found = studied()
    assert {f.subject for f in of_rule(found, AUTO_RESET)} == {"Q3", "Q4", "Q6", "Q8"}
    assert {f.severity for f in of_rule(found, AUTO_RESET)} == {Severity.PASS}

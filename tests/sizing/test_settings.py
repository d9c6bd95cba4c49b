"""Changes of settings are offered where a settings rule fails, and mend it."""

import planted
import pytest

from ampwright.assessment.assess import assess
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.sizing.repairs import lower_outputs
from ampwright.sizing.settings import battery_type, moved_cutoff, same_voltages, weaker_inlet

CATALOGUE = shipped_catalogue()


def troubles(found, rules):
    return {(f.rule, f.subject) for f in planted.troubles(found) if f.rule in rules}


def mended(case, proposer):
    """Return the first candidate for a planted fault and its assessment."""
    found = planted.faulty(case)
    job = planted.validated(
        planted.Job,
        planted.edited(
            planted.edited(
                planted.base_job(planted.params(case)["base"]), planted.params(case).get("both", {})
            ),
            planted.params(case)["fault"],
        ),
    )
    candidate = next(iter(proposer(job, found, CATALOGUE)))[0]
    design = planted.resolve(candidate.job, CATALOGUE)
    return candidate, assess(design, planted.sun_of(design, planted.HERE))


@pytest.mark.parametrize(
    ("case", "proposer", "rules"),
    [
        ("float-too-high", same_voltages, {"charge-voltage", "float-voltage"}),
        ("charge-voltages-apart", same_voltages, {"charge-voltage", "float-voltage"}),
        ("lithium-equalised", battery_type, {"charge-habits"}),
        ("lithium-compensated", battery_type, {"charge-habits"}),
        ("no-load-cut-off", moved_cutoff, {"cutoff-ladder", "cutoff-restart"}),
        ("cut-off-by-turns", moved_cutoff, {"cutoff-ladder", "cutoff-restart"}),
        ("cut-off-never-closes", moved_cutoff, {"cutoff-ladder", "cutoff-restart"}),
        ("mains-post-too-weak", weaker_inlet, {"inlet-rating"}),
    ],
)
def test_a_setting_mends_a_setting(case, proposer, rules):
    assert troubles(planted.faulty(case), rules)
    candidate, after = mended(case, proposer)
    assert troubles(after, rules) == set()
    assert (candidate.kind, candidate.cost_eur) == ("setting", 0.0)


@pytest.mark.parametrize("proposer", [same_voltages, moved_cutoff, battery_type, weaker_inlet])
def test_nothing_is_offered_where_nothing_fails(proposer):
    raw = planted.base_job("base-12v")
    found = planted.assessed(raw)
    assert list(proposer(planted.validated(planted.Job, raw), found, CATALOGUE)) == []


def test_a_lower_limit_outweighs_the_old_reading():
    raw = planted.base_job("base-12v")
    left = {"by": "R. Lind", "date": raw["job"]["date"], "output_limit_a": 40.0}
    raw = planted.edited(
        raw,
        {
            "set": {
                "part/battery/part": "agm-200",
                "setting/charger/programme": "agm",
                "setting/charger/output_limit_a": 40.0,
                "setting/charger/as_left": left,
            }
        },
    )
    found = planted.assessed(raw)
    candidate = next(iter(lower_outputs(planted.validated(planted.Job, raw), found, CATALOGUE)))[0]
    design = planted.resolve(candidate.job, CATALOGUE)
    charger = next(placed for placed in design.parts if placed.id == "charger")
    # 50 A of 60 A: five sixths of 40 A
    assert charger.setting.output_limit_a == 33.0

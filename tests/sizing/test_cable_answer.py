"""Whole jobs: against every set of cables there is, each assessed by every rule."""

import dataclasses
import itertools
import sys
from pathlib import Path

import pytest

from ampwright import api
from ampwright.findings import Severity
from ampwright.parts.cable import Cable
from ampwright.sizing.cable_answer import cable_answer
from ampwright.sizing.standard import standard_of, worse
from ampwright.sizing.wiring_trial import rewired, troubles_of

sys.path.append(str(Path(__file__).parents[1] / "job"))
from job_files import saved, starting
from small_jobs import two_loads_on_a_feed

SIZES = ("cable-1-5", "cable-2-5", "cable-4", "cable-6", "cable-10")


def bench_with_few_sizes(folder, raw):
    """Return the bench of a job whose catalogue has five sizes of cable."""
    bench = api.bench_of(api.load(saved(folder, raw)))
    few = {
        name: part
        for name, part in bench.catalogue.parts.items()
        if not isinstance(part, Cable) or name in SIZES
    }
    return dataclasses.replace(bench, catalogue=dataclasses.replace(bench.catalogue, parts=few))


def price(bench, cables):
    """Both conductors by the metre; every run of the small job has its return beside it."""
    return sum(
        2.0 * run.length_m * cable.price_eur_per_m
        for run, cable in zip(bench.design.runs, cables, strict=True)
    )


def cheapest_of_all(bench):
    """Assess every set and return the price of the cheapest in which nothing is worse than in the job."""
    before = standard_of(bench.assessed_design(bench.design).findings)
    found = []
    for cables in itertools.product([bench.catalogue.parts[name] for name in SIZES], repeat=3):
        after = bench.assessed_design(rewired(bench.design, dict(enumerate(cables)), {}))
        if not worse(after.findings, before):
            found.append((price(bench, cables), [cable.id for cable in cables]))
    return min(found)


@pytest.mark.parametrize(
    ("min_v", "expected"),
    [
        (11.0, ["cable-4", "cable-2-5", "cable-2-5"]),  # only faults bind
        (11.3, ["cable-6", "cable-2-5", "cable-2-5"]),  # the short feed is thick, so the branches may be thin
        (11.35, ["cable-4", "cable-4", "cable-2-5"]),  # and the other way round
    ],
)
def test_it_is_the_cheapest_of_all_sets_where_runs_share_a_feed(tmp_path, min_v, expected):
    bench = bench_with_few_sizes(tmp_path, two_loads_on_a_feed(min_v=min_v))
    answer = cable_answer(bench, "price")
    least, ids = cheapest_of_all(bench)
    assert answer.proof == "least"
    assert [choice.new_cable.id for choice in answer.choices] == ids == expected
    assert sum(choice.new_price_eur for choice in answer.choices) == pytest.approx(least)


def test_a_job_that_fails_gets_larger_cables_first(tmp_path):
    raw = two_loads_on_a_feed(cable="cable-1-5", min_v=11.35)
    answer = cable_answer(bench_with_few_sizes(tmp_path, raw), "price")
    assert answer.mended
    assert not answer.left
    assert not answer.new_findings
    assert answer.wiring_before == "do not energise"
    assert answer.wiring_after == "not fully checked"
    assert answer.proof == "least"
    assert answer.mended == ("lowest-voltage of lights",)
    feed, laptop, lights = (c.new_cable.area_mm2 / c.old_cable.area_mm2 for c in answer.choices)
    assert min(feed, lights) > 1.0
    assert laptop == 1.0  # comfort: its condition was there before and is no worse


def test_what_no_cable_mends_is_said(tmp_path):
    answer = cable_answer(bench_with_few_sizes(tmp_path, two_loads_on_a_feed(min_v=12.6)), "price")
    assert {(f.rule, f.severity) for f in answer.left} == {("lowest-voltage", Severity.FAIL)}
    assert answer.wiring_after == "do not energise"


@pytest.mark.parametrize("name", ["vaccine-outreach", "night-survey-van"])
@pytest.mark.parametrize("by", ["price", "mass"])
def test_a_job_that_passes_never_gets_dearer_or_worse(examples, name, by):
    path = examples / f"{name}.toml"
    bench = api.bench_of(api.load(path))
    answer = cable_answer(bench, by)
    for choice in answer.choices:
        assert choice.new_price_eur <= choice.old_price_eur
        assert choice.new_mass_kg <= choice.old_mass_kg
    runs = {run.id: run.index for run in bench.design.runs}
    laid = {runs[each.run]: each.new_cable for each in answer.choices if each.is_changed}
    assert laid
    before, after = (
        bench.assessed_design(bench.design),
        bench.assessed_design(rewired(bench.design, laid, {})),
    )
    assert troubles_of(after.findings) <= troubles_of(before.findings)
    assert (after.use_verdict, after.wiring_verdict) == (before.use_verdict, before.wiring_verdict)
    assert not answer.new_findings


def test_every_run_says_what_binds_it_or_that_nothing_is_cheaper(examples):
    answer = cable_answer(api.bench_of(api.load(examples / "vaccine-outreach.toml")), "price")
    for choice in answer.choices:
        assert bool(choice.binds) == bool(choice.next_cable)
    assert all(choice.new_cable.id != choice.next_cable for choice in answer.choices)
    assert [choice.run for choice in answer.choices if not choice.next_cable] == ["W5"]


def test_both_ends_of_what_is_unknown_are_held(tmp_path):
    raw = two_loads_on_a_feed(min_v=11.3)
    raw["run"][1]["length_m"] = {"unknown": [2.0, 6.0], "likely": 3.0}
    bench = bench_with_few_sizes(tmp_path, raw)
    answer = cable_answer(bench, "price")
    assert answer.case_count == 6  # likely, two ends of each of two amounts, the worse ends together
    assert not answer.new_findings
    at_likely_alone = cable_answer(bench_with_few_sizes(tmp_path, two_loads_on_a_feed(min_v=11.3)), "price")
    assert answer.choices[1].new_cable.area_mm2 >= at_likely_alone.choices[1].new_cable.area_mm2
    assert [c.new_cable.id for c in answer.choices] != [c.new_cable.id for c in at_likely_alone.choices]


def test_cables_without_a_price_are_left_out_and_named(tmp_path):
    bench = api.bench_of(api.load(saved(tmp_path, starting())))
    free = dataclasses.replace(bench.catalogue.parts["cable-4"], id="free-cable", price_eur_per_m=0.0)
    parts = {**bench.catalogue.parts, free.id: free}
    bench = dataclasses.replace(bench, catalogue=dataclasses.replace(bench.catalogue, parts=parts))
    answer = cable_answer(bench, "price")
    assert answer.without_figure == ("free-cable",)
    assert all(choice.new_cable.id != "free-cable" for choice in answer.choices)

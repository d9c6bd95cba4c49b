import dataclasses

import pytest

from ampwright import api
from ampwright.findings import Group, Severity
from ampwright.sizing.bench import Bench, Meter
from ampwright.sizing.changes import smallest_changes


@pytest.fixture(scope="module")
def bench_of(loaded_example):
    def made(name):
        loaded = loaded_example(name)

        def design_of(job):
            return api.resolve(job, loaded.catalogue, definition=loaded.definition, loaded=loaded.source)

        return Bench(
            job=loaded.source.job,
            design=loaded.design,
            design_of=design_of,
            catalogue=loaded.catalogue,
            sun=loaded.sun,
        )

    return made


@pytest.fixture(scope="module")
def truck_changes(bench_of):
    bench = bench_of("bicycle-repair-truck")
    found = bench.assessed_design(bench.design)
    return found, smallest_changes(bench, bench.job, found, Meter(None, 1))


def test_a_second_panel_mends_the_truck(truck_changes):
    panels = [change for change in truck_changes[1] if change.kind == "panel"]
    assert panels
    assert panels[0].is_cure
    assert panels[0].cost_eur == 150.0
    assert "essential-loads" in panels[0].cures


def test_cures_come_before_what_only_helps_and_idling_after_other_cures(truck_changes):
    flags = [change.is_cure for change in truck_changes[1]]
    assert flags == sorted(flags, reverse=True)
    cures = [change for change in truck_changes[1] if change.is_cure]
    costs = [change.cost_eur for change in cures if change.kind != "idling"]
    assert costs == sorted(costs)
    assert all(change.kind != "idling" for change in cures[:-1])


def test_idling_is_never_offered_without_its_cautions_and_hot_idle_figure(truck_changes):
    for change in truck_changes[1]:
        if change.kind == "idling":
            assert "carbon monoxide" in change.caution
            assert " A at idle" in change.description


def test_a_job_without_trouble_gets_no_changes(bench_of):
    bench = bench_of("vaccine-outreach")
    found = bench.assessed_design(bench.design)
    assert smallest_changes(bench, bench.job, found, Meter(None, 1)) == ()


def test_a_thin_cable_is_mended_by_the_next_size_that_carries_it(bench_of):
    bench = bench_of("vaccine-outreach")
    runs = tuple(
        dataclasses.replace(
            run, cable="cable-2-5", device=(dataclasses.replace(run.device[0], part="breaker-hm-50"),)
        )
        if run.id == "W3"
        else run
        for run in bench.job.run
    )
    job = dataclasses.replace(bench.job, run=runs)
    found = bench.assessed_design(bench.design_of(job))
    assert any(f.rule == "device-against-cable" and f.severity == Severity.FAIL for f in found.findings)
    changes = smallest_changes(bench, job, found, Meter(None, 1))
    cable = next(change for change in changes if change.kind == "cable")
    assert "in run W3" in cable.description
    assert "device-against-cable" in cable.cures


def test_every_step_is_told_to_the_listener(bench_of):
    bench = bench_of("bicycle-repair-truck")
    found = bench.assessed_design(bench.design)
    told = []
    smallest_changes(bench, bench.job, found, Meter(lambda done, total: told.append((done, total)), 3))
    assert [done for done, _ in told] == list(range(1, len(told) + 1))
    assert all(done <= total for done, total in told)


def test_no_change_breaks_what_was_sound(truck_changes):
    found, changes = truck_changes
    assert not any(f.severity == Severity.FAIL and f.group == Group.WIRING for f in found.findings)
    assert all(change.wiring_verdict != "do not energise" for change in changes)

import json

import pytest

from ampwright import api
from ampwright.cli.show import shown_json
from ampwright.findings import Severity
from ampwright.job.unknowns import likely_values, unknown_inputs, with_values
from ampwright.sizing.sureness import chance_sentence, hard_bench, runs_of, trial_of


@pytest.fixture(scope="module")
def small_panel(examples, tmp_path_factory):
    """The vaccine vehicle with the panel that is enough on the mean day only."""
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("job") / "vaccine-outreach.toml"
    path.write_text(text.replace('part = "panel-175"', 'part = "panel-50"'), encoding="utf-8")
    return api.check(path)


def test_a_use_that_holds_on_the_mean_day_only_does_not_suit(small_panel):
    finding = next(f for f in small_panel.assessment.findings if f.rule == "holds-over-runs")
    assert finding.severity == Severity.FAIL
    assert small_panel.use_verdict == "does not suit"
    assert not [f for f in small_panel.assessment.findings if f.severity == Severity.FAIL and f != finding]
    assert finding.value == pytest.approx(100 * small_panel.chance.held_count / 50)
    assert small_panel.use_sentence == finding.message


def test_what_is_offered_holds_in_more_runs(small_panel):
    cures = [change for change in small_panel.changes if change.is_cure]
    assert cures
    assert cures[0].held_count > small_panel.chance.held_count
    assert cures[0].held_count >= 47
    assert any(change.kind == "panel" and change.held_count for change in cures)


def test_no_runs_when_none_are_wanted(examples, tmp_path):
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text(text + "\n[doubt]\nruns = 0\n", encoding="utf-8")
    answer = api.check(path)
    assert answer.chance is None
    assert not any(f.rule == "holds-over-runs" for f in answer.assessment.findings)


def test_json_carries_the_count_the_interval_and_the_band(small_panel):
    told = json.loads(shown_json(small_panel))["chance"]
    assert told["held_count"] == small_panel.chance.held_count
    assert told["held_low_frac"] < told["held_count"] / 50 < told["held_high_frac"]
    assert len(told["daily_low_frac"]) == len(told["band_frac"]) == 5
    assert {len(row) for row in told["daily_low_frac"]} == {15}
    assert sum(told["shares_frac"].values()) == pytest.approx(1.0)
    assert "of 50 runs" in chance_sentence(small_panel.chance)


@pytest.fixture(scope="module")
def hard_run(examples, tmp_path_factory):
    """Bench, trial and runs of the vaccine vehicle with a small panel, its refrigerator's draw unknown."""
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("hard") / "vaccine-outreach.toml"
    path.write_text(
        text.replace('part = "panel-175"', 'part = "panel-50"') + "\n[doubt]\nruns = 12\n", encoding="utf-8"
    )
    bench = api.bench_of(api.load(path))
    trial = trial_of(bench, bench.job, bench.assessed_design(bench.design))
    return bench, trial, runs_of(trial, bench.job.doubt, lambda: None)


def test_changes_are_judged_in_the_hard_run_itself_unknown_amounts_included(hard_run):
    bench, trial, chance = hard_run
    assert [one.label for one in trial.unknowns] == ["load 'vaccine-fridge' draw (draw_factor)"]
    hard = hard_bench(bench, trial, bench.job.doubt, chance)
    found = hard.assessed_design(hard.design_of(bench.job))
    margins = sorted(chance.margin_frac)
    assert found.run_out.margin_frac == pytest.approx(margins[0], abs=1e-9)
    known = with_values(bench.job, likely_values(trial.unknowns))
    likely = hard.assessed_design(hard.design_of(known))
    assert abs(likely.run_out.margin_frac - margins[0]) > 1e-4


def test_changes_found_at_the_likely_values_keep_what_is_unknown(examples):
    answer = api.check(examples / "night-survey-van.toml")
    wanted = [one.path for one in unknown_inputs(answer.assessment.design.job)]
    assert wanted
    assert answer.changes
    for change in answer.changes:
        assert {one.path for one in unknown_inputs(change.job)} <= set(wanted)
        assert any(one.path == ("load", 0, "draw_factor") for one in unknown_inputs(change.job))

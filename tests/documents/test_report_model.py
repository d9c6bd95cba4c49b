import dataclasses

import pytest
from answers import answer, changes, finding, findings, question, with_job

from ampwright.documents.report_model import AT_WORST, DRAFT, report_model
from ampwright.findings import Severity


def plain(text):
    return text.replace("\u202f", " ").replace("\u00a0", " ")


def told(model, label):
    return next(fact.text for fact in model.facts if fact.label == label)


def test_title_block_tells_job_place_and_program():
    model = report_model(answer())
    assert told(model, "Job") == "van-7"
    assert told(model, "Revision") == "3 of 2026-03-14"
    assert told(model, "Place, month") == "Dry Creek, November"
    assert told(model, "Region") == "Australia and New Zealand"
    assert told(model, "Program") == "Ampwright 0.1.0"
    assert told(model, "File hash") == "0123456789ab"
    assert told(model, "Unknown") == "1 amount"


@pytest.mark.parametrize(
    ("verdict", "sign", "draft"),
    [("no fault found", "good", ""), ("not fully checked", "open", DRAFT), ("do not energise", "bad", DRAFT)],
)
def test_draft_hangs_on_the_second_verdict(verdict, sign, draft):
    model = report_model(answer(wiring_verdict=verdict))
    assert (model.verdicts[1].word, model.verdicts[1].sign, model.draft) == (verdict, sign, draft)


@pytest.mark.parametrize(
    ("verdict", "sign"), [("suits", "good"), ("suits with conditions", "condition"), ("does not suit", "bad")]
)
def test_first_verdict_has_its_own_shape(verdict, sign):
    block = report_model(answer(use_verdict=verdict)).verdicts[0]
    assert (block.word, block.sign) == (verdict, sign)


def test_checked_rules_are_counted_and_open_ones_named():
    use, wiring = report_model(answer()).verdicts
    assert use.rules == "use: 12 of 13 rules checked; open: storage days."
    assert wiring.rules == (
        "wiring: 14 of 27 rules checked; open: clearing time, discrimination, inrush and 1 more. "
        "This report is a draft: do not energise."
    )


def test_what_runs_out_first_is_dated():
    model = report_model(answer())
    assert model.run_out_heading == "Runs out first: bank, day 3 at 05:30"
    assert plain(model.run_out).endswith("Short by 6 %.")


def test_what_comes_nearest_has_a_margin():
    base = answer()
    near = dataclasses.replace(
        base.assessment.run_out, runs_out=False, margin_frac=0.12, day_count=0, clock="", subject="inverter"
    )
    model = report_model(
        dataclasses.replace(base, assessment=dataclasses.replace(base.assessment, run_out=near))
    )
    assert model.run_out_heading == "Comes nearest to running out: inverter"
    assert plain(model.run_out).endswith("Margin 12 %.")


def test_findings_are_heaviest_first_and_passes_are_counted():
    model = report_model(answer(count=8))
    assert [line.severity for line in model.findings] == [
        "fail", "fail", "condition", "condition", "not checked", "not checked", "advice", "advice",
    ]  # fmt: skip
    assert model.passes == "5 checks passed: device at source 5."


def test_finding_shows_value_limit_margin_and_source():
    line = report_model(answer(count=1)).findings[0]
    assert [plain(text) for text in line.figures] == ["found 31.0 A", "at most 27.5 A", "margin −13 %"]
    assert line.source == "33 CFR 183.425, 2023, Table 5"
    assert line.way_out == "Use 6 mm²."


def test_finding_without_figures_or_source_is_shown_too():
    bare = finding(value=None, limit=None, source=None, way_out="")
    base = answer()
    found = dataclasses.replace(base.assessment, findings=(bare,))
    line = report_model(dataclasses.replace(base, assessment=found, worst=found)).findings[0]
    assert (line.figures, line.source, line.way_out) == ((), "", "")


def test_least_bound_is_called_at_least():
    low = finding(at_most=False, value=10.0, limit=11.5, unit="V")
    base = answer()
    found = dataclasses.replace(base.assessment, findings=(low,))
    line = report_model(dataclasses.replace(base, assessment=found, worst=found)).findings[0]
    assert plain(line.figures[1]) == "at least 11.5 V"


def test_heavier_finding_of_the_worse_end_replaces_the_lighter_one():
    base = answer()
    likely = dataclasses.replace(
        base.assessment, findings=(finding(severity=Severity.CONDITION), *findings(0))
    )
    worst = dataclasses.replace(base.assessment, findings=(finding(severity=Severity.FAIL), *findings(0)))
    lines = report_model(dataclasses.replace(base, assessment=likely, worst=worst)).findings
    assert [(line.severity, line.note) for line in lines] == [("fail", AT_WORST)]


def test_finding_that_passes_at_the_likely_values_only_is_shown():
    base = answer()
    likely = dataclasses.replace(base.assessment, findings=(finding(severity=Severity.PASS),))
    worst = dataclasses.replace(base.assessment, findings=(finding(severity=Severity.FAIL),))
    lines = report_model(dataclasses.replace(base, assessment=likely, worst=worst)).findings
    assert [(line.severity, line.note) for line in lines] == [("fail", AT_WORST)]


def test_nothing_found_is_said():
    model = report_model(answer(count=0))
    assert model.findings == ()
    assert model.findings_note.startswith("Nothing failed")


def test_five_changes_are_shown_and_the_rest_counted():
    model = report_model(answer(changes=changes(8)))
    assert len(model.changes) == 5
    assert "3 more" in model.changes_note
    assert (model.changes[0].cost, plain(model.changes[1].cost)) == ("no parts", "EUR 110")
    assert model.changes[0].result.startswith("Not enough alone.")
    assert model.changes[1].result == "Then: suits; wiring: do not energise. Mends: reserve kept."


def test_absence_of_changes_and_questions_is_said():
    model = report_model(answer(changes=(), questions=(), unknown_count=0))
    assert model.changes_note.startswith("No change")
    assert model.questions_note == "No amount is unknown."


def test_questions_are_the_answers():
    assert report_model(answer()).questions == ("suits if the alternator gives 97 A or more: read its label",)


def test_sheet_and_chart_width_follow_the_region():
    metric, us = report_model(answer()), report_model(with_job(answer(units="us"), region="us-ca"))
    assert (metric.paper, us.paper) == ("a4", "us-letter")
    assert metric.chart.width_mm < us.chart.width_mm


def test_empty_names_are_said_to_be_missing():
    model = report_model(with_job(answer(), customer="", author=""))
    assert (told(model, "Customer"), told(model, "Responsible")) == ("not said", "not said")


def test_same_answer_gives_the_same_model():
    assert report_model(answer()) == report_model(answer())


def test_caution_of_a_finding_is_printed_with_it():
    base = answer()
    hot = finding(caution="An overloaded cable can set fire to what touches it.")
    found = dataclasses.replace(base.assessment, findings=(hot,))
    line = report_model(dataclasses.replace(base, assessment=found, worst=found)).findings[0]
    assert line.caution.endswith("An overloaded cable can set fire to what touches it.")


def test_ledger_is_a_mean_of_the_days():
    model = report_model(answer(days=3))
    assert model.ledger_heading == "Energy a day, mean of 3 days"


def test_a_finding_on_the_job_itself_speaks_of_the_whole_job():
    base = answer()
    found = dataclasses.replace(base.assessment, findings=(finding(subject="van-7"),))
    assert (
        report_model(dataclasses.replace(base, assessment=found, worst=found)).findings[0].subject
        == "whole job"
    )


def test_questions_that_turn_no_verdict_are_called_so():
    calm = dataclasses.replace(question(), turns_at=None)
    assert report_model(answer()).questions_note == "Unknown amounts that move the verdicts most."
    assert report_model(answer(questions=(calm,))).questions_note == "None alone changes a verdict."


def test_a_margin_beyond_ten_times_the_limit_is_told_in_words():
    base = answer()
    found = dataclasses.replace(base.assessment, findings=(finding(value=2.0, limit=0.02, unit=""),))
    line = report_model(dataclasses.replace(base, assessment=found, worst=found)).findings[0]
    assert line.figures == ("found 2.00", "at most 0.0200", "far beyond it")

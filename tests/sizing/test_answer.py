import pytest

from ampwright import api


@pytest.fixture(scope="module")
def van(examples):
    return api.check(examples / "night-survey-van.toml")


def _with(examples, tmp_path, name, *swaps):
    text = (examples / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / f"{name}.toml"
    path.write_text(text, encoding="utf-8")
    return api.check(path)


def test_the_verdict_is_taken_over_the_range(van):
    assert van.assessment.use_verdict == "suits"
    assert van.use_verdict == "suits with conditions"
    assert "rating_a" in van.use_sentence


def test_the_first_question_is_the_one_that_moves_the_verdict(van):
    first = van.questions[0]
    assert first.input.path == ("vehicle", "alternator", "rating_a")
    # by hand: the charger takes about 48 A at its input at 13.4 V; (48 + 50) / 0.75 = 131 A
    assert first.turns_at == pytest.approx(131.0, abs=1.5)


def test_no_question_is_asked_that_moves_nothing(van):
    assert all(each.turns_at is not None or each.margin_swing_frac >= 0.005 for each in van.questions)
    assert 0 < len(van.questions) <= 3


def test_putting_the_turning_value_into_the_job_turns_the_verdict(van, examples, tmp_path):
    turn = van.questions[0].turns_at
    old = 'rating_a = { unknown = [110, 180], likely = 150, ask = "read the alternator\'s label" }'
    good = _with(examples, tmp_path, "night-survey-van", (old, f"rating_a = {turn + 1}"))
    bad = _with(examples, tmp_path, "night-survey-van", (old, f"rating_a = {turn - 2}"))
    assert good.assessment.use_verdict == "suits"
    assert bad.assessment.use_verdict == "suits with conditions"


def test_the_cure_is_named_and_costs_nothing(van):
    assert van.changes[0].kind == "setting"
    assert van.changes[0].is_cure
    assert van.changes[0].cost_eur == 0.0


def test_a_job_without_unknowns_has_no_questions(examples, tmp_path):
    answer = _with(
        examples,
        tmp_path,
        "vaccine-outreach",
        ('draw_factor = { unknown = [1.0, 1.15], likely = 1.1, ask = "log the refrigerator\'s Ah over one warm day" }',
         "draw_factor = 1.1"),
    )  # fmt: skip
    assert answer.unknown_count == 0
    assert answer.questions == ()
    assert answer.worst == answer.assessment or answer.worst.use_verdict == answer.assessment.use_verdict


def test_not_fully_checked_is_never_passed_over(van):
    assert van.wiring_verdict == "not fully checked"
    assert van.assessment.wiring_rules.open_rules
    assert van.assessment.wiring_rules.checked_count < van.assessment.wiring_rules.total_count


def test_assumptions_name_weather_and_every_unknown(van):
    text = "\n".join(van.assumptions)
    assert "mean day of October" in text
    for name in ("rating_a", "hot_idle_frac", "draw_factor", "shade_frac"):
        assert name in text


def test_the_same_job_gives_the_same_answer(van, examples):
    again = api.check(examples / "night-survey-van.toml")
    assert again.use_sentence == van.use_sentence
    assert again.changes == van.changes
    assert again.assessment.findings == van.assessment.findings
    assert again.job_hash == van.job_hash


@pytest.mark.parametrize(
    ("name", "verdict"),
    [
        ("night-survey-van", "suits with conditions"),
        ("bicycle-repair-truck", "does not suit"),
        ("vaccine-outreach", "suits"),
    ],
)
def test_the_demonstration_jobs_have_the_verdicts_their_readme_explains(examples, name, verdict):
    answer = api.check(examples / f"{name}.toml")
    assert answer.use_verdict == verdict
    assert answer.wiring_verdict == "not fully checked"
    heading = f"## {name}: {verdict}"
    assert heading in (examples / "README.md").read_text(encoding="utf-8")

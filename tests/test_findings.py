import pytest

from ampwright.findings import Finding, Group, Severity
from ampwright.sources import COMMON_PRACTICE, Source, own_choice


def _finding(value, limit, *, at_most=True):
    return Finding(
        rule="r", group=Group.USE, severity=Severity.PASS, subject="s", message="m",
        value=value, limit=limit, at_most=at_most,
    )  # fmt: skip


def test_margin_is_the_distance_to_the_limit_as_a_fraction():
    assert _finding(75.0, 100.0).margin_frac == pytest.approx(0.25)
    assert _finding(125.0, 100.0).margin_frac == pytest.approx(-0.25)


def test_margin_of_a_lower_limit_is_positive_above_it():
    assert _finding(12.0, 10.0, at_most=False).margin_frac == pytest.approx(0.2)


def test_no_margin_without_figures_or_with_a_limit_of_zero():
    assert _finding(None, 3.0).margin_frac is None
    assert _finding(3.0, None).margin_frac is None
    assert _finding(3.0, 0.0).margin_frac is None


def test_source_text_tells_how_a_figure_was_obtained():
    assert str(Source(document="33 CFR 183.425", place="Table 5")) == "33 CFR 183.425, Table 5"
    assert str(Source(document="IEC 61140", standing="from memory")) == "IEC 61140 (from memory)"
    assert str(COMMON_PRACTICE) == "common practice, no source"
    assert str(own_choice("trend")) == "Ampwright docs/choices.md, trend"

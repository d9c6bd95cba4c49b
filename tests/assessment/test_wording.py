import pytest
from base_jobs import base

from ampwright.assessment.wording import cable_text, length_text, part_source, run_text, temperature_text
from ampwright.parts.catalogue import shipped_catalogue

METRIC, US = base("base-12v").design, base("base-24v").design


def test_cable_is_called_by_its_area_and_never_read_from_its_name() -> None:
    parts = shipped_catalogue().parts
    assert cable_text(parts["cable-4"]) == "4 mm²"
    assert cable_text(parts["cable-6-awg"]) == "6 AWG (13.3 mm²)"
    assert "4.6 mm²" in cable_text(parts["cable-6-outside"])


def test_run_text() -> None:
    assert run_text(METRIC.runs[0]) == "Run W1, 50 mm²"


@pytest.mark.parametrize(
    ("degc", "metric", "us"), [(45.0, "45 °C", "113 °F (45 °C)"), (-40.0, "-40 °C", "-40 °F (-40 °C)")]
)
def test_temperature_in_the_units_of_the_job(degc: float, metric: str, us: str) -> None:
    assert temperature_text(METRIC, degc) == metric
    assert temperature_text(US, degc) == us


@pytest.mark.parametrize(
    ("length_m", "metric", "us"),
    [
        (0.1778, "0.178 m", "7 in (0.178 m)"),
        (0.19, "0.19 m", "7.48 in (0.19 m)"),
        (3.048, "3.05 m", "10.0 ft (3.0 m)"),
    ],
)
def test_length_in_the_units_of_the_job(length_m: float, metric: str, us: str) -> None:
    assert length_text(METRIC, length_m) == metric
    assert length_text(US, length_m) == us


def test_source_of_a_figure_of_a_part() -> None:
    source = part_source(shipped_catalogue().parts["lfp-200"])
    assert "lfp-200" in source.document

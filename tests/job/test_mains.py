"""Names and units of the mains side are checked when the job is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from ampwright.errors import JobError
from ampwright.job.load import load_job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import shipped_catalogue

BASE = Path(__file__).parents[1] / "cases" / "base-mains" / "job.toml"


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    text = BASE.read_text(encoding="utf-8")
    text = text.replace("residual_a = 0.03", "residual_a = 30").replace(
        'inlet_zone = "wall"', 'inlet_zone = "wal"'
    )
    text = text.replace('inverter = "inv-600"\ninlet', 'inverter = "inv-601"\ninlet')
    text = text.replace('inlet = "inlet-230v-16"\ninlet_zone', 'inlet = "inv-600"\ninlet_zone')
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    loaded = load_job(file)
    with pytest.raises(JobError) as error:
        resolve(loaded.job, shipped_catalogue(), loaded=loaded)
    said = {problem.path: problem.message for problem in error.value.problems}
    assert "write ampere, e.g. 0.03" in said["mains > residual_current number 1 > residual_a"]
    assert "did you mean 'wall'" in said["mains > certificate > inlet_zone"]
    assert "an inverter is needed" in said["mains > certificate > inverter"]
    assert "an inlet is needed" in said["mains > certificate > inlet"]

"""Logs against a job: one that is what the job foretells, and ones with a planted trouble."""

import dataclasses
import datetime as dt
import tomllib
from importlib.resources import files

import numpy as np
import pytest

from ampwright import api
from ampwright.assessment.assess import studies_of
from ampwright.energy.simulate import energy_model
from ampwright.fieldwork.log_file import BatteryLog
from ampwright.fieldwork.log_study import log_study
from ampwright.job.quantity import Measured
from ampwright.job.records import Job
from ampwright.validation import validated

MINUTES, RUNS = 15, 5
"""Of a step, and how many of them the compressor runs; the study has its mean."""


@pytest.fixture(scope="module")
def foretold(tmp_path_factory):
    """The outreach vehicle: one refrigerator, little else at night."""
    text = files("ampwright.examples").joinpath("vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("job") / "job.toml"
    path.write_text(text, encoding="utf-8")
    loaded = api.load(path)
    warm, studies = studies_of(loaded.design, loaded.sun)
    return warm, energy_model(warm, loaded.sun, path_ohm=studies.network.path_ohm), studies.energy, text


def log_like(energy, *, more_a=0.0, charge_factor=1.0, fridge_factor=1.0, runs=RUNS):
    """Return a log of the foretold use by the minute, the compressor running five of fifteen, with a trouble planted.

    While a charger holds the voltage it feeds the compressor, so that the battery does not see it run.
    """
    (fridge,) = energy.fridge_loads
    mean_a = energy.load_w[:, fridge] / energy.battery_v
    rest_a = energy.battery_a + mean_a
    rest_a[rest_a > 0.0] *= charge_factor
    is_alone = (energy.battery_a < 0.0)[:, None]
    runs_frac = np.where(is_alone, (np.arange(MINUTES) < runs) * (MINUTES / runs), 1.0)
    amps = rest_a[:, None] - fridge_factor * mean_a[:, None] * runs_frac - more_a
    return BatteryLog(
        start=dt.datetime.fromisoformat("2026-05-04"),
        time_s=60.0 * np.arange(amps.size),
        battery_v=np.repeat(energy.battery_v, MINUTES),
        battery_a=amps.reshape(-1),
        soc_frac=None,
        skipped_count=0,
    )


def found(foretold, **trouble):
    design, model, energy, _ = foretold
    return {line.what: line for line in log_study(design, model, energy, log_like(energy, **trouble)).lines}


def test_a_log_of_just_what_was_foretold_differs_in_nothing(foretold):
    lines = found(foretold)
    assert {line.reading for line in lines.values()} <= {"agrees", "not told"}
    for name in ("charged a day", "discharged a day", "strongest charge, 15 min", "lowest voltage"):
        assert lines[name].reading == "agrees"
        assert not lines[name].causes


def test_a_drain_that_was_not_counted_is_told(foretold):
    lines = found(foretold, more_a=1.5)
    quiet = lines["quiet draw at night"]
    assert quiet.reading == "more"
    assert "drain" in quiet.causes[0]
    assert lines["strongest charge, 15 min"].reading != "more"


def test_a_charger_that_gives_little_is_told_with_the_sources(foretold):
    lines = found(foretold, charge_factor=0.3)
    strongest = lines["strongest charge, 15 min"]
    assert strongest.reading == "less"
    assert any(label in strongest.causes[0] for label in foretold[2].source_labels)


def test_a_refrigerator_that_draws_more_is_told_apart(foretold):
    lines = found(foretold, fridge_factor=1.6)
    (fridge,) = (line for line in lines.values() if line.line)
    assert fridge.reading == "more"
    assert fridge.measured == pytest.approx(1.6 * fridge.expected, rel=0.1)
    assert lines["quiet draw at night"].reading == "agrees"


def test_a_bad_joint_is_told(foretold):
    design, model, energy, _ = foretold
    log = log_like(energy)
    ohm = 3.0 * model.bank.resistance_ohm
    loose = dataclasses.replace(log, battery_v=13.2 + ohm * log.battery_a)
    line = next(
        one for one in log_study(design, model, energy, loose).lines if one.what == "battery and its joints"
    )
    assert line.measured == pytest.approx(1e3 * ohm)
    assert (line.reading, "joint" in line.causes[0]) == ("more", True)


def test_the_line_to_write_is_one_the_job_takes(foretold):
    line = next(line for line in found(foretold).values() if line.line)
    assert line.field == "load 'vaccine-fridge' > draw_factor"
    raw = tomllib.loads(foretold[3])
    (load,) = (one for one in raw["load"] if one["id"] == "vaccine-fridge")
    load.update(tomllib.loads(line.line))
    (changed,) = (one for one in validated(Job, raw).load if one.id == "vaccine-fridge")
    assert isinstance(changed.draw_factor, Measured)

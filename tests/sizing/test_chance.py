import dataclasses

import numpy as np
import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.assessment.run_out import run_out
from ampwright.climate.series import SERIES_ARRAYS, repeated
from ampwright.climate.sun import SunAngles
from ampwright.energy.simulate import energy_result
from ampwright.job.doubt import Doubt
from ampwright.job.unknowns import unknown_inputs, with_values
from ampwright.network.box_air import box_air
from ampwright.sizing import chance as runs_module
from ampwright.sizing.chance import Trial, chance_of, held_count

RUNS = 4
NO_DOUBT = Doubt(
    runs=RUNS, fridge_draw_frac=0, hours_frac=0, shade_frac=0, forget_frac=0, battery_frac=0, alternator_frac=0
)  # fmt: skip


@pytest.fixture(scope="module")
def trial(loaded_example):
    loaded = loaded_example("night-survey-van")
    found = assess(loaded.design, loaded.sun)

    def design_at(values):
        job = with_values(loaded.source.job, values)
        return api.resolve(job, loaded.catalogue, definition=loaded.definition, loaded=loaded.source)

    design = dataclasses.replace(
        loaded.design, job=dataclasses.replace(loaded.design.job, doubt=Doubt(runs=12))
    )
    return Trial(
        design=found.design,
        unknowns=unknown_inputs(loaded.source.job),
        design_at=design_at,
        weather=api.weather_of(design, loaded.source.file.parent),
        typical=loaded.sun,
        path_ohm=found.network.path_ohm,
        box_air=box_air(found.design, found.network.peak_a),
    )


def every_day_typical(trial):
    """Return the trial with runs that all have the typical day, and nothing unknown."""
    days = repeated(trial.typical, len(trial.design.days))
    whole = {
        name: np.tile(getattr(days, name), (RUNS, 1)) for name in ("ghi_w_m2", "dni_w_m2", "ambient_degc")
    }
    angles = SunAngles(days.sun_elevation_deg, days.sun_azimuth_deg, days.extra_normal_w_m2)
    weather = dataclasses.replace(
        trial.weather, day_count=days.day_count, start_day=days.start_day, angles=angles, **whole
    )
    assert set(whole) < set(SERIES_ARRAYS)
    return dataclasses.replace(trial, weather=weather, unknowns=())


def test_threads_change_no_run(trial, monkeypatch):
    doubt = Doubt(runs=6)
    alone, on_threads = [], []
    plain = chance_of(trial, doubt, step=lambda: alone.append(1), has_shares=False)
    monkeypatch.setattr(runs_module, "LONG_DAYS", 0)
    found = chance_of(trial, doubt, step=lambda: on_threads.append(1), has_shares=False)
    assert found.margin_frac.tolist() == plain.margin_frac.tolist()
    assert found.daily_low_frac.tolist() == plain.daily_low_frac.tolist()
    assert found.loads == plain.loads
    assert len(on_threads) == len(alone) == 6


def test_runs_without_weather_and_doubt_are_the_plain_answer(trial):
    calm = every_day_typical(trial)
    plain = energy_result(calm.design, calm.typical, path_ohm=calm.path_ohm, box_air=calm.box_air)
    chance = chance_of(calm, NO_DOUBT)
    margin = run_out(calm.design, plain).margin_frac
    assert chance.margin_frac == pytest.approx([margin] * RUNS, abs=1e-9)
    assert chance.held_count == RUNS
    assert chance.daily_low_frac[2] == pytest.approx(plain.daily_low_frac, abs=1e-9)
    assert chance.worst_soc_frac == pytest.approx(plain.soc_frac, abs=1e-9)
    assert set(chance.shares_frac.values()) == {0.0}


def test_without_sun_and_driving_every_run_fails_and_says_what(trial):
    dark = dataclasses.replace(
        trial,
        weather=dataclasses.replace(
            trial.weather, ghi_w_m2=0 * trial.weather.ghi_w_m2, dni_w_m2=0 * trial.weather.dni_w_m2
        ),
        unknowns=(),
        design=dataclasses.replace(
            trial.design,
            plans=tuple(dataclasses.replace(plan, periods=()) for plan in trial.design.plans),
        ),
    )
    chance = chance_of(dark, dataclasses.replace(NO_DOUBT, runs=2))
    assert chance.held_count == 0
    assert len(chance.first_failure_day) == 2
    assert min(chance.first_failure_day) > 1
    fridge = next(one for one in chance.loads if one.load == "fridge")
    assert fridge.failed_count == 2
    assert fridge.worst_missing_wh >= fridge.missing_wh > 0.0


def test_the_same_seed_gives_the_same_counts_and_shares_add_up(trial):
    doubt = Doubt(runs=12)
    steps = []
    first = chance_of(trial, doubt, step=lambda: steps.append(1))
    again = chance_of(trial, doubt)
    assert len(steps) == 12
    assert (first.margin_frac == again.margin_frac).all()
    assert first.held_count == held_count(trial, doubt)
    assert first.held_count <= 12
    assert sum(first.shares_frac.values()) == pytest.approx(1.0)
    assert (np.diff(first.daily_low_frac, axis=0) >= 0.0).all()
    assert first.margin_frac[first.worst_run] == first.margin_frac.min()


def test_the_course_of_the_worst_run_is_that_run(trial):
    only = chance_of(trial, Doubt(runs=1))
    lows = only.worst_soc_frac[1:].reshape(only.daily_low_frac.shape[1], -1).min(axis=1)
    assert only.daily_low_frac[0] == pytest.approx(lows, abs=1e-12)
    many = chance_of(trial, Doubt(runs=6))
    assert many.worst_soc_frac.shape == only.worst_soc_frac.shape
    assert (many.worst_run == 0) == bool((many.worst_soc_frac == only.worst_soc_frac).all())


def test_fewer_runs_are_the_first_of_more(trial):
    few, many = chance_of(trial, Doubt(runs=3)), chance_of(trial, Doubt(runs=6))
    assert (few.margin_frac == many.margin_frac[:3]).all()

from base_jobs import base

from ampwright.assessment.when import clock_of_step, day_of_step, moment_text


def test_moments_of_a_use() -> None:
    energy = base("base-12v").energy
    per_day = energy.steps_per_day
    assert moment_text(energy, 0) == "on day 1 at 00:00"
    assert day_of_step(energy, per_day - 1) == 1
    assert day_of_step(energy, per_day) == 2
    assert clock_of_step(energy, per_day // 2) == "12:00"

"""Contents of refrigerators over the runs."""

import dataclasses
import json

import numpy as np
import pytest

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.cli.show import shown_json
from ampwright.sizing.contents import Contents, contents_of, contents_over
from ampwright.sizing.contents_words import contents_sentences


@pytest.fixture(scope="module")
def answered(examples, tmp_path_factory):
    text = (examples / "vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("contents") / "job.toml"
    path.write_text(text + "\n[doubt]\nruns = 20\n", encoding="utf-8")
    return api.check(path)


def test_a_study_is_told_by_its_own_course(loaded_example):
    loaded = loaded_example("vaccine-outreach")
    energy = assess(loaded.design, loaded.sun).energy
    (seen,) = contents_of(loaded.design, energy)
    degc = energy.fridge_degc[energy.fridge_is_used[:, 0], 0]
    assert (seen.lowest_degc, seen.highest_degc) == (degc.min(), degc.max())
    assert seen.out_h == 0.0
    warm = energy.fridge_degc.copy()
    warm[10:18] = 8.5
    warm[20:22] = 1.5
    (out,) = contents_of(loaded.design, dataclasses.replace(energy, fridge_degc=warm))
    assert out.out_h == pytest.approx(10 * 0.25)
    assert out.hold_over_h == 0.0 < seen.hold_over_h


def test_without_limits_the_usual_one_is_taken_and_said(loaded_example):
    loaded = loaded_example("night-survey-van")
    load = loaded.design.loads[0]
    assert load.fridge is not None
    for set_degc, high in ((4.0, 8.0), (8.0, 11.0), (-18.0, -15.0)):
        design = dataclasses.replace(
            loaded.design, loads=(dataclasses.replace(load, set_degc=set_degc), *loaded.design.loads[1:])
        )
        seen = Contents(lowest_degc=1.0, highest_degc=2.0, out_h=0.0, hold_over_h=3.0)
        (found,) = contents_over(design, [(seen,), (None,), (seen,)], (0,))
        assert (found.low_degc, found.high_degc, found.is_stated) == (None, high, False)
        assert found.highest_degc.tolist() == [2.0, 2.0]


def test_every_run_is_told_in_the_answer(answered):
    (told,) = json.loads(shown_json(answered))["chance"]["contents"]
    assert (told["low_degc"], told["high_degc"], told["is_stated"]) == (2.0, 8.0, True)
    assert {len(told[name]) for name in ("lowest_degc", "highest_degc", "out_h", "hold_over_h")} == {20}
    failed = next(one for one in answered.chance.loads if one.load == told["load"]).failed_count
    assert sum(hours > 0.0 for hours in told["out_h"]) == failed
    assert all(low <= high for low, high in zip(told["lowest_degc"], told["highest_degc"], strict=True))


def test_sentences_tell_the_middle_run_and_the_worst_twentieth(answered):
    (one,) = answered.chance.contents
    runs = 40
    told = dataclasses.replace(
        one,
        lowest_degc=np.linspace(4.0, 2.0, runs),
        highest_degc=np.linspace(5.0, 9.0, runs),
        out_h=np.concatenate([np.zeros(30), np.arange(1.0, 11.0)]),
        hold_over_h=np.concatenate([[1.5, 2.5], np.full(37, 30.0), [np.inf]]),
    )
    chance = dataclasses.replace(answered.chance, contents=(told,))
    temperature, out, hold = contents_sentences(answered.assessment.design, chance)
    assert temperature.endswith(
        "contents 3 °C to 7 °C in the middle run; in the worst twentieth down to 2 °C, up to 9 °C."
    )
    assert out == ("They do not stay within 2 °C to 8 °C in 10 of 40 runs, for 10 h in the worst one.")
    assert hold == (
        "If its supply fails at the worst moment, 8 °C are reached after 30 h in the middle run, 2.5 h in the worst "
        "twentieth, opened as usual."
    )
    calm = dataclasses.replace(told, out_h=np.zeros(runs), low_degc=None, is_stated=False)
    sentences = contents_sentences(
        answered.assessment.design, dataclasses.replace(answered.chance, contents=(calm,))
    )
    assert sentences[1] == "They stay below the usual 8 °C in all 40 runs."

"""Buttons and interlocks of a job: what is resolved, and everything that is wrong with them at once."""

import pytest
from job_files import design_of, problems_of, saved, starting


def with_buttons(*buttons, interlock=(), channel=()):
    raw = starting()
    raw["part"] += [
        {"id": "outs", "part": "out-12", "zone": "bench"},
        {"id": "keys", "part": "buttons-6", "zone": "bench"},
        {"id": "hand", "part": "remote-4", "zone": "bench"},
    ]
    raw["channel"] = [
        {"module": "outs", "number": 5, "name": "Red"},
        {"module": "outs", "number": 6, "name": "White"},
        {"module": "outs", "number": 7, "name": "Logger", "is_always_on": True},
        *channel,
    ]
    raw["button"] = [
        {"panel": "keys", "number": at, "legend": "X"} | each for at, each in enumerate(buttons, 1)
    ]
    raw["interlock"] = list(interlock)
    return raw


def problems(folder, raw):
    return problems_of(saved(folder, raw))[0]


def test_names_become_positions(tmp_path):
    scene = {"does": "scene", "level": [{"channel": "outs.6", "level_frac": 0.3}, {"channel": "outs.5"}]}
    end = {"panel": "hand", "does": "all-off", "keeps": ["outs.5"]}
    lock = {"channels": ["outs.6"], "off_while": ["road"], "reason": "white light rearwards"}
    design = design_of(saved(tmp_path, with_buttons({"channels": ["outs.5"]}, scene, end, interlock=[lock])))
    toggle, evening, off = design.buttons
    assert (toggle.does, toggle.channels, design.parts[toggle.part].id) == ("toggle", (0,), "keys")
    assert (evening.channels, evening.levels_frac) == ((1, 0), (0.3, 1.0))
    assert (off.channels, off.keeps, design.parts[off.part].id) == ((), (0,), "hand")
    (kept,) = design.interlocks
    assert (kept.channels, kept.off_while, kept.when_lost) == ((1,), ("road",), "off")


def test_a_job_without_buttons_stays_valid(tmp_path):
    design = design_of(saved(tmp_path, starting()))
    assert (design.buttons, design.interlocks) == ((), ())


ONE = {"channels": ["outs.5"]}
WRONG = {
    "panel": ({**ONE, "panel": "kesy"}, "panel", "no button panel or remote 'kesy'; did you mean 'keys'"),
    "part that is no panel": ({**ONE, "panel": "outs"}, "panel", "no button panel or remote 'outs'"),
    "number": ({**ONE, "number": 7}, "number", "'keys' has buttons 1 to 6"),
    "legend": ({**ONE, "legend": " "}, "legend", "a button needs a legend"),
    "channel": ({"channels": ["outs.8"]}, "channels number 1", "no [[channel]] describes 'outs.8'"),
    "channel twice": ({"channels": ["outs.5", "outs.5"]}, "channels number 2", "'outs.5' is named twice"),
    "nothing": ({}, "channels", "a button that does 'toggle' needs channels"),
    "empty scene": ({"does": "scene"}, "level", "a button that does 'scene' needs level"),
    "scene with channels": (
        {"does": "scene", "level": [{"channel": "outs.5"}], **ONE},
        "channels",
        "a button that does 'scene' knows no channels; take it out and use level",
    ),
    "toggle that keeps": (
        {**ONE, "keeps": ["outs.6"]},
        "keeps",
        "a button that does 'toggle' knows no keeps",
    ),
    "all off with channels": ({"does": "all-off", **ONE}, "channels", "knows no channels; take it out"),
    "scene channel": (
        {"does": "scene", "level": [{"channel": "x"}]},
        "level number 1 > channel",
        "describes 'x'",
    ),
    "one colour": ({"does": "two-colours", **ONE}, "channels", "two colours are two channels; 1 are named"),
    "always on": ({"channels": ["outs.7"]}, "", "channel 7 'Logger' is always on; take is_always_on out"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_be_meant_is_said_with_its_place(tmp_path, name):
    button, field, words = WRONG[name]
    place = f"button number 1 > {field}" if field else "button number 1"
    found = problems(tmp_path, with_buttons(button))
    assert any(problem.path == place and words in problem.message for problem in found), found


def test_everything_wrong_is_said_at_once(tmp_path):
    buttons = [button for button, _, _ in WRONG.values()][:4]
    found = problems(tmp_path, with_buttons(*buttons, interlock=[{"channels": ["outs.9"], "off_while": []}]))
    assert [problem.path for problem in found] == [
        "button number 1 > panel",
        "button number 2 > panel",
        "button number 3 > number",
        "button number 4 > legend",
        "interlock number 1 > channels number 1",
        "interlock number 1 > off_while",
    ]


def test_one_button_does_one_thing(tmp_path):
    found = problems(tmp_path, with_buttons(ONE, {**ONE, "number": 1}))
    assert [problem.message for problem in found] == [
        "button 1 of 'keys' is described twice; one button does one thing"
    ]


@pytest.mark.parametrize(
    "other",
    [
        {"channels": ["outs.5", "outs.6"]},
        {"does": "scene", "level": [{"channel": "outs.5"}, {"channel": "outs.6", "level_frac": 0.5}]},
    ],
)
def test_both_colours_of_a_lamp_are_never_asked_for(tmp_path, other):
    lamp = {"does": "two-colours", "channels": ["outs.5", "outs.6"]}
    found = problems(tmp_path, with_buttons(lamp, other))
    assert [problem.path for problem in found] == ["button number 2"]
    assert "both colours of one lamp" in found[0].message


def test_a_scene_may_choose_one_colour(tmp_path):
    lamp = {"does": "two-colours", "channels": ["outs.5", "outs.6"]}
    scene = {"does": "scene", "level": [{"channel": "outs.5"}, {"channel": "outs.6", "level_frac": 0.0}]}
    assert len(design_of(saved(tmp_path, with_buttons(lamp, scene))).buttons) == 2


def test_interlock_of_what_is_always_on_contradicts_itself(tmp_path):
    lock = {"channels": ["outs.7"], "off_while": ["road"]}
    found = problems(tmp_path, with_buttons(ONE, interlock=[lock, {"channels": [], "off_while": ["road"]}]))
    assert [problem.path for problem in found] == ["interlock number 1", "interlock number 2 > channels"]

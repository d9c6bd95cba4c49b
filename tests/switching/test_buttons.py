"""The state machine of the buttons, by hand on small plans and by any sequence of presses on drawn ones."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.design_buttons import DesignButton, DesignInterlock
from ampwright.switching.buttons import (
    VEHICLE_SIGNALS,
    ButtonPlan,
    SwitchState,
    blocked,
    first_state,
    hold,
    is_lit,
    press,
    release,
    signalled,
)
from ampwright.switching.exercise import buttons_without_effect, channels_reached

Step = Callable[[SwitchState], SwitchState]


def button(index: int, does: str, *channels: int, **more: Any) -> DesignButton:
    values = {"levels_frac": (), "keeps": (), "part": 0, "number": index + 1, "legend": f"B{index}"}
    return DesignButton(index=index, does=does, channels=channels, **(values | more))  # type: ignore[arg-type]


def plan(*buttons: DesignButton, channels: int = 3, **more: Any) -> ButtonPlan:
    values: dict[str, Any] = {"always_on": (False,) * channels, "interlocks": ()}
    pairs = tuple(each.channels for each in buttons if each.does == "two-colours")
    return ButtonPlan(buttons=buttons, pairs=pairs, **(values | more))  # type: ignore[arg-type]


def lock(*channels: int, off_while: tuple[str, ...] = ("road",), when_lost: str = "off") -> DesignInterlock:
    return DesignInterlock(
        channels=channels,
        off_while=off_while,  # type: ignore[arg-type]
        when_lost=when_lost,  # type: ignore[arg-type]
        told_by="",
        reason="",
    )


def levels(state: SwitchState) -> list[float]:
    return list(state.levels_frac)


def test_toggle_goes_off_when_any_of_its_channels_is_on() -> None:
    one, both = button(0, "toggle", 0), button(1, "toggle", 0, 1)
    board = plan(one, both)
    state = press(first_state(board), one, plan=board)
    assert levels(state) == [1, 0, 0]
    state = press(state, both, plan=board)
    assert levels(state) == [0, 0, 0]
    assert levels(press(state, both, plan=board)) == [1, 1, 0]


def test_momentary_is_on_while_any_of_two_buttons_is_held() -> None:
    here, there = button(0, "momentary", 0), button(1, "momentary", 0)
    board = plan(here, there)
    state = press(press(first_state(board), here, plan=board), there, plan=board)
    state = release(state, here, plan=board)
    assert levels(state) == [1, 0, 0]
    assert levels(release(state, there, plan=board)) == [0, 0, 0]
    assert release(state, here, plan=board) == state


def test_hold_dims_by_quarters_and_a_press_brings_the_level_back() -> None:
    lamp = button(0, "dim", 0)
    board = plan(lamp)
    state = press(first_state(board), lamp, plan=board)
    seen = []
    for _ in range(4):
        state = hold(state, lamp, plan=board)
        seen.append(state.levels_frac[0])
    assert seen == [0.75, 0.5, 0.25, 1.0]
    state = hold(state, lamp, plan=board)
    state = press(press(state, lamp, plan=board), lamp, plan=board)
    assert levels(state) == [0.75, 0, 0]
    assert levels(hold(first_state(board), lamp, plan=board)) == [0.25, 0, 0]


def test_second_press_changes_colour_third_ends_it() -> None:
    lamp = button(0, "two-colours", 0, 1)
    board = plan(lamp)
    state, seen = first_state(board), []
    for _ in range(4):
        state = press(state, lamp, plan=board)
        seen.append(levels(state)[:2])
    assert seen == [[1, 0], [0, 1], [0, 0], [1, 0]]


def test_a_colour_that_is_kept_off_is_passed_over() -> None:
    lamp = button(0, "two-colours", 0, 1)
    first_off, second_off = plan(lamp, interlocks=(lock(0),)), plan(lamp, interlocks=(lock(1),))
    assert levels(press(first_state(first_off, "road"), lamp, plan=first_off))[:2] == [0, 1]
    state = press(first_state(second_off, "road"), lamp, plan=second_off)
    assert levels(state)[:2] == [1, 0]
    assert levels(press(state, lamp, plan=second_off))[:2] == [0, 0]


def test_scene_leaves_others_and_all_off_keeps_what_it_says() -> None:
    toggle = button(0, "toggle", 2)
    scene = button(1, "scene", 0, 1, levels_frac=(0.4, 0.0))
    end = button(2, "all-off", keeps=(2,))
    board = plan(toggle, scene, end)
    state = press(press(first_state(board), toggle, plan=board), scene, plan=board)
    assert levels(state) == [0.4, 0, 1]
    assert is_lit(state, scene, plan=board)
    state = press(state, end, plan=board)
    assert levels(state) == [0, 0, 1]
    assert is_lit(state, end, plan=board)
    assert not is_lit(state, scene, plan=board)


def test_white_light_rearwards_off_on_the_road_on_for_reversing_and_off_without_a_signal() -> None:
    lamp = button(0, "toggle", 0)
    board = plan(lamp, interlocks=(lock(0),))
    parked = press(first_state(board), lamp, plan=board)
    driving = signalled(parked, "road", plan=board)
    assert levels(driving) == [0, 0, 0]
    assert levels(press(driving, lamp, plan=board)) == [0, 0, 0]
    backing = signalled(driving, "reversing", plan=board)
    assert levels(backing) == [0, 0, 0], "nothing comes on by itself"
    backing = press(backing, lamp, plan=board)
    assert levels(backing) == [1, 0, 0]
    assert levels(signalled(backing, "lost", plan=board)) == [0, 0, 0]


def test_as_parked_keeps_a_light_when_the_signal_is_lost() -> None:
    lamp = button(0, "toggle", 0)
    board = plan(lamp, interlocks=(lock(0, when_lost="as-parked"),))
    state = press(first_state(board), lamp, plan=board)
    assert levels(signalled(state, "lost", plan=board)) == [1, 0, 0]
    strict = plan(lamp, interlocks=(lock(0, off_while=("parked",), when_lost="as-parked"),))
    assert blocked(strict, "lost") == {0}


def test_what_is_always_on_is_on_from_the_start_and_no_all_off_ends_it() -> None:
    end = button(1, "all-off")
    board = plan(button(0, "toggle", 0), end, always_on=(False, True, False))
    assert levels(press(first_state(board), end, plan=board)) == [0, 1, 0]


def test_buttons_without_effect() -> None:
    dead = button(0, "toggle", 0)
    board = plan(dead, interlocks=(lock(0, off_while=("parked", "road", "reversing")),))
    assert buttons_without_effect(board) == (0,)
    assert channels_reached(board) == frozenset()
    only_off = plan(button(0, "toggle", 0), button(1, "all-off", keeps=(0,)))
    assert buttons_without_effect(only_off) == (1,)
    dark = plan(button(0, "scene", 1, levels_frac=(0.0,)), button(1, "toggle", 0))
    assert buttons_without_effect(dark) == (0,)
    assert channels_reached(dark) == {0}


CHANNELS = st.integers(0, 3)


@st.composite
def drawn_plans(draw: st.DrawFn) -> ButtonPlan:
    """Draw plans of up to five buttons on four channels; no button brings both colours of a lamp on."""
    buttons: list[DesignButton] = []
    pair = draw(st.sampled_from([None, (0, 1), (2, 1)]))
    if pair:
        buttons.append(button(0, "two-colours", *pair))
    for _ in range(draw(st.integers(1, 4))):
        does = draw(st.sampled_from(["toggle", "momentary", "dim", "scene", "all-off"]))
        some = tuple(draw(st.sets(CHANNELS, min_size=1, max_size=3)))
        if pair and set(pair) <= set(some):
            some = tuple(each for each in some if each != pair[1])
        if does == "all-off":
            buttons.append(button(len(buttons), does, keeps=draw(st.sampled_from([(), some]))))
        elif does == "scene":
            frac = tuple(draw(st.sampled_from([0.0, 0.4, 1.0])) for _ in some)
            buttons.append(button(len(buttons), does, *some, levels_frac=frac))
        else:
            buttons.append(button(len(buttons), does, *some))
    locks = tuple(
        lock(
            draw(CHANNELS),
            off_while=tuple(draw(st.sets(st.sampled_from(["parked", "road", "reversing"]), min_size=1))),
            when_lost=draw(st.sampled_from(["off", "as-parked"])),
        )
        for _ in range(draw(st.integers(0, 2)))
    )
    return plan(*buttons, channels=4, interlocks=locks)


def steps(board: ButtonPlan) -> list[Step]:
    """Return everything that can happen: a press, hold or release of each button, a word of the vehicle."""
    found: list[Step] = []
    for each in board.buttons:
        found += [
            lambda state, each=each: press(state, each, plan=board),  # type: ignore[misc]
            lambda state, each=each: hold(state, each, plan=board),  # type: ignore[misc]
            lambda state, each=each: release(state, each, plan=board),  # type: ignore[misc]
        ]
    found += [lambda state, word=word: signalled(state, word, plan=board) for word in VEHICLE_SIGNALS]  # type: ignore[misc]
    return found


@given(st.data(), drawn_plans())
def test_under_any_sequence(data: st.DataObject, board: ButtonPlan) -> None:
    state = first_state(board)
    for step in data.draw(st.lists(st.sampled_from(steps(board)), max_size=12)):
        state = step(state)
        assert not any(state.levels_frac[channel] for channel in blocked(board, state.vehicle))
        assert not any(state.levels_frac[one] and state.levels_frac[two] for one, two in board.pairs)
        assert all(0.0 <= level_frac <= 1.0 for level_frac in state.levels_frac)
        assert all(level_frac > 0.0 for level_frac in state.remembered_frac)
        on = {channel for channel, level_frac in enumerate(state.levels_frac) if level_frac}
        assert on <= channels_reached(board)
        for end in (each for each in board.buttons if each.does == "all-off"):
            after = press(state, end, plan=board)
            left = {channel for channel, level_frac in enumerate(after.levels_frac) if level_frac}
            assert left == on & set(end.keeps)
        for one in board.buttons:  # two buttons that do the same show the same
            for two in board.buttons:
                if (one.does, one.channels, one.levels_frac, one.keeps) == (
                    two.does,
                    two.channels,
                    two.levels_frac,
                    two.keeps,
                ):
                    assert is_lit(state, one, plan=board) == is_lit(state, two, plan=board)
                    if one.does != "momentary":
                        assert press(state, one, plan=board) == press(state, two, plan=board)


def explored(board: ButtonPlan) -> set[SwitchState]:
    """Return every state that any sequence can bring about, found by trying all of them."""
    found = {first_state(board)}
    waiting = list(found)
    while waiting:
        state = waiting.pop()
        for step in steps(board):
            after = step(state)
            if after not in found:
                found.add(after)
                waiting.append(after)
        assert len(found) < 200_000
    return found


@given(drawn_plans().filter(lambda board: len(board.buttons) <= 2))
def test_short_proofs_agree_with_trying_every_sequence(board: ButtonPlan) -> None:
    states = explored(board)
    on = {channel for state in states for channel, level in enumerate(state.levels_frac) if level}
    assert channels_reached(board) == on
    idle = tuple(
        each.index
        for each in board.buttons
        if all(press(state, each, plan=board).levels_frac == state.levels_frac for state in states)
    )
    assert buttons_without_effect(board) == idle

"""What buttons can bring about: channels some sequence of presses turns on, and buttons that never do anything."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.switching.buttons import (
    VEHICLE_SIGNALS,
    ButtonPlan,
    SwitchState,
    first_state,
    press,
)

__all__ = ["buttons_without_effect", "channels_reached"]


def channels_reached(plan: ButtonPlan) -> frozenset[int]:
    """Return the channels that some sequence of presses turns on in some state of the vehicle.

    From all off a button turns on all it ever can: only interlocks hold it back, and they do not depend on what is
    on. Two presses show both colours of a lamp.
    """
    return frozenset(
        channel
        for state in _states(plan)
        for channel, level_frac in enumerate(state.levels_frac)
        if level_frac > 0.0 and channel in plan.switchable
    )


def buttons_without_effect(plan: ButtonPlan) -> tuple[int, ...]:
    """Return the positions of the buttons that change nothing in any state that can be reached.

    It is enough to look after one or two presses of each single button: what a button turns on it turns on from
    all off, and what it only turns off some other button has turned on.
    """
    states = tuple(_states(plan))
    return tuple(
        button.index
        for button in plan.buttons
        if all(press(state, button, plan=plan).levels_frac == state.levels_frac for state in states)
    )


def _states(plan: ButtonPlan) -> Iterator[SwitchState]:
    """Yield all off, and what one or two presses of each button make of it, for every signal of the vehicle."""
    for vehicle in VEHICLE_SIGNALS:
        start = first_state(plan, vehicle)
        yield start
        for button in plan.buttons:
            once = press(start, button, plan=plan)
            yield once
            yield press(once, button, plan=plan)

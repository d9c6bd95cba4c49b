"""What happens when buttons are pressed: a state machine of pure functions, one state for all panels.

Levels belong to channels, not to buttons, so that two panels can never disagree. An interlock acts last, on every
change; what it turned off stays off until somebody presses again.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Literal

from ampwright.job.design import Design
from ampwright.job.design_buttons import DesignButton, DesignInterlock
from ampwright.records import record

__all__ = [
    "DIM_STEPS_FRAC",
    "VEHICLE_SIGNALS",
    "ButtonPlan",
    "SwitchState",
    "VehicleSignal",
    "blocked",
    "button_plan",
    "first_state",
    "hold",
    "is_lit",
    "press",
    "release",
    "signalled",
]

VehicleSignal = Literal["parked", "road", "reversing", "lost"]
VEHICLE_SIGNALS: tuple[VehicleSignal, ...] = ("parked", "road", "reversing", "lost")
DIM_STEPS_FRAC = (1.0, 0.75, 0.5, 0.25)
"""Levels a held button goes through, then from the first again (own choice, docs/choices.md#dim-steps)."""


@record
class ButtonPlan:
    """What the buttons of a design do."""

    always_on: tuple[bool, ...]
    """One for each channel of the design: True when it is on whenever its module is fed."""
    buttons: tuple[DesignButton, ...]
    """Buttons."""
    pairs: tuple[tuple[int, int], ...]
    """Channels of two-colour lamps, of which never both are on."""
    interlocks: tuple[DesignInterlock, ...]
    """Channels that stay off in some states of the vehicle."""

    @property
    def switchable(self) -> frozenset[int]:
        """Positions of the channels that some button switches."""
        return frozenset(channel for button in self.buttons for channel in button.channels)


@record
class SwitchState:
    """How the switching stands: one for all panels."""

    levels_frac: tuple[float, ...]
    """Level of each channel; 0 = off."""
    remembered_frac: tuple[float, ...]
    """Level each channel comes on with."""
    held: frozenset[int]
    """Momentary buttons that are held down."""
    vehicle: VehicleSignal
    """What the vehicle tells."""


def button_plan(design: Design) -> ButtonPlan:
    """Return the plan of a design's buttons."""
    return ButtonPlan(
        always_on=tuple(channel.is_always_on for channel in design.channels),
        buttons=design.buttons,
        pairs=tuple(
            (each.channels[0], each.channels[1]) for each in design.buttons if each.does == "two-colours"
        ),
        interlocks=design.interlocks,
    )


def first_state(plan: ButtonPlan, vehicle: VehicleSignal = "parked") -> SwitchState:
    """Return the state after power is connected: all off but what is always on."""
    return SwitchState(
        levels_frac=tuple(1.0 if is_on else 0.0 for is_on in plan.always_on),
        remembered_frac=tuple(1.0 for _ in plan.always_on),
        held=frozenset(),
        vehicle=vehicle,
    )


def blocked(plan: ButtonPlan, vehicle: VehicleSignal) -> frozenset[int]:
    """Return the channels that interlocks keep off while the vehicle tells this.

    Without a signal an interlock holds, unless it says that its channels are then switched as if parked.
    """
    return frozenset(
        channel for lock in plan.interlocks if _holds(lock, vehicle) for channel in lock.channels
    )


def _holds(lock: DesignInterlock, vehicle: VehicleSignal) -> bool:
    if vehicle == "lost":
        return lock.when_lost == "off" or "parked" in lock.off_while
    return vehicle in lock.off_while


def signalled(state: SwitchState, vehicle: VehicleSignal, *, plan: ButtonPlan) -> SwitchState:
    """Return the state after the vehicle tells something else."""
    return _set(dataclasses.replace(state, vehicle=vehicle), {}, plan=plan)


def press(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> SwitchState:
    """Return the state after a short press; of a momentary button, while it is down."""
    if button.does == "momentary":
        state = dataclasses.replace(state, held=state.held | {button.index})
    return _set(state, _wanted(state, button, plan=plan), plan=plan)


def hold(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> SwitchState:
    """Return the state after a dimming button was held for one step; any other button ignores a hold."""
    if button.does != "dim":
        return state
    now = max((state.levels_frac[channel] for channel in button.channels), default=0.0)
    lower = next((step for step in DIM_STEPS_FRAC if step < now), DIM_STEPS_FRAC[0])
    wanted = lower if now > 0.0 else DIM_STEPS_FRAC[-1]
    return _set(state, dict.fromkeys(button.channels, wanted), plan=plan)


def release(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> SwitchState:
    """Return the state after a momentary button was let go; another one that is held keeps its channels on."""
    if button.index not in state.held:
        return state
    held = state.held - {button.index}
    kept = {channel for index in held for channel in plan.buttons[index].channels}
    off = {channel: 0.0 for channel in button.channels if channel not in kept}
    return _set(dataclasses.replace(state, held=held), off, plan=plan)


def is_lit(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> bool:
    """Say whether the button's lamp is lit: something of it is on, a scene stands as set, all-off has nothing left to do."""
    if button.does == "scene":
        return all(
            state.levels_frac[channel] == level_frac
            for channel, level_frac in zip(button.channels, button.levels_frac, strict=True)
        )
    if button.does == "all-off":
        return not any(state.levels_frac[channel] for channel in plan.switchable - set(button.keeps))
    return any(state.levels_frac[channel] for channel in button.channels)


def _wanted(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> Mapping[int, float]:
    """Return the levels a press asks for, by channel."""
    if button.does == "scene":
        return dict(zip(button.channels, button.levels_frac, strict=True))
    if button.does == "all-off":
        return dict.fromkeys(plan.switchable - set(button.keeps), 0.0)
    if button.does == "two-colours":
        return _next_colour(state, button, plan=plan)
    is_on = any(state.levels_frac[channel] for channel in button.channels)
    if is_on and button.does != "momentary":
        return dict.fromkeys(button.channels, 0.0)
    return {channel: state.remembered_frac[channel] for channel in button.channels}


def _next_colour(state: SwitchState, button: DesignButton, *, plan: ButtonPlan) -> Mapping[int, float]:
    """Return off -> first colour -> second colour -> off; a colour kept off by an interlock is passed over."""
    first, second = button.channels
    turns = [
        {first: state.remembered_frac[first], second: 0.0},
        {first: 0.0, second: state.remembered_frac[second]},
        {first: 0.0, second: 0.0},
    ]
    if state.levels_frac[second]:
        return turns[2]
    no = blocked(plan, state.vehicle)
    if state.levels_frac[first] or first in no:
        return turns[2] if second in no else turns[1]
    return turns[0]


def _set(state: SwitchState, wanted: Mapping[int, float], *, plan: ButtonPlan) -> SwitchState:
    """Return the state with these levels: one colour of a lamp ends the other, and interlocks act last."""
    no = blocked(plan, state.vehicle)
    levels = list(state.levels_frac)
    remembered = list(state.remembered_frac)
    for channel, level_frac in wanted.items():
        levels[channel] = 0.0 if channel in no else level_frac
        if level_frac > 0.0 and channel not in no:
            remembered[channel] = level_frac
            for pair in plan.pairs:
                for other in pair if channel in pair else ():
                    levels[other] = levels[other] if other == channel else 0.0
    for channel in no:
        levels[channel] = 0.0
    return dataclasses.replace(state, levels_frac=tuple(levels), remembered_frac=tuple(remembered))

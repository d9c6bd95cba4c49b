"""A second alternator straight on the auxiliary battery: one more source, with no charger between."""

from __future__ import annotations

import numpy as np

from ampwright.energy.alternator import ENGINE_ON, AlternatorState, charging_v, state_weights
from ampwright.energy.charger_row import ChargerRow, charger_path_ohm
from ampwright.energy.frame import Frame
from ampwright.job.nodes import SECOND_NODE
from ampwright.job.supply import SECOND, is_second_direct, supply

__all__ = ["direct_rows"]


def direct_rows(frame: Frame, states: tuple[AlternatorState, ...]) -> list[ChargerRow]:
    """Return a second alternator straight on the auxiliary battery: a voltage with a current limit, no charger between."""
    design = frame.design
    if not is_second_direct(design):
        return []
    pairs = [
        pair for pair in zip(state_weights(frame, states), states, strict=True) if pair[1].name == SECOND
    ]
    vehicle = supply(design, SECOND)
    present = frame.presence(design.parts[design.battery])
    limit = sum(weight * one.spare_a for weight, one in pairs)
    power = sum(weight * one.spare_a * charging_v(vehicle, one.state) for weight, one in pairs)
    return [
        ChargerRow(
            label=SECOND_NODE,
            part=-1,
            kind="alternator",
            set_v=min(charging_v(vehicle, state) for state in ENGINE_ON),
            path_ohm=charger_path_ohm(design, frame.path_ohm, SECOND_NODE),
            efficiency_frac=1.0,
            limit_a=np.asarray(limit) * present,
            available_w=np.asarray(power) * present,
        )
    ]

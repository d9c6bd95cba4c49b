"""Every corner of a design, in the order in which results are listed."""

from __future__ import annotations

import dataclasses

from ampwright.job.design import Design
from ampwright.job.joins import closes_while_starting, relay_joins
from ampwright.network.alone import AloneGroup
from ampwright.network.converted import with_converted
from ampwright.network.corner import Corner
from ampwright.network.corners import (
    alone_corners,
    battery_low_corners,
    charging_corners,
    hooked_up_joined,
    panel_corners,
)
from ampwright.network.result import FloatArray
from ampwright.network.short_corners import crank_corners, overload_corners
from ampwright.network.situations import Situation, with_relays_closed
from ampwright.network.vehicle_side import vehicle_corners
from ampwright.records import record

__all__ = ["Corners", "all_corners"]


@record
class Corners:
    """Corners by what they decide."""

    lasting: tuple[Corner, ...]
    """What can last: it counts for voltages and for what cables carry."""
    alone: tuple[Corner, ...]
    """Each group of loads alone: battery low, then charging. They last as well."""
    overload: tuple[Corner, ...]
    """Each inverter in overload."""
    crank: tuple[Corner, ...]
    """Engine start."""


def all_corners(
    design: Design, cases: tuple[Situation, ...], groups: tuple[AloneGroup, ...], ohm: FloatArray
) -> Corners:
    """Return all corners of a design.

    Parameters
    ----------
    cases : everything attached first
    ohm : (n_branches,) resistance of every branch at working temperature
    """
    lasting: list[Corner] = []
    overload: list[Corner] = []
    crank: list[Corner] = []
    for here in cases:
        lasting += _where(here, with_converted(design, here, battery_low_corners(design, here)))
        lasting += _where(here, with_converted(design, here, charging_corners(design, here)))
        lasting += _where(here, with_converted(design, here, vehicle_corners(design, here, ohm)))
        overload += _where(here, with_converted(design, here, overload_corners(design, here, ohm)))
        crank += _where(here, crank_corners(design, here, ohm))
        closed = with_relays_closed(here)
        if closed is None:
            continue
        lasting += _where(here, with_converted(design, closed, vehicle_corners(design, closed, ohm)))
        lasting += _where(here, with_converted(design, closed, hooked_up_joined(design, closed)))
        if any(closes_while_starting(join) for join in relay_joins(design)):
            crank += _where(here, crank_corners(design, closed, ohm))
    lasting += panel_corners(design, cases[0], ohm)
    return Corners(
        lasting=tuple(lasting),
        alone=with_converted(design, cases[0], alone_corners(design, cases[0], groups)),
        overload=tuple(overload),
        crank=tuple(crank),
    )


def _where(here: Situation, found: tuple[Corner, ...]) -> tuple[Corner, ...]:
    return tuple(dataclasses.replace(corner, present=here.present) for corner in found)

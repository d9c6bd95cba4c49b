"""Air inside enclosures and what it leaves of chargers and inverters: a fixed point.

Losses of everything inside warm the air until walls and vents carry them away; chargers and inverters
give less in warmer air, which lowers their losses. The balance falls with temperature on one side and
rises on the other, so there is exactly one point, and it is found by halving.
"""

from __future__ import annotations

import math

from ampwright.job.design import Design, DesignPart
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.hardware import Enclosure
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.records import record

__all__ = ["EnclosureHeat", "PartHeat", "enclosure_heat", "output_frac", "vent_w"]

HALVINGS = 60
HOTTEST_RISE_K = 200.0
"""Upper end of the search; above it no part of the catalogue gives anything."""
STEADY_W = 0.5
"""A balance left open by more than this at the end of the search is a jump, not a point (docs/choices.md#steady-balance)."""
AIR_DENSITY_KG_M3 = 1.2  # dry air near 20 degC and sea level, ISO 2533
AIR_HEAT_J_PER_KG_K = 1006.0  # specific heat of dry air near 20 degC (from memory)
GRAVITY_M_S2 = 9.80665  # standard acceleration, ISO 80000-3
DISCHARGE_FACTOR = 0.6  # sharp-edged opening, Bernoulli flow (from memory)


@record
class PartHeat:
    """One part in the warm air of its enclosure."""

    part: int
    """Index of the part."""
    output_frac: float
    """Share of its full output that is left."""
    loss_w: float
    """Heat it gives off there."""


@record
class EnclosureHeat:
    """The fixed point of one enclosure."""

    part: int
    """Index of the enclosure's part."""
    outside_degc: float
    """Air around it."""
    air_degc: float
    """Air inside with everything at the output it still gives."""
    loss_w: float
    """Heat of all parts inside."""
    is_cycling: bool
    """True when no steady point exists: a part switches off by heat and on again, around this air."""
    parts: tuple[PartHeat, ...]
    """Parts inside that lose heat; while cycling, at the moment they are off."""


def vent_w(area_mm2: float, *, height_mm: float, outside_degc: float, rise_k: float) -> float:
    """Return the heat carried out through vents at bottom and top by warm air rising.

    Flow through two equal openings one above the other, q = C A sqrt(2 g H dT / (2 T)): half of the pressure
    difference of the stack drives each opening (Bernoulli; the form of textbooks on natural ventilation,
    from memory). Half of the free area is inlet, half outlet. Valid for rises up to some 60 K.

    Examples
    --------
    >>> vent_w(0.0, height_mm=300.0, outside_degc=30.0, rise_k=10.0)
    0.0
    >>> round(vent_w(10_000.0, height_mm=300.0, outside_degc=30.0, rise_k=10.0), 1)
    11.3
    """
    if area_mm2 <= 0.0 or rise_k <= 0.0:
        return 0.0
    opening_m2 = 0.5 * area_mm2 / 1e6
    head = GRAVITY_M_S2 * (height_mm / 1000.0) * rise_k / (outside_degc + 273.15)
    flow_m3_s = DISCHARGE_FACTOR * opening_m2 * math.sqrt(head)
    return AIR_DENSITY_KG_M3 * AIR_HEAT_J_PER_KG_K * flow_m3_s * rise_k


def output_frac(part: object, air_degc: float) -> float:
    """Return the share of its full output a charger or inverter gives in air of this temperature.

    Chargers fall in a straight line between the two temperatures of their record. An inverter's falls
    through its two stated powers, at 25 and 40 degC, and is not reckoned above its highest ambient.
    """
    if isinstance(part, AlternatorCharger | MainsCharger):
        span = part.derate_end_degc - part.derate_start_degc
        if span <= 0.0:
            return 1.0 if air_degc < part.derate_end_degc else 0.0
        return min(max((part.derate_end_degc - air_degc) / span, 0.0), 1.0)
    if isinstance(part, Inverter):
        slope = (part.continuous_w - part.continuous_at_40_degc_w) / 15.0
        left_w = part.continuous_w - slope * max(air_degc - 25.0, 0.0)
        return min(max(left_w / part.continuous_w, 0.0), 1.0) if air_degc <= part.ambient_max_degc else 0.0
    if isinstance(part, PanelController):
        return 1.0 if air_degc <= part.ambient_max_degc else 0.0
    return 1.0


def _full_loss_w(design: Design, placed: DesignPart, share: float) -> float:
    """Return the heat of a part that gives this share of its full output."""
    part = placed.part
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
        setting = placed.setting
        limit_a = setting.output_limit_a if setting and setting.output_limit_a else part.output_max_a
        set_v = setting.charge_v if setting and setting.charge_v else part.charge_v
        out_w = share * min(limit_a, part.output_max_a) * set_v
        return out_w * (1.0 / part.efficiency_frac - 1.0)
    if isinstance(part, Inverter):
        wanted_w = sum(load.power_w for load in design.loads if load.inverter == placed.index)
        ac_w = min(wanted_w, share * part.continuous_w)
        return inverter_dc_w(part, ac_w) - ac_w
    return part.heat_loss_w + part.standby_a * design.system_v


def enclosure_heat(design: Design) -> tuple[EnclosureHeat, ...]:
    """Return the air inside every enclosure with chargers full on and inverters at their loads' power."""
    found: list[EnclosureHeat] = []
    for placed, box in design.placed(Enclosure):
        inside = [part for part in design.parts if part.inside == placed.index]
        if inside and placed.zone is not None:
            found.append(_fixed_point(design, placed, box, inside))
    return tuple(found)


def _fixed_point(
    design: Design, placed: DesignPart, box: Enclosure, inside: list[DesignPart]
) -> EnclosureHeat:
    outside = placed.zone.ambient_max_degc if placed.zone else design.job.season.hottest_degc

    def parts_at(air_degc: float) -> tuple[PartHeat, ...]:
        shares = [(part, output_frac(part.part, air_degc)) for part in inside]
        return tuple(
            PartHeat(part=part.index, output_frac=share, loss_w=_full_loss_w(design, part, share))
            for part, share in shares
        )

    def surplus_w(rise_k: float) -> float:
        lost = sum(part.loss_w for part in parts_at(outside + rise_k))
        vents = vent_w(box.vent_area_mm2, height_mm=box.inside_height_mm, outside_degc=outside, rise_k=rise_k)
        return lost - box.heat_loss_w_per_k * rise_k - vents

    low, high = 0.0, HOTTEST_RISE_K
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if surplus_w(middle) > 0.0 else (low, middle)
    air = outside + high
    parts = parts_at(air)
    return EnclosureHeat(
        part=placed.index,
        outside_degc=outside,
        air_degc=air,
        loss_w=sum(part.loss_w for part in parts),
        is_cycling=abs(surplus_w(high)) > STEADY_W,
        parts=parts,
    )

"""Air inside enclosures and what it leaves of chargers and inverters: a fixed point.

Losses of everything inside, and sun on the box, warm the air until walls, vents and fan carry them away;
chargers, converters and inverters give less in warmer air, which lowers their losses. The balance falls with temperature
on one side and rises on the other, so there is exactly one point, and it is found by halving.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from ampwright.job.converters import sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.network.battery_heat import charging_loss_w
from ampwright.network.demand import charge_setting_v, output_limit_a
from ampwright.network.result import FloatArray
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter, converter_input_w
from ampwright.parts.hardware import Enclosure
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.records import record

__all__ = [
    "BoxInUse",
    "EnclosureHeat",
    "PartHeat",
    "boxes_in_use",
    "device_loss_w",
    "enclosure_heat",
    "fan_w",
    "fixed_point",
    "output_frac",
    "sun_rise_k",
    "vent_w",
]

HALVINGS = 60
HOTTEST_RISE_K = 200.0
"""Upper end of the search; above it no part of the catalogue gives anything."""
STEADY_W = 0.5
"""A balance left open by more than this at the end of the search is a jump, not a point (docs/choices.md#steady-balance)."""
AIR_DENSITY_KG_M3 = 1.2  # dry air near 20 degC and sea level, ISO 2533
AIR_HEAT_J_PER_KG_K = 1006.0  # specific heat of dry air near 20 degC (from memory)
GRAVITY_M_S2 = 9.80665  # standard acceleration, ISO 80000-3
DISCHARGE_FACTOR = 0.6  # sharp-edged opening, Bernoulli flow (from memory)
SUN_W_M2 = 1000.0  # standard irradiance, IEC 60904-3
SOL_AIR_M2K_PER_W = {"pale": 0.026, "dark": 0.052}
"""Absorptance over surface conductance (ASHRAE Handbook Fundamentals, sol-air temperature; from memory)."""
SUNNY_KINDS = frozenset({"roof", "outside"})


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
    sun_k: float
    """How much hotter the sun makes it from outside; 0 out of the sun."""
    air_degc: float
    """Air inside with everything at the output it still gives."""
    loss_w: float
    """Heat of all parts and protective devices inside."""
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


def fan_w(flow_m3_h: float, *, rise_k: float) -> float:
    """Return the heat that a fan's flow of outside air carries out: density x heat x flow x rise.

    Examples
    --------
    >>> round(fan_w(36.0, rise_k=10.0), 1)
    120.7
    """
    return AIR_DENSITY_KG_M3 * AIR_HEAT_J_PER_KG_K * (flow_m3_h / 3600.0) * max(rise_k, 0.0)


def sun_rise_k(box: Enclosure) -> float:
    """Return how much hotter full sun makes the surroundings that a box feels: the sol-air temperature.

    Irradiance times absorptance over surface conductance on the sunlit share of the surface, the top and half of
    the largest side (docs/choices.md#sun-on-boxes). Valid for a box without shade and almost without wind.
    """
    top = box.inside_length_mm * box.inside_width_mm
    sides = (box.inside_length_mm * box.inside_height_mm, box.inside_width_mm * box.inside_height_mm)
    sunlit_frac = (top + 0.5 * max(sides)) / (2.0 * (top + sum(sides)))
    return SUN_W_M2 * SOL_AIR_M2K_PER_W[box.finish] * sunlit_frac


def output_frac(part: object, air_degc: float) -> float:
    """Return the share of its full output a charger, converter or inverter gives in air of this temperature.

    Chargers and converters fall in a straight line between the two temperatures of their record. An inverter's falls
    through its two stated powers, at 25 and 40 degC, and is not reckoned above its highest ambient.
    """
    if isinstance(part, AlternatorCharger | Converter | MainsCharger):
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


def _loss_of(design: Design, placed: DesignPart) -> Callable[[float], float]:
    """Return the heat of a part by the share of its full output that it gives."""
    part = placed.part
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
        setting = placed.setting
        limit_a = setting.output_limit_a if setting and setting.output_limit_a else part.output_max_a
        set_v = setting.charge_v if setting and setting.charge_v else part.charge_v
        full_a, lost_per_given = min(limit_a, part.output_max_a), 1.0 / part.efficiency_frac - 1.0
        return lambda share: share * full_a * set_v * lost_per_given
    if isinstance(part, Inverter):
        wanted_w = sum(load.power_w for load in design.loads if load.inverter == placed.index)
        # it charges backwards through the same bridge (docs/choices.md#energy-inverter-charger)
        lost_charging = inverter_dc_w(part, part.continuous_w) / part.continuous_w - 1.0

        def inverter_loss_w(share: float) -> float:
            ac_w = min(wanted_w, share * part.continuous_w)
            charged_w = share * output_limit_a(placed) * charge_setting_v(placed)
            return max(inverter_dc_w(part, ac_w) - ac_w, charged_w * lost_charging)

        return inverter_loss_w
    if isinstance(part, Converter):
        sides = sides_of(design)
        needed_w = sum(load.power_w for load in design.loads if sides.behind(load.node, placed.index))

        def converter_loss_w(share: float) -> float:
            given_w = min(needed_w, share * part.output_max_a * part.output_v)
            return converter_input_w(part, given_w) - given_w

        return converter_loss_w
    always_w = part.heat_loss_w + part.own_a * design.system_v
    return lambda _: always_w


def device_loss_w(design: Design, peak_a: FloatArray, inside: tuple[DesignPart, ...]) -> float:
    """Return the heat of the protective devices whose end of the run lies at a part inside the box.

    Parameters
    ----------
    peak_a : largest current of each run (n_runs,); NaN = not known, counted as none
    """
    nodes = {node for part in inside for node in design.nodes_of(part)}
    total = 0.0
    for run in design.runs:
        current = float(peak_a[run.index])
        if math.isnan(current):
            continue
        ends = {"from": run.start, "to": run.end}
        near = [device for device in run.devices if ends[device.end] in nodes]
        total += current * current * sum(device.part.resistance_ohm for device in near)
    return total


def enclosure_heat(design: Design, peak_a: FloatArray | None = None) -> tuple[EnclosureHeat, ...]:
    """Return the air inside every enclosure with chargers full on and inverters at their loads' power.

    Parameters
    ----------
    peak_a : largest current of each run (n_runs,), for the heat of protective devices; None = not counted
    """
    currents = np.full(len(design.runs), math.nan) if peak_a is None else peak_a
    found: list[EnclosureHeat] = []
    for box in boxes_in_use(design, currents):
        zone = design.parts[box.part].zone
        if zone is not None:
            found.append(fixed_point(design, box, zone.ambient_max_degc))
    return tuple(found)


@record
class BoxInUse:
    """An enclosure and what warms it."""

    part: int
    """Index of the enclosure's part."""
    box: Enclosure
    """Its catalogue record."""
    inside: tuple[DesignPart, ...]
    """Parts inside."""
    device_w: float
    """Heat of the protective devices inside."""
    sun_k: float
    """How much hotter the sun makes it from outside."""


def boxes_in_use(design: Design, peak_a: FloatArray) -> tuple[BoxInUse, ...]:
    """Return every enclosure that holds something."""
    found: list[BoxInUse] = []
    for placed, box in design.placed(Enclosure):
        inside = [part for part in design.parts if part.inside == placed.index]
        is_sunny = placed.zone is not None and placed.zone.kind in SUNNY_KINDS
        if inside:
            found.append(
                BoxInUse(
                    part=placed.index,
                    box=box,
                    inside=tuple(inside),
                    device_w=device_loss_w(design, peak_a, tuple(inside)),
                    sun_k=sun_rise_k(box) if is_sunny else 0.0,
                )
            )
    return tuple(found)


def fixed_point(
    design: Design, use: BoxInUse, outside_degc: float, *, halvings: int = HALVINGS
) -> EnclosureHeat:
    """Return the air inside a box that stands in air of this temperature, to 200 K over 2 to the `halvings`."""
    box = use.box
    around_degc = outside_degc + use.sun_k

    losses = [(part, _loss_of(design, part)) for part in use.inside]

    def lost_w(air_degc: float) -> float:
        given = {part.index: output_frac(part.part, air_degc) for part in use.inside}
        by_parts = sum(loss_w(given[part.index]) for part, loss_w in losses)
        return use.device_w + by_parts + charging_loss_w(design, given)

    def surplus_w(rise_k: float) -> float:
        lost = lost_w(around_degc + rise_k)
        drawn_k = rise_k + use.sun_k  # vents and fan draw the air outside, which the sun does not warm
        vents = vent_w(
            box.vent_area_mm2, height_mm=box.inside_height_mm, outside_degc=outside_degc, rise_k=drawn_k
        )
        return lost - box.heat_loss_w_per_k * rise_k - max(vents, fan_w(box.fan_m3_h, rise_k=drawn_k))

    low, high = -use.sun_k, HOTTEST_RISE_K
    for _ in range(halvings):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if surplus_w(middle) > 0.0 else (low, middle)
    air = around_degc + high
    shares = [(part.index, output_frac(part.part, air), loss_w) for part, loss_w in losses]
    given = {index: share for index, share, _ in shares}
    parts = tuple(
        PartHeat(part=index, output_frac=share, loss_w=loss_w(share)) for index, share, loss_w in shares
    )
    return EnclosureHeat(
        part=use.part,
        outside_degc=outside_degc,
        sun_k=use.sun_k,
        air_degc=air,
        loss_w=use.device_w + sum(part.loss_w for part in parts) + charging_loss_w(design, given),
        is_cycling=abs(surplus_w(high)) > STEADY_W,
        parts=parts,
    )

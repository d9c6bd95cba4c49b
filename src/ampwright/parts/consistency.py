"""Do the figures of one part fit each other? Bounds of single figures stand with the records."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ampwright.parts.base import SuppliedPart
from ampwright.parts.battery import Battery
from ampwright.parts.converter import Converter
from ampwright.parts.face import face_size_mm
from ampwright.parts.kinds import Part
from ampwright.parts.panel import Panel
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import OutputModule

__all__ = ["contradictions"]

FEWEST_RATES = 3

_RISING: tuple[tuple[str, ...], ...] = (
    ("ambient_min_degc", "ambient_max_degc"),
    ("charge_min_degc", "charge_max_degc"),
    ("cutoff_v", "reconnect_v", "charge_v", "charge_max_v"),
    ("float_v", "charge_max_v"),
    ("discharge_max_a", "discharge_peak_a"),
    ("charge_v_min_v", "charge_v", "charge_v_max_v"),
    ("input_stop_v", "input_start_v", "input_max_v"),
    ("input_min_v", "input_nominal_v", "input_max_v"),
    ("output_limit_min_a", "output_max_a"),
    ("derate_start_degc", "derate_end_degc"),
    ("max_power_v", "open_circuit_v", "system_max_v"),
    ("max_power_a", "short_circuit_a", "series_fuse_max_a"),
    ("continuous_at_40_degc_w", "continuous_w", "continuous_va"),
    ("continuous_w", "overload_w", "surge_w"),
    ("insulation_degc", "short_time_degc"),
    ("min_v", "restart_v"),
    ("channel_min_mm2", "channel_max_mm2"),
    ("rating_a", "peak_a"),
    ("open_v", "close_v"),
    ("output_max_a", "output_peak_a", "limit_a"),
    ("output_v", "output_guard_v"),
)
"""Fields that may not fall in this order; by the fields' own definitions."""
_RANGES: tuple[tuple[str, str, str], ...] = (
    ("float_v_min_v", "float_v", "float_v_max_v"),
    ("input_stop_min_v", "input_stop_v", "input_stop_max_v"),
    ("input_stop_min_v", "input_min_v", "input_stop_max_v"),
)
"""Ranges that hold what is delivered; not stated where the highest is 0."""


def contradictions(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the field and the complaint for figures of a part that cannot all be true."""
    ranges = tuple(names for names in _RANGES if getattr(part, names[-1], 0.0) > 0.0)
    for names in (*_RISING, *ranges):
        if all(hasattr(part, name) for name in names):
            for lower, upper in pairwise(names):
                low, high = getattr(part, lower), getattr(part, upper)
                if low is not None and high is not None and low > high:
                    yield lower, f"must be at most {upper} ({high:g}); you gave {low:g}"
    for name in ("efficiency_frac", "efficiency_30_frac", "efficiency_100_frac"):
        efficiency_frac = getattr(part, name, 0.5)
        if not 0.0 < efficiency_frac <= 1.0:
            yield name, f"must be more than 0 and at most 1; you gave {efficiency_frac:g}"
    yield from _terminal_contradictions(part)
    yield from _face_contradictions(part)
    if isinstance(part, Panel):
        yield from _panel_contradictions(part)
    if isinstance(part, Relay):
        yield from _relay_contradictions(part)
    if isinstance(part, OutputModule):
        yield from _group_contradictions(part)
    yield from _supply_contradictions(part)
    yield from _cycle_contradictions(part)
    yield from _rate_contradictions(part)


def _supply_contradictions(part: Part) -> Iterator[tuple[str, str]]:
    if not isinstance(part, SuppliedPart):
        return
    if isinstance(part, Converter) and part.output_nominal_v >= part.input_nominal_v:
        yield "output_nominal_v", f"must be below input_nominal_v ({part.input_nominal_v:g}): it steps down"
    minute_v, surge_v = part.survives_minute_v, part.survives_surge_v
    if minute_v is not None and surge_v is not None and minute_v > surge_v:
        yield "survives_surge_v", f"must be at least survives_minute_v ({minute_v:g}); you gave {surge_v:g}"


def _face_contradictions(part: Part) -> Iterator[tuple[str, str]]:
    if not part.holes and part.cutout is None:
        return
    face = face_size_mm(part)
    if face is None:
        yield "length_mm", "give all three dimensions of a part with holes or a cutout"
        return
    for hole in part.holes:
        reach_mm = 0.5 * hole.diameter_mm
        if not _is_on(face, hole.x_mm, hole.y_mm, half=(reach_mm, reach_mm)):
            yield (
                "holes",
                f"the hole at {hole.x_mm:g}, {hole.y_mm:g} leaves the face of {face[0]:g} x {face[1]:g} mm",
            )
    cut = part.cutout
    if cut is None:
        return
    if not _is_on(face, cut.x_mm, cut.y_mm, half=(0.5 * cut.width_mm, 0.5 * cut.height_mm)):
        yield "cutout", f"leaves the face of {face[0]:g} x {face[1]:g} mm"
    if cut.shape == "round" and cut.width_mm != cut.height_mm:
        yield "cutout", "a round one is as wide as high"
    if cut.corner_mm > 0.5 * min(cut.width_mm, cut.height_mm):
        yield "cutout", "corner_mm is at most half of the shorter side"


def _is_on(face: tuple[float, float], x_mm: float, y_mm: float, *, half: tuple[float, float]) -> bool:
    return half[0] <= x_mm <= face[0] - half[0] and half[1] <= y_mm <= face[1] - half[1]


def _terminal_contradictions(part: Part) -> Iterator[tuple[str, str]]:
    if part.terminal == "stud" and part.stud_mm == 0.0:
        yield "stud_mm", "give the thread of the studs, e.g. 8 for M8"
    if part.terminal != "stud" and part.stud_mm > 0.0:
        yield "stud_mm", f"is for terminal = 'stud' only; you gave '{part.terminal}'"
    if part.terminal in {"clamp", "blade", "lead"} and part.terminal_max_mm2 == 0.0:
        yield "terminal_max_mm2", "give the largest conductor its terminals take"
    if part.terminal in {"", "stud"} and part.terminal_max_mm2 > 0.0:
        yield "terminal_max_mm2", f"is for clamps, blades and leads; you gave terminal = '{part.terminal}'"
    if part.terminal_max_mm2 < part.terminal_min_mm2:
        yield "terminal_min_mm2", f"must be at most terminal_max_mm2 ({part.terminal_max_mm2:g})"
    if part.terminal_nm > 0.0 and part.terminal not in {"stud", "clamp"}:
        yield "terminal_nm", f"is for studs and clamps; you gave terminal = '{part.terminal}'"


def _group_contradictions(module: OutputModule) -> Iterator[tuple[str, str]]:
    if not module.outputs:
        yield "outputs", "give at least one group of channels"
    seen: set[int] = set()
    for group in module.outputs:
        channels = set(range(group.first, group.last + 1))
        if not channels:
            yield "outputs", f"first must be at most last ({group.last}); you gave {group.first}"
        if channels & seen:
            yield "outputs", f"channel {min(channels & seen)} stands in two groups"
        seen |= channels


def _cycle_contradictions(part: Part) -> Iterator[tuple[str, str]]:
    points = part.cycle_life if isinstance(part, Battery) else ()
    if not points:
        return
    if points[-1].depth_frac < 1.0:
        yield "cycle_life", f"the last point must have depth_frac = 1; you gave {points[-1].depth_frac:g}"
    for low, high in pairwise(points):
        if high.depth_frac <= low.depth_frac or high.cycle_count > low.cycle_count:
            yield "cycle_life", "depths must rise and cycles must not; sort the points from shallow to deep"
            return


def _rate_contradictions(part: Part) -> Iterator[tuple[str, str]]:
    points = part.capacity_at_rates if isinstance(part, Battery) else ()
    if not (isinstance(part, Battery) and points):
        return
    if part.chemistry == "lfp":
        yield (
            "capacity_at_rates",
            "only lead-acid gives less the faster it is emptied; leave it out for lithium",
        )
    elif len(points) < FEWEST_RATES:
        yield "capacity_at_rates", f"give at least {FEWEST_RATES} discharge times; you gave {len(points)}"
    elif any(b.duration_h <= a.duration_h or b.capacity_ah <= a.capacity_ah for a, b in pairwise(points)):
        yield "capacity_at_rates", "times and capacities must both rise; sort the points from short to long"


def _relay_contradictions(relay: Relay) -> Iterator[tuple[str, str]]:
    if relay.pick_up == "voltage" and relay.open_v <= 0.0:
        yield "open_v", "a relay that closes by voltage has a close_v and an open_v; give both"


def _panel_contradictions(panel: Panel) -> Iterator[tuple[str, str]]:
    product_w = panel.max_power_v * panel.max_power_a
    if abs(product_w - panel.power_w) > 0.05 * panel.power_w:
        yield "power_w", f"must be max_power_v times max_power_a ({product_w:.4g} W) within 5 %"

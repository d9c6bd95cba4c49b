"""Rules on step-down converters: what they can give, what ends a fault behind them, and what their failure does."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import run_capacity
from ampwright.assessment.circuits import Circuit, Protection
from ampwright.assessment.device_size import FIRE
from ampwright.assessment.exposure import highest_v
from ampwright.assessment.fault_time import opening_band, rated_device
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, part_source, run_text, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.converters import Sides, placed_converters, sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.design_wiring import DesignRun
from ampwright.network.demand import load_current_a
from ampwright.network.heat import output_frac
from ampwright.network.loads import load_sets
from ampwright.parts.converter import Converter
from ampwright.said import said
from ampwright.sources import own_choice

__all__ = ["CONVERTER_FAILS_SHORTED", "CONVERTER_LIMIT", "CONVERTER_LOAD"]

WIRING = Group.WIRING
PEAK_S = 60.0
"""How long a peak above a load's power is taken to last (docs/choices.md#inverter-peak-minute)."""


def _behind(design: Design, sides: Sides, placed: DesignPart) -> list[DesignLoad]:
    return [load for load in design.loads if sides.behind(load.node, placed.index)]


def _converter_load(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what runs together behind each converter against its continuous and its peak output, at its air."""
    converters = placed_converters(design)
    sides = sides_of(design) if converters else None
    for placed, part in converters:
        if sides is not None:
            yield _load_of(design, studies, placed, part, loads=_behind(design, sides, placed))


def _load_of(
    design: Design, studies: Studies, placed: DesignPart, part: Converter, *, loads: list[DesignLoad]
) -> Finding:
    make = partial(
        Finding, rule="converter-load", group=Group.USE, subject=placed.id, unit="A", source=part_source(part)
    )
    air_degc = _air_degc(studies, placed)
    if air_degc is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part}: the air it works in is not known, so what it gives is not known.", part=placed.id
            ),
            way_out=said("Name the zone it is mounted in."),
        )
    share = output_frac(part, air_degc)
    is_long = part.output_peak_s >= PEAK_S
    gives_a = share * part.output_max_a
    peaks_a = share * part.output_peak_a if is_long else gives_a
    running_a, peak_a, when = _together(design, studies, part, loads)
    is_known = not any(math.isnan(studies.network.node_low_v[load.node]) for load in loads)
    is_peak = peak_a * gives_a > running_a * peaks_a
    is_over = running_a > gives_a or peak_a > peaks_a
    weight = Severity.FAIL if any(load.is_essential for load in loads) else Severity.CONDITION
    if not is_over and not is_known:
        unknown = said(
            "{part}: the voltage of what it feeds is not known, so what that takes is not known.",
            part=placed.id,
        )
        return make(severity=Severity.NOT_CHECKED, message=unknown)
    return make(
        severity=weight if is_over else Severity.PASS,
        message=said(
            "{part}: what it feeds takes up to {running_a:.1f} A for long and {peak_a:.1f} A at its peaks",
            part=placed.id,
            running_a=running_a,
            peak_a=peak_a,
        )
        + (said(" ({when})", when=when) if when else "")
        + said(
            "; in air of {temperature} it gives {gives_a:.1f} A for long and ",
            temperature=temperature_text(design, air_degc),
            gives_a=gives_a,
        )
        + (
            said(
                "{peaks_a:.1f} A for {output_peak_s:g} s.", peaks_a=peaks_a, output_peak_s=part.output_peak_s
            )
            if is_long
            else said("no peak lasts a minute.")
        )
        + (said(" Beyond that {overload_words}", overload_words=_overload_words(part)) if is_over else ""),
        value=peak_a if is_peak else running_a,
        limit=peaks_a if is_peak else gives_a,
        way_out=said("Use a larger converter, a cooler place, or run less at a time.") if is_over else "",
    )


def _overload_words(part: Converter) -> str:
    if part.on_overload == "shuts-off":
        return said("it switches off with all it feeds, and tries again.")
    return said("its voltage sinks for all it feeds.")


def _air_degc(studies: Studies, placed: DesignPart) -> float | None:
    """Return the hottest air at a part: that of its enclosure, else of its zone; None = not said."""
    for box in studies.heat:
        if box.part == placed.inside:
            return box.air_degc
    return placed.zone.ambient_max_degc if placed.zone is not None else None


def _together(
    design: Design, studies: Studies, part: Converter, loads: list[DesignLoad]
) -> tuple[float, float, str]:
    """Return the largest running and peak current of what can run at the same time, and when the peak is."""
    behind = {load.index: load for load in loads}
    best = (0.0, 0.0, "")
    for one in load_sets(design):
        running_a, peak_a = 0.0, 0.0
        for load in (behind[index] for index in one.loads if index in behind):
            low_v = float(studies.network.node_low_v[load.node])
            node_v = part.output_v if math.isnan(low_v) else low_v
            amps = load_current_a(load, node_v, part.output_nominal_v)
            peak_a += amps
            running_a += amps * load.power_w / load.peak_w
        best = (max(best[0], running_a), *((peak_a, one.when) if peak_a > best[1] else best[1:]))
    return best


def _converter_limit(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold cables and devices against the limit a converter feeds a fault with: it gives no more."""
    for placed, part in placed_converters(design):
        root = design.node_of(f"{placed.id}.out")
        runs = [
            (run, studies.circuits.by_run[run.index])
            for run in design.runs
            if int(studies.network.root[run.start]) == root
        ]
        quiet: dict[str, float] = {}
        for run, circuit in runs:
            found = _weak_run(design, part, run, circuit)
            if found is not None:
                yield found
            guard = circuit.own
            if guard is not None and _opening_s(design, guard, part.limit_a) is None:
                quiet[guard.device.id] = guard.rating_a
        if runs:
            yield _discriminates(placed, part, quiet)


def _opening_s(design: Design, guard: Protection, current_a: float) -> float | None:
    """Return the longest time a device takes at a current; None = it need not open, or its times are not known."""
    band = opening_band(rated_device(design, guard), current_a)
    return None if band is None else band.opening_max_s


def _weak_run(design: Design, part: Converter, run: DesignRun, circuit: Circuit) -> Finding | None:
    """Return what must be said of a cable that does not carry the converter's limit."""
    make = partial(Finding, rule="converter-limit", group=WIRING, subject=run.id, unit="A")
    capacity = run_capacity(design, run)
    if circuit.why_unknown or not capacity.is_known:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{run}: its protection could not be judged, {why_unknown}.",
                run=run_text(run),
                why_unknown=circuit.why_unknown or capacity.note,
            ),
        )
    if part.limit_a <= capacity.current_a:
        return None
    told = said(
        "{run}: carries {current_a:.0f} A; in a fault the converter gives {limit_a:g} A",
        run=run_text(run),
        current_a=capacity.current_a,
        limit_a=part.limit_a,
    )
    guard = circuit.own or circuit.upstream
    band = opening_band(rated_device(design, guard), part.limit_a) if guard is not None else None
    opens = band is not None and band.opening_max_s is not None
    is_sure = opens and band is not None and band.source.standing != "from memory"
    device = (
        said("{device}, {rating_a:g} A,", device=guard.device.id, rating_a=guard.rating_a)
        if guard is not None
        else said("nothing")
    )
    return make(
        severity=Severity.PASS if is_sure else Severity.NOT_CHECKED if opens else Severity.FAIL,
        message=said(
            "{told} and {device} {what}",
            told=told,
            device=device,
            what=said("opens at that") if opens else said("need not open at that"),
        )
        + (said(", by times from memory.") if opens and not is_sure else "."),
        value=part.limit_a,
        limit=capacity.current_a,
        source=band.source if is_sure and band is not None else capacity.source,
        way_out=""
        if is_sure
        else said("Compare with the device's time-current curve, or use a cable that carries the limit.")
        if opens
        else said("Use a cable that carries what the converter limits at, or a smaller device."),
        caution="" if opens else FIRE,
    )


def _discriminates(placed: DesignPart, part: Converter, quiet: dict[str, float]) -> Finding:
    make = partial(
        Finding,
        rule="converter-limit",
        group=WIRING,
        subject=placed.id,
        value=max(quiet.values(), default=None),
        limit=part.limit_a,
        unit="A",
        source=part_source(part),
    )
    if not quiet:
        return make(
            severity=Severity.PASS,
            message=said(
                "{part} feeds a fault with {limit_a:g} A; every device behind it opens at that.",
                part=placed.id,
                limit_a=part.limit_a,
            ),
        )
    listed = named(
        said("{name} ({rating_a:g} A)", name=name, rating_a=rating_a) for name, rating_a in quiet.items()
    )
    return make(
        severity=Severity.ADVICE,
        message=said(
            "{part} feeds a fault with {limit_a:g} A and no more: {listed} need not open at that. "
            "One fault then takes down everything behind it until somebody finds it.",
            part=placed.id,
            limit_a=part.limit_a,
            listed=listed,
        ),
        way_out=said(
            "Use smaller devices there, so that only the faulty branch goes off, or a larger converter."
        ),
    )


def _converter_fails_shorted(design: Design, studies: Studies) -> Iterator[Finding]:
    """Say what a regulator that fails closed lets through to the loads, unless it is isolated or guarded."""
    converters = placed_converters(design)
    sides = sides_of(design) if converters else None
    for placed, part in converters:
        if sides is not None:
            yield _failed(design, studies, placed, part, loads=_behind(design, sides, placed))


def _failed(
    design: Design, studies: Studies, placed: DesignPart, part: Converter, *, loads: list[DesignLoad]
) -> Finding:
    make = partial(
        Finding,
        rule="converter-fails-shorted",
        group=WIRING,
        subject=placed.id,
        unit="V",
        source=part_source(part),
    )
    least_v = min((load.max_v for load in loads if load.max_v is not None), default=None)
    guard_v = part.output_guard_v
    if part.is_isolated or (guard_v is not None and (least_v is None or guard_v <= least_v)):
        held = said("it is isolated, so that its input cannot reach its output")
        if guard_v is not None:
            held = said("a second guard holds its output to {guard_v:g} V", guard_v=guard_v)
        told = said("If the regulator of {part} fails, {held}.", part=placed.id, held=held)
        return make(severity=Severity.PASS, message=told, value=guard_v, limit=guard_v and least_v)
    input_v = highest_v(design, studies.network, design.node_of(f"{placed.id}.in"))
    reaches_v = guard_v if guard_v is not None else input_v
    what = named(load.id for load in loads if load.max_v is None or not reaches_v <= load.max_v)
    volts = (
        said("up to {reaches_v:.1f} V", reaches_v=reaches_v)
        if math.isfinite(reaches_v)
        else said("its input voltage")
    )
    return make(
        severity=Severity.ADVICE,
        message=said(
            "If the regulator of {part} fails closed, {volts} come to {what}",
            part=placed.id,
            volts=volts,
            what=what or said("what it feeds"),
        )
        + (
            said("; the weakest stands {least_v:g} V.", least_v=least_v)
            if least_v is not None
            else said("; what they stand is not said.")
        ),
        value=reaches_v if math.isfinite(reaches_v) else None,
        limit=least_v,
        source=own_choice("converter-fails"),
        way_out=said(
            "Use a converter that is isolated or has a second guard on its output, or put a clamp "
            "behind a fuse at the 12 V side."
        ),
        caution=said("Lamps and electronics for 12 V burn at the voltage of a 24 V system."),
    )


CONVERTER_LOAD = Rule(
    name="converter-load",
    group=Group.USE,
    asks="Does each step-down converter give what runs together behind it, for long and at its peaks, in its air?",
    check=_converter_load,
)
CONVERTER_LIMIT = Rule(
    name="converter-limit",
    group=WIRING,
    asks="Behind a converter, that feeds a fault with its current limit alone: do cables carry it, do devices open at it?",
    check=_converter_limit,
)
CONVERTER_FAILS_SHORTED = Rule(
    name="converter-fails-shorted",
    group=WIRING,
    asks="What reaches the loads behind a converter when its regulator fails closed?",
    check=_converter_fails_shorted,
)

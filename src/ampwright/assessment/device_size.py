"""Rules on the size of devices: against the cable, and behind outputs that fail closed."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import DeviceLimit, largest_device_a, run_capacity
from ampwright.assessment.circuits import Circuit, Protection, channel_limit_a, converter_limit_a
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import run_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.converter import Converter
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE, Source, own_choice

__all__ = ["DEVICE_AGAINST_CABLE", "FIRE", "NO_DEVICE", "OUTPUT_FAILS_SHORTED"]

WIRING = Group.WIRING
FIRE = said("A cable without a matching device can burn in a fault; a lithium battery delivers kiloamperes.")
NO_DEVICE = said("A cable without any device has nothing that ends a fault but fire.")
"""Why nobody may override it (docs/choices.md#override-locked)."""
LIMITED_SOURCE = Source(
    document="IEC 60364-4-43",
    edition="2008",
    place="clause on overcurrent limited by the supply's own characteristics",
    standing="from memory",
)
PANEL_CURRENT_FACTOR = 1.25
"""Cable of a panel string against its short-circuit current (common practice, no source)."""


def _device_against_cable(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="device-against-cable", group=WIRING, unit="A")
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        capacity = run_capacity(design, run)
        if circuit.why_unknown or not capacity.is_known:
            why = circuit.why_unknown or capacity.note
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=said("{run}: protection could not be judged, {why}.", run=run_text(run), why=why),
                way_out=said("Feed it from one side, behind a device of its own.")
                if capacity.is_known
                else said("Use a cable of the table's range."),
            )
            continue
        if circuit.root_kind == "panel":
            yield _panel_run(design, studies, run)
            continue
        channel_a = channel_limit_a(design, circuit)
        if circuit.own is None and channel_a is not None:
            yield _limited_by_output(design, run, channel_a, capacity.current_a)
            continue
        limit_a = converter_limit_a(design, studies.network, circuit)
        if limit_a is not None and limit_a <= capacity.current_a:
            yield _limited_by_converter(run, limit_a, capacity.current_a)
        else:
            yield _against(design, run, circuit, capacity.current_a)


def _limited_by_output(design: Design, run: DesignRun, channel_a: float, capacity_a: float) -> Finding:
    limit = largest_device_a(design, capacity_a)
    is_over = channel_a > limit.rating_a
    return Finding(
        rule="device-against-cable",
        group=WIRING,
        severity=Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=said(
            "{run}: its output channel limits at {channel_a:g} A; the cable allows {rating_a:.1f} A.",
            run=run_text(run),
            channel_a=channel_a,
            rating_a=limit.rating_a,
        ),
        value=channel_a,
        limit=limit.rating_a,
        unit="A",
        source=limit.source,
        way_out=said("Set the channel lower or use a larger cable.") if is_over else "",
    )


def _limited_by_converter(run: DesignRun, limit_a: float, capacity_a: float) -> Finding:
    """Pass a cable whose source cannot give more than it carries."""
    return Finding(
        rule="device-against-cable",
        group=WIRING,
        severity=Severity.PASS,
        subject=run.id,
        message=said(
            "{run}: the converter that feeds it limits at {limit_a:g} A; the cable carries "
            "{capacity_a:.0f} A.",
            run=run_text(run),
            limit_a=limit_a,
            capacity_a=capacity_a,
        ),
        value=limit_a,
        limit=capacity_a,
        unit="A",
        source=LIMITED_SOURCE,
    )


def _best_guard(design: Design, circuit: Circuit, capacity_a: float) -> tuple[Protection | None, DeviceLimit]:
    """Return the device that protects a run best, its own before the nearest upstream, and the limit for it."""
    found = [
        (guard, largest_device_a(design, capacity_a, device=guard.part))
        for guard in (circuit.own, circuit.upstream)
        if guard is not None
    ]
    surely = [(guard, limit) for guard, limit in found if guard.rating_a <= limit.sure_rating_a]
    nearly = [(guard, limit) for guard, limit in found if guard.rating_a <= limit.rating_a]
    return next(iter([*surely, *nearly, *found]), (None, largest_device_a(design, capacity_a)))


def _against(design: Design, run: DesignRun, circuit: Circuit, capacity_a: float) -> Finding:
    guard, limit = _best_guard(design, circuit, capacity_a)
    make = partial(
        Finding,
        rule="device-against-cable",
        group=WIRING,
        subject=run.id,
        limit=limit.rating_a,
        unit="A",
        source=limit.source,
    )
    if guard is None:
        return make(
            severity=Severity.FAIL,
            message=said("{run}: no fuse or breaker protects it.", run=run_text(run)),
            way_out=said(
                "Put a device of at most {rating_a:g} A at its source.", rating_a=math.floor(limit.rating_a)
            ),
            caution=FIRE,
            no_override=NO_DEVICE,
        )
    where = "" if guard.run == run.index else said(" in run {runs}", runs=design.runs[guard.run].id)
    message = said(
        "{run}: protected by {device}{where}, {rating_a:g} A; the cable allows a device of this "
        "kind of {rating_a_2:.1f} A.",
        run=run_text(run),
        device=guard.device.id,
        where=where,
        rating_a=guard.rating_a,
        rating_a_2=limit.rating_a,
    )
    if guard.rating_a > limit.rating_a:
        return make(
            severity=Severity.FAIL,
            message=message,
            value=guard.rating_a,
            way_out=said("Use a smaller device, a device of its own, or a larger cable."),
            caution=FIRE,
        )
    is_sure = guard.rating_a <= limit.sure_rating_a
    unsure = said(
        " Above {sure_rating_a:.0f} A it must be shown to open at 1.45 times the cable's current.",
        sure_rating_a=limit.sure_rating_a,
    )
    return make(
        severity=Severity.PASS if is_sure else Severity.NOT_CHECKED,
        message=message + ("" if is_sure else unsure),
        value=guard.rating_a,
        way_out="" if is_sure else said("Look up the device's time-current curve, or use a smaller one."),
    )


def _panel_run(design: Design, studies: Studies, run: DesignRun) -> Finding:
    """Hold a panel's cable against 1.25 times its short-circuit current, the most it can give."""
    needed_a = PANEL_CURRENT_FACTOR * float(studies.network.run_fault_a[run.index])
    capacity = run_capacity(design, run)
    unknown = math.isnan(needed_a)
    is_over = not unknown and needed_a > capacity.current_a
    return Finding(
        rule="device-against-cable",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=said(
            "{run}: fed by panels, which cannot give more than their short-circuit current; ",
            run=run_text(run),
        )
        + (
            said("that is not known.")
            if unknown
            else said("with a quarter on top {needed_a:.1f} A, ", needed_a=needed_a)
        )
        + ("" if unknown else said("the cable carries {current_a:.0f} A.", current_a=capacity.current_a)),
        value=None if unknown else needed_a,
        limit=capacity.current_a,
        unit="A",
        source=COMMON_PRACTICE,
        way_out=said("Use a larger cable.") if is_over else "",
    )


def _output_fails_shorted(design: Design, studies: Studies) -> Iterator[Finding]:
    """Semiconductor outputs can fail closed: then only the feed's fuse protects the branch."""
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        placed = _converter_before(design, studies, circuit)
        if placed is not None:
            yield _shorted(design, run, _with_input_guard(design, studies, circuit, placed))
        elif circuit.channel_link >= 0:
            yield _shorted(design, run, circuit)


def _converter_before(design: Design, studies: Studies, circuit: Circuit) -> DesignPart | None:
    """Return the converter that feeds a run, where its input can come through; None for any other source."""
    if circuit.root_kind != "converter":
        return None
    root = int(studies.network.root[circuit.feeding_node])
    return next(
        (
            placed
            for placed, part in design.placed(Converter)
            if design.node_of(f"{placed.id}.out") == root and not part.is_isolated
        ),
        None,
    )


def _with_input_guard(design: Design, studies: Studies, circuit: Circuit, placed: DesignPart) -> Circuit:
    """Return a run's circuit with the device before the converter as the next one upstream."""
    if circuit.upstream is not None:
        return circuit
    inlet = design.node_of(f"{placed.id}.in")
    before = next((one for one in studies.circuits.by_run if one.far_node == inlet and one.root_kind), None)
    return circuit if before is None else dataclasses.replace(circuit, upstream=before.own or before.upstream)


def _shorted(design: Design, run: DesignRun, circuit: Circuit) -> Finding:
    make = partial(
        Finding,
        rule="output-fails-shorted",
        group=WIRING,
        subject=run.id,
        unit="A",
        source=own_choice("output-fails-shorted"),
    )
    capacity = run_capacity(design, run)
    if circuit.is_in_loop or not capacity.is_known:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{run}: protection could not be judged, {why_unknown}.",
                run=run_text(run),
                why_unknown=circuit.why_unknown or capacity.note,
            ),
            way_out=said("Feed it from one side, with a cable of the table's range."),
        )
    guard, limit = _best_guard(design, circuit, capacity.current_a)
    is_held = guard is not None and guard.rating_a <= limit.rating_a
    guard_text = (
        said("{device}, {rating_a:g} A", device=guard.device.id, rating_a=guard.rating_a)
        if guard
        else "nothing"
    )
    return make(
        severity=Severity.PASS if is_held else Severity.CONDITION,
        message=said(
            "{run}: if its output fails closed, {guard_text} protects it; the cable allows {rating_a:.1f} A.",
            run=run_text(run),
            guard_text=guard_text,
            rating_a=limit.rating_a,
        ),
        value=guard.rating_a if guard else None,
        limit=limit.rating_a,
        way_out=""
        if is_held
        else said("Give the branch a fuse of its own, or a cable the feed's fuse protects."),
        caution="" if is_held else FIRE,
    )


DEVICE_AGAINST_CABLE = Rule(
    name="device-against-cable",
    group=WIRING,
    asks="Is each cable protected by a device no larger than it allows?",
    check=_device_against_cable,
)
OUTPUT_FAILS_SHORTED = Rule(
    name="output-fails-shorted",
    group=WIRING,
    asks="Is each branch of an electronic output or converter protected when that fails closed?",
    check=_output_fails_shorted,
)

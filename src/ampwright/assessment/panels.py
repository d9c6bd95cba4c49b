"""Rules on panels: cold open-circuit voltage, current, string fuses, touch voltage."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.exposure import cold_open_circuit_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.parts.charger import PanelController
from ampwright.parts.panel import Panel
from ampwright.said import said

__all__ = ["PANEL_COLD_VOLTAGE", "PANEL_CURRENT", "PANEL_STRING_FUSES", "PANEL_TOUCH_VOLTAGE"]

WIRING = Group.WIRING
ABOVE_EXTRA_LOW = said("Above extra-low voltage a touch can kill; this is work for licensed people.")
"""Why nobody may override it (docs/choices.md#override-locked)."""


def _controller_of(
    design: Design, studies: Studies, placed: DesignPart
) -> list[tuple[DesignPart, PanelController]]:
    """Return the controllers fed by a placed panel: those whose input lies in its tree."""
    root = int(studies.network.root[design.node_of(placed.id)])
    return [
        (other, part)
        for other, part in design.placed(PanelController)
        if root >= 0 and int(studies.network.root[design.node_of(f"{other.id}.in")]) == root
    ]


def _panel_cold_voltage(design: Design, studies: Studies) -> Iterator[Finding]:
    coldest = design.job.season.coldest_degc
    for placed, panel in design.placed(Panel):
        voltage_v = cold_open_circuit_v(panel, placed.in_series, coldest)
        controllers = _controller_of(design, studies, placed)
        make = partial(
            Finding, rule="panel-cold-voltage", group=WIRING, subject=placed.id, value=voltage_v, unit="V"
        )
        told = said(
            "{part}: {voltage_v:.1f} V open circuit at {temperature}",
            part=placed.id,
            voltage_v=voltage_v,
            temperature=temperature_text(design, coldest),
        )
        if not controllers:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said("{told}; it is wired to no controller.", told=told),
                way_out=said("Wire it to a controller's input."),
            )
        for controller, part in controllers:
            is_over = voltage_v >= part.input_max_v
            yield make(
                severity=Severity.FAIL if is_over else Severity.PASS,
                message=said(
                    "{told}; {controller} survives {input_max_v:g} V.",
                    told=told,
                    controller=controller.id,
                    input_max_v=part.input_max_v,
                ),
                limit=part.input_max_v,
                source=part_source(part),
                way_out=said("Fewer panels in series, or a controller of higher input voltage.")
                if is_over
                else "",
                caution=said("The controller is destroyed on the first cold, clear morning.")
                if is_over
                else "",
            )
        if voltage_v > panel.system_max_v:
            yield make(
                severity=Severity.FAIL,
                message=said(
                    "{told}; the panel is built for {system_max_v:g} V.",
                    told=told,
                    system_max_v=panel.system_max_v,
                ),
                limit=panel.system_max_v,
                source=part_source(panel),
                way_out=said("Fewer panels in series."),
            )


def _panel_current(design: Design, studies: Studies) -> Iterator[Finding]:
    totals: dict[int, float] = {}
    for placed, panel in design.placed(Panel):
        for controller, _ in _controller_of(design, studies, placed):
            totals[controller.index] = (
                totals.get(controller.index, 0.0) + panel.short_circuit_a * placed.strings
            )
    for index, current_a in totals.items():
        controller = design.parts[index]
        part = controller.part
        if not isinstance(part, PanelController):
            continue
        is_over = current_a > part.input_max_a
        yield Finding(
            rule="panel-current",
            group=WIRING,
            severity=Severity.FAIL if is_over else Severity.PASS,
            subject=controller.id,
            message=said(
                "{controller}: its panels can give {current_a:.1f} A; its input takes {input_max_a:g} A.",
                controller=controller.id,
                current_a=current_a,
                input_max_a=part.input_max_a,
            ),
            value=current_a,
            limit=part.input_max_a,
            unit="A",
            source=part_source(part),
            way_out=said("Fewer strings, panels in series, or a larger controller.") if is_over else "",
        )


def _panel_string_fuses(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what all other strings on the same input can push back into one against what the panel stands."""
    for placed, panel in design.placed(Panel):
        device = placed.string_device
        reverse_a = _together_a(design, studies, placed) - panel.short_circuit_a
        is_missing = device is None and reverse_a > panel.series_fuse_max_a
        too_large = device is not None and device.rating_a > panel.series_fuse_max_a
        if device is None and reverse_a <= 0.0:
            continue
        is_bad = is_missing or too_large
        yield Finding(
            rule="panel-string-fuses",
            group=WIRING,
            severity=Severity.FAIL if is_bad else Severity.PASS,
            subject=placed.id,
            message=said(
                "{part}: the other strings on its input can push {reverse_a:.0f} A back into one string, "
                "which stands {series_fuse_max_a:g} A",
                part=placed.id,
                reverse_a=reverse_a,
                series_fuse_max_a=panel.series_fuse_max_a,
            )
            + (
                said("; its string fuse is {rating_a:g} A.", rating_a=device.rating_a)
                if device
                else said("; there is no string fuse.")
            ),
            value=device.rating_a if device else reverse_a,
            limit=panel.series_fuse_max_a,
            unit="A",
            source=part_source(panel),
            way_out=said(
                "Give each string a gPV fuse of at most {series_fuse_max_a:g} A.",
                series_fuse_max_a=panel.series_fuse_max_a,
            )
            if is_bad
            else "",
        )


def _together_a(design: Design, studies: Studies, placed: DesignPart) -> float:
    """Return the short-circuit current of all strings that share a panel's input; its own where it is not wired."""
    root = int(studies.network.root[design.node_of(placed.id)])
    return sum(
        other.strings * panel.short_circuit_a
        for other, panel in design.placed(Panel)
        if other.index == placed.index
        or (root >= 0 and int(studies.network.root[design.node_of(other.id)]) == root)
    )


def _panel_touch_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    coldest = design.job.season.coldest_degc
    rules = design.region
    for placed, panel in design.placed(Panel):
        voltage_v = cold_open_circuit_v(panel, placed.in_series, coldest)
        severity = Severity.PASS
        if voltage_v > rules.limit_dc_v:
            severity = Severity.FAIL
        elif voltage_v > rules.caution_dc_v:
            severity = Severity.CONDITION
        is_fail = severity == Severity.FAIL
        yield Finding(
            rule="panel-touch-voltage",
            group=WIRING,
            severity=severity,
            subject=placed.id,
            message=said(
                "{part}: up to {voltage_v:.0f} V between its leads in the cold; extra-low voltage ends "
                "at {limit_dc_v:g} V DC, and above {caution_dc_v:g} V bare parts may not be touched.",
                part=placed.id,
                voltage_v=voltage_v,
                limit_dc_v=rules.limit_dc_v,
                caution_dc_v=rules.caution_dc_v,
            ),
            value=voltage_v,
            limit=rules.limit_dc_v if is_fail else rules.caution_dc_v,
            unit="V",
            source=rules.source("limit_dc_v" if is_fail else "caution_dc_v"),
            way_out=said(
                "Fewer panels in series. {licensed_words}", licensed_words=said(rules.licensed_words)
            )
            if is_fail
            else "",
            no_override=ABOVE_EXTRA_LOW if is_fail else "",
            caution=said("Cover the panels before touching their leads: they are live whenever it is light.")
            if severity != Severity.PASS
            else "",
        )


PANEL_COLD_VOLTAGE = Rule(
    name="panel-cold-voltage",
    group=WIRING,
    asks="Does the controller survive the panels' open-circuit voltage on the coldest morning?",
    check=_panel_cold_voltage,
)
PANEL_CURRENT = Rule(
    name="panel-current",
    group=WIRING,
    asks="Does the controller's input take the panels' short-circuit current?",
    check=_panel_current,
)
PANEL_STRING_FUSES = Rule(
    name="panel-string-fuses",
    group=WIRING,
    asks="Do parallel strings of panels that could overload one of them have their own fuses?",
    check=_panel_string_fuses,
)
PANEL_TOUCH_VOLTAGE = Rule(
    name="panel-touch-voltage",
    group=WIRING,
    asks="Does the panel voltage stay below what may be touched?",
    check=_panel_touch_voltage,
)

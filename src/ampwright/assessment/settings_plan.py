"""Assessment -> what to set on each device, why, within which window, and what was left.

Devices stand in the order in which they are set: what protects the battery first, then what charges it; within
one device the battery type first, since choosing it resets the voltages.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from ampwright.assessment.as_left import CUTOFF_SUBJECT, reading_tolerance
from ampwright.assessment.charger_lines import charger_lines
from ampwright.assessment.result import Assessment
from ampwright.assessment.setting_range import setting_range, value_words
from ampwright.assessment.settings_advice import advised_cutoff
from ampwright.assessment.settings_records import DeviceSettings, Origin, SettingLine, SettingsPlan
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignChannel
from ampwright.job.device_settings import as_charger
from ampwright.job.wiring import AsLeft, Channel, ChannelAsLeft, CutoffAsLeft, LoadCutoff, Setting
from ampwright.parts.charger import MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.switchgear import OutputModule
from ampwright.said import Said, said, said_together
from ampwright.units import symbol

__all__ = ["settings_plan"]


def settings_plan(found: Assessment) -> SettingsPlan:
    """Return everything to set in a job."""
    devices = tuple(_devices(found))
    count = sum(line.origin == "proposal" for device in devices for line in device.lines)
    return SettingsPlan(devices=devices, proposal_count=count)


def _devices(found: Assessment) -> Iterator[DeviceSettings]:
    design = found.design
    yield _cutoff(found)
    for placed, module in design.placed(OutputModule):
        yield _module(design, placed, module)
    for placed, part in design.placed(Inverter):
        yield _device(design, placed, (*_inverter_lines(design, placed, part), *charger_lines(found, placed)))
    kinds = (PanelController, MainsCharger)
    chargers = [one for one in design.parts if as_charger(one) and not isinstance(one.part, Inverter)]
    for placed in sorted(chargers, key=lambda one: not isinstance(one.part, kinds)):
        yield _device(design, placed, charger_lines(found, placed))


def _cutoff(found: Assessment) -> DeviceSettings:
    """Return the load cut-off as wanted, or as proposed where the job has none."""
    design = found.design
    wanted = design.wanted_cutoff
    advice = advised_cutoff(design, found.network, found.energy)
    cutoff, origin = (wanted, "job") if wanted is not None else (advice.cutoff, "proposal")
    source: Origin = "job" if origin == "job" else "proposal"
    last_v = design.battery_part().cutoff_v * design.parts[design.battery].in_series
    hint = "" if wanted is None else _computed(advice.cutoff.open_v)
    back = "" if wanted is None else _computed(advice.cutoff.close_v)
    why_open, why_close = said_together((advice.why_open, hint)), said_together((advice.why_close, back))
    lines = (
        _line("open_v", cutoff.open_v, (why_open, source), (last_v, cutoff.close_v)),
        _line("close_v", cutoff.close_v, (why_close, source), (cutoff.open_v, None)),
        _line("delay_s", cutoff.delay_s, (said("rides through starting loads"), source), (None, None)),
        *_comfort_lines(cutoff),
    )
    left = wanted.as_left if wanted is not None else None
    read = tuple(_read(line, left, 0.0) for line in lines)
    return _signed(
        DeviceSettings(id=CUTOFF_SUBJECT, name=said("low-voltage cut-off of the loads"), lines=read), left
    )


def _computed(value_v: float) -> Said:
    return said("(computed: {value_v:.1f} V)", value_v=value_v)


def _comfort_lines(cutoff: LoadCutoff) -> Iterator[SettingLine]:
    """Yield the earlier stage of the loads that are comfort, where the job has one."""
    stage = cutoff.comfort
    if stage is not None:
        why, back = said("loads of comfort go before the others"), said("comes back once a charger works")
        yield _line("comfort_open_v", stage.open_v, (why, "job"), (cutoff.open_v, stage.close_v))
        yield _line("comfort_close_v", stage.close_v, (back, "job"), (stage.open_v, None))


def _module(design: Design, placed: DesignPart, module: OutputModule) -> DeviceSettings:
    wanted = {each.number: each for each in design.wanted_channels if each.module == placed.id}
    lines = tuple(
        _channel(channel, wanted.get(channel.number))
        for channel in sorted(design.channels, key=lambda each: each.number)
        if channel.part == placed.index
    )
    left = next((each.as_left for each in wanted.values() if each.as_left is not None), None)
    name = said("{module}: channel limits", module=module.name)
    return _signed(DeviceSettings(id=placed.id, name=name, lines=lines), left)


def _channel(channel: DesignChannel, wanted: Channel | None) -> SettingLine:
    """Return the line of one channel: what is wanted, and what was read back."""
    left = wanted.as_left if wanted is not None else None
    said_a = wanted.limit_a if wanted is not None else channel.limit_a
    value_a = channel.max_a if said_a is None else said_a
    read_a = left.limit_a if left is not None else None
    tolerance_a = reading_tolerance("limit_a", 0.0)
    return SettingLine(
        name=said("channel {number}", number=channel.number),
        words=said("{number} {name}", number=channel.number, name=channel.name),
        value=value_a,
        unit="A",
        low=None,
        high=channel.max_a,
        is_fixed=False,
        why=said("above what its loads take, below what its cable and channel carry"),
        origin="job" if value_a < channel.max_a else "part",
        as_left=read_a,
        is_off=read_a is not None and abs(read_a - value_a) > tolerance_a + 1e-9,
    )


def _inverter_lines(design: Design, placed: DesignPart, part: Inverter) -> tuple[SettingLine, ...]:
    """Return the two thresholds of an inverter."""
    setting = _wanted(design, placed)
    last_v = design.battery_part().cutoff_v * design.parts[design.battery].in_series
    lines = []
    for name, delivered_v, why in (
        (
            "stop_v",
            part.input_min_v,
            said("after the loads, before the battery's own {last_v:.1f} V", last_v=last_v),
        ),
        (
            "start_v",
            part.input_restart_v,
            said("above what the battery springs back to, below the chargers' float"),
        ),
    ):
        wanted_v = getattr(setting, name)
        value = delivered_v if wanted_v is None else wanted_v
        if value > 0.0:
            origin: Origin = "part" if wanted_v is None else "job"
            found = setting_range(part, name)
            lines.append(
                _line(name, value, (why, origin), (found.low, found.high), is_fixed=found.kind == "fixed")
            )
    return tuple(lines)


def _line(
    name: str,
    value: float,
    why: tuple[str, Origin],
    window: tuple[float | None, float | None],
    *,
    is_fixed: bool = False,
) -> SettingLine:
    low, high = (None if end is None or math.isinf(end) else end for end in window)
    return SettingLine(
        name=name,
        words=value_words(name),
        value=value,
        unit=symbol(name),
        low=low,
        high=high,
        is_fixed=is_fixed,
        why=why[0],
        origin=why[1],
    )


def _device(design: Design, placed: DesignPart, lines: tuple[SettingLine, ...]) -> DeviceSettings:
    setting = _wanted(design, placed)
    step_v = float(getattr(placed.part, "voltage_step_v", 0.0))
    read = tuple(_read(line, setting.as_left, step_v) for line in lines)
    device = DeviceSettings(id=placed.id, name=placed.part.name, lines=read, note=setting.as_left_note)
    return _signed(device, setting.as_left)


def _wanted(design: Design, placed: DesignPart) -> Setting:
    return next((each for each in design.wanted_settings if each.part == placed.id), Setting(part=placed.id))


def _read(line: SettingLine, left: AsLeft | CutoffAsLeft | None, step_v: float) -> SettingLine:
    """Return the line with its reading, where there is one."""
    value = getattr(left, line.name, None)
    if value is None:
        return line
    is_off = (
        value != line.value
        if isinstance(value, str) or isinstance(line.value, str)
        else abs(value - line.value) > reading_tolerance(line.name, step_v) + 1e-9
    )
    return dataclasses.replace(line, as_left=value, is_off=is_off)


def _signed(device: DeviceSettings, left: AsLeft | CutoffAsLeft | ChannelAsLeft | None) -> DeviceSettings:
    if left is None:
        return device
    return dataclasses.replace(device, by=left.by, date=left.date, how=left.how, firmware=left.firmware)

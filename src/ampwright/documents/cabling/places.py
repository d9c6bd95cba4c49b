"""Where a conductor's end is put: terminal of a part, side of a device, post of a battery.

A node of the network stands for plus and minus together; here they are told apart.
"""

from __future__ import annotations

from ampwright.documents.cabling.records import Form, Pole, Terminal
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignDevice
from ampwright.parts.hardware import BusBar
from ampwright.parts.kinds import Part
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import OutputModule, Sensor

__all__ = ["device_terminal", "node_terminal", "return_terminal"]


def node_terminal(design: Design, node: int, at_nodes: dict[int, DesignPart], *, pole: Pole) -> Terminal:
    """Return where the outgoing conductor ends at a node."""
    name, placed = design.nodes[node], at_nodes.get(node)
    if placed is None:
        return _without_part(design, name, pole)
    channel = _channel(design, node, placed)
    if channel is not None and isinstance(placed.part, OutputModule):
        if _is_low_side(placed.part, channel):
            return _terminal(f"{placed.id} feed", pole, "", placed.part)
        return _channel_terminal(name, pole, placed.part)
    return _terminal(name, pole, placed.part.terminal, placed.part)


def return_terminal(design: Design, node: int, at_nodes: dict[int, DesignPart], *, pole: Pole) -> Terminal:
    """Return where the return conductor ends at a node."""
    name, placed = design.nodes[node], at_nodes.get(node)
    if placed is None:
        return _without_part(design, name, pole)
    part = placed.part
    channel = _channel(design, node, placed)
    if channel is not None and isinstance(part, OutputModule):
        if _is_low_side(part, channel):
            return _channel_terminal(name, pole, part)
        return _terminal(placed.id, pole, "", part)
    if isinstance(part, Relay) or (isinstance(part, Sensor) and part.senses == "current"):
        return _terminal(name, pole, "through", part)
    return _terminal(name, pole, part.terminal, part)


def device_terminal(device: DesignDevice, *, before: str, after: str) -> tuple[Terminal, Terminal]:
    """Return the two terminals of a device in a run, each named by what lies on its side."""
    return (
        _terminal(f"{device.id} ({before})", "plus", device.part.terminal, device.part),
        _terminal(f"{device.id} ({after})", "plus", device.part.terminal, device.part),
    )


def _terminal(place: str, pole: Pole, form: Form, part: Part) -> Terminal:
    is_stud = form == "stud"
    return Terminal(
        place=place,
        pole=pole,
        form=form,
        stud_mm=part.stud_mm if is_stud else 0.0,
        torque_nm=part.terminal_nm if form == part.terminal else 0.0,
        stud_count=part.stud_count if isinstance(part, BusBar) else 1,
    )


def _channel_terminal(place: str, pole: Pole, part: OutputModule) -> Terminal:
    """Return the terminal of a channel; the part's torque is that of its feed."""
    form: Form = "clamp" if part.channel_max_mm2 > 0.0 else ""
    return Terminal(place=place, pole=pole, form=form, stud_mm=0.0, torque_nm=0.0, stud_count=1)


def _without_part(design: Design, name: str, pole: Pole) -> Terminal:
    """Return the terminal of a load, which has leads of its own, or of the vehicle."""
    is_load = any(load.id == name for load in design.loads)
    return Terminal(
        place=name, pole=pole, form="lead" if is_load else "", stud_mm=0.0, torque_nm=0.0, stud_count=1
    )


def _channel(design: Design, node: int, placed: DesignPart) -> int | None:
    ending = design.nodes[node].removeprefix(f"{placed.id}.")
    return int(ending) if isinstance(placed.part, OutputModule) and ending.isdigit() else None


def _is_low_side(part: OutputModule, channel: int) -> bool:
    return any(group.first <= channel <= group.last and group.side == "low" for group in part.outputs)

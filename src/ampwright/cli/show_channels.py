"""A proposal of output channels as text of 80 columns, and as JSON."""

from __future__ import annotations

import json
import textwrap
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ampwright.sizing.channel_answer import ChannelAnswer, ModuleUse, PlacedCircuit
from ampwright.switching.circuits import Channel

__all__ = ["channels_json", "channels_text"]

COLUMNS = 80
NAME_COLUMNS, NODE_COLUMNS = 22, 15
CAUTION = (
    "Peak: all loads of a circuit together, at low battery. Set: the limit in the job. Starting currents and the heat of neighbouring channels are not counted. "
    "An output that fails stays on: the module's feed fuse must protect every cable behind it."
)


def channels_text(answer: ChannelAnswer, *, written: Path | None) -> str:
    """Return the proposal as a table, with what has no channel and what is left over."""
    lines: list[str] = []
    if answer.circuits:
        lines.append(
            f"{'circuit':{NAME_COLUMNS}} {'peak':>7} {'set':>6}  {'now':{NODE_COLUMNS}} {'proposed':{NODE_COLUMNS}} built for"
        )
    lines += [_row(one) for one in answer.circuits]
    lines.append("")
    for sentence in _sentences(answer):
        lines += textwrap.wrap(sentence, COLUMNS, subsequent_indent="  ")
    if written is not None:
        lines += ["", f"Wrote {written}. Now run: ampwright check {written}"]
    return "\n".join(lines)


def channels_json(answer: ChannelAnswer) -> str:
    """Return the proposal as JSON text."""
    return json.dumps(_plain(answer), indent=2, ensure_ascii=False, allow_nan=False)


def _row(one: PlacedCircuit) -> str:
    now = _cut(one.circuit.id, NODE_COLUMNS) if one.circuit.channel >= 0 else "not wired"
    if one.channel is None:
        chosen, built = "NONE", ""
    else:
        same = one.circuit.channel >= 0 and not one.is_moved
        chosen = "=" if same else _cut(one.channel.node, NODE_COLUMNS)
        built = f"{one.channel.max_a:g} A{' dims' if one.channel.is_dimmable else ''}"
    limit = f"{one.circuit.limit_a:g} A" if one.circuit.limit_a else "-"
    return (
        f"{_cut(one.circuit.name, NAME_COLUMNS):{NAME_COLUMNS}} {one.circuit.current_a:5.1f} A {limit:>6}  {now:{NODE_COLUMNS}} "
        f"{chosen:{NODE_COLUMNS}} {built}"
    ).rstrip()


def _cut(text: str, columns: int) -> str:
    return text if len(text) <= columns else f"{text[: columns - 1]}…"


def _sentences(answer: ChannelAnswer) -> Iterator[str]:
    if not answer.modules:
        yield "The job has no output module."
    if not answer.circuits:
        yield "Nothing hangs on an output channel, and no DC load waits to be wired."
    for module in answer.modules:
        yield _module(module)
    for one in answer.lacking:
        yield _why(one, spare_count=answer.spare_count)
    if answer.more is not None:
        yield f"What has no channel would fit on one more module: {answer.more.name} ({answer.more.id})."
    elif answer.lacking:
        yield "No single module of the catalogue takes what has no channel."
    elif answer.circuits:
        count = len(answer.moves)
        yield "Nothing has to move." if not count else f"{count} of {len(answer.circuits)} circuits move."
    if answer.circuits:
        yield CAUTION


def _module(module: ModuleUse) -> str:
    free = Counter(_kind(one) for one in module.free)
    left = ", ".join(f"{count} of {kind}" for kind, count in free.items()) or "none"
    return f"{module.id}: {module.total_a:.1f} A of {module.total_max_a:g} A together; free: {left}."


def _kind(channel: Channel) -> str:
    side = ", negative lead" if channel.is_low_side else ""
    return f"{channel.max_a:g} A{' that dim' if channel.is_dimmable else ''}{side}"


def _why(one: PlacedCircuit, *, spare_count: int) -> str:
    """Return in words why a circuit has no channel."""
    circuit = one.circuit
    if one.lack == "voltage":
        why = f"no output module is for {circuit.nominal_v:g} V"
    elif one.lack == "dimming":
        why = "it is to be dimmed, and no channel of its voltage can dim"
    elif one.lack == "side":
        why = "the channels that would do switch the negative lead"
    elif one.lack == "current":
        dims = " that dim" if circuit.is_dimmed else ""
        why = f"it asks for {circuit.wants_a:.1f} A; the largest of the channels{dims} is built for {one.best_a:g} A"
    elif one.lack == "conductor":
        why = f"its conductor of {circuit.conductor_mm2:g} mm² fits no clamp of the channels that would carry it"
    else:
        spare = f", {spare_count} to be kept free" if spare_count else ""
        why = f"other circuits need the channels that would do, or their module's current is used up{spare}"
    return f"NO CHANNEL for {circuit.name}: {why}."


def _plain(answer: ChannelAnswer) -> dict[str, Any]:
    return {
        "circuits": [
            {
                "id": one.circuit.id,
                "name": one.circuit.name,
                "is_wired": one.circuit.channel >= 0,
                "current_a": one.circuit.current_a,
                "limit_a": one.circuit.limit_a or None,
                "is_dimmed": one.circuit.is_dimmed,
                "channel": one.channel.node if one.channel is not None else None,
                "channel_max_a": one.channel.max_a if one.channel is not None else None,
                "is_moved": one.is_moved,
                "lack": one.lack,
            }
            for one in answer.circuits
        ],
        "modules": [
            {
                "id": one.id,
                "total_a": one.total_a,
                "total_max_a": one.total_max_a,
                "free": [channel.node for channel in one.free],
            }
            for one in answer.modules
        ],
        "spare_count": answer.spare_count,
        "one_more_module": answer.more.id if answer.more is not None else None,
    }

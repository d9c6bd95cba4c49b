"""Design -> Graph: which symbol each part and load gets, and the joints between them."""

from __future__ import annotations

import dataclasses
from collections import deque
from collections.abc import Iterator

from ampwright.documents.diagram.graph import Block, End, Graph, Joint, Shape
from ampwright.documents.diagram.symbols import SymbolName
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE, terminals
from ampwright.parts.battery import Battery
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.hardware import BusBar, Enclosure, Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import ButtonPanel, OutputModule, Remote, Sensor

__all__ = ["graph_of", "load_symbol"]

AC = "ac"
BY_KIND: tuple[tuple[type, SymbolName, Shape], ...] = (
    (AlternatorCharger, "dc-dc", "pass"),
    (PanelController, "dc-dc", "pass"),
    (Converter, "dc-dc", "pass"),
    (MainsCharger, "ac-dc", "pass"),
    (Inverter, "ac-dc", "pass"),
    (Relay, "relay", "pass"),
    (Battery, "battery", "end"),
    (Panel, "panel", "end"),
    (Inlet, "inlet", "end"),
    (Outlet, "outlet", "end"),
    (ButtonPanel, "buttons", "end"),
    (Remote, "remote", "end"),
    (BusBar, "box", "bar"),
    (OutputModule, "box", "strip"),
)
SOURCES = (AlternatorCharger, Battery, Inlet, MainsCharger, Panel, PanelController)
LOAD_WORDS: tuple[tuple[SymbolName, tuple[str, ...]], ...] = (
    ("heater", ("heater", "heating", "kettle", "oven", "heizung", "heizlüfter", "wasserkocher")),
    ("motor", ("motor", "pump", "fan", "compressor", "winch", "mixer", "pumpe", "lüfter", "ventilator", "kompressor")),
    ("lamp", ("lamp", "lamps", "light", "lights", "lighting", "lampe", "lampen", "licht", "leuchte", "leuchten")),
)  # fmt: skip
"""Words in a load's name that choose its symbol, nothing else; no such word = the general symbol. Own choice."""


def graph_of(design: Design) -> Graph:
    """Return what is drawn of a design."""
    blocks = [dataclasses.replace(block, index=index) for index, block in enumerate(_all_blocks(design))]
    where = _ends(design, blocks)
    joints = [*_runs(design, where), *_plugged(blocks, where), *_mains(blocks)]
    joints += [
        Joint(kind="bond", start=where[block.bond.node], end=End(block=block.index, terminal=""))
        for block in blocks
        if block.bond is not None
    ]
    return _with_main(design, blocks, joints)


def _all_blocks(design: Design) -> Iterator[Block]:
    yield from _vehicle(design)
    yield from _parts(design)
    yield from _loads(design)
    yield from _bonds(design)
    if not any(isinstance(placed.part, Inlet) for placed in design.parts):
        for placed in design.parts:
            if isinstance(placed.part, MainsCharger):
                yield Block(
                    index=0, id=f"mains-{placed.id}", name="", symbol="supply", shape="end", is_source=True
                )


def _vehicle(design: Design) -> Iterator[Block]:
    if design.node_of(STARTER_NODE) >= 0:
        symbol: SymbolName = "vehicle" if design.vehicle.has_alternator else "battery"
        yield Block(
            index=0, id=f"part-{STARTER_NODE}", name=STARTER_NODE, symbol=symbol, shape="end", is_source=True
        )
    if design.node_of(SECOND_NODE) >= 0:
        yield Block(
            index=0,
            id=f"part-{SECOND_NODE}",
            name=SECOND_NODE,
            symbol="generator",
            shape="end",
            is_source=True,
        )


def _parts(design: Design) -> Iterator[Block]:
    for placed in design.parts:
        if isinstance(placed.part, Enclosure):
            continue
        symbol, shape = _look(placed)
        yield Block(
            index=0,
            id=f"part-{placed.id}",
            name=placed.id,
            symbol=symbol,
            shape=shape,
            is_source=isinstance(placed.part, SOURCES),
            is_inside_module=placed.is_inside_module,
            part=placed,
            channels=tuple(each for each in design.channels if each.part == placed.index),
        )


def _look(placed: DesignPart) -> tuple[SymbolName, Shape]:
    part = placed.part
    if isinstance(part, Sensor):
        return ("shunt", "pass") if part.senses == "current" else ("sensor", "end")
    return next(
        ((symbol, shape) for kind, symbol, shape in BY_KIND if isinstance(part, kind)), ("box", "end")
    )


def _loads(design: Design) -> Iterator[Block]:
    for load in design.loads:
        yield Block(
            index=0, id=f"load-{load.id}", name=load.id, symbol=load_symbol(load), shape="end", load=load
        )


def load_symbol(load: DesignLoad) -> SymbolName:
    """Return the symbol of a load, from its part or the words of its name."""
    if load.fridge is not None:
        return "fridge"
    words = set("".join(c if c.isalpha() else " " for c in f"{load.id} {load.name}".lower()).split())
    return next((symbol for symbol, known in LOAD_WORDS if words & set(known)), "load")


def _bonds(design: Design) -> Iterator[Block]:
    for number, bond in enumerate(design.bonds, 1):
        yield Block(index=0, id=f"bond-{number}", name=bond.metal, symbol="chassis", shape="end", bond=bond)


def _ends(design: Design, blocks: list[Block]) -> dict[int, End]:
    """Return where each node of the design is on the drawing."""
    found: dict[int, End] = {}
    for block in blocks:
        if not block.name:
            continue
        names = {block.name: ""}
        if block.part is not None:
            names = {f"{block.name}{ending}": ending[1:] for ending in terminals(block.part.part)}
        names[f"{block.name}.middle"] = "middle"
        if block.bond is None:
            for name, terminal in names.items():
                node = design.node_of(name)
                if node >= 0:
                    found.setdefault(node, End(block=block.index, terminal=terminal))
    return found


def _runs(design: Design, where: dict[int, End]) -> Iterator[Joint]:
    ports = {index: port.id for port in design.ports for index in port.runs}
    for run in design.runs:
        yield Joint(
            kind="run", start=where[run.start], end=where[run.end], run=run, port=ports.get(run.index, "")
        )


def _plugged(blocks: list[Block], where: dict[int, End]) -> Iterator[Joint]:
    """Yield loads at an outlet or another part's node, wired by no run of their own."""
    for block in blocks:
        if block.load is not None and block.load.node >= 0 and where[block.load.node].block != block.index:
            own = End(block=block.index, terminal="")
            yield Joint(kind="plugged", start=where[block.load.node], end=own)


def _mains(blocks: list[Block]) -> Iterator[Joint]:
    """Yield the mains side as far as the design tells: inlet to chargers, inverter to its outlets and loads."""

    def having(kind: type) -> list[Block]:
        return [block for block in blocks if block.part is not None and isinstance(block.part.part, kind)]

    inlets, inverters = having(Inlet), having(Inverter)
    outlets = [each for each in having(Outlet) if _is_mains_outlet(each)]
    yield from _supplied(having(MainsCharger), inlets, blocks)
    for source, terminal in [*((each, AC) for each in inverters), *((each, "") for each in inlets)][:1]:
        for outlet in outlets:
            yield _mains_joint(source, terminal, outlet, "")
    for block in blocks:
        if block.load is not None and block.load.inverter >= 0:
            for source in inverters:
                if source.part is not None and source.part.index == block.load.inverter:
                    yield _mains_joint(source, AC, block, "")


def _supplied(chargers: list[Block], inlets: list[Block], blocks: list[Block]) -> Iterator[Joint]:
    """Yield what feeds each mains charger: the inlet, or a supply nobody described."""
    for charger in chargers:
        for inlet in inlets[:1]:
            yield _mains_joint(inlet, "", charger, AC)
        for supply in blocks:
            if supply.id == f"mains-{charger.name}":
                yield _mains_joint(supply, "", charger, AC)


def _is_mains_outlet(block: Block) -> bool:
    return block.part is not None and isinstance(block.part.part, Outlet) and block.part.part.supply == "ac"


def _mains_joint(source: Block, terminal: str, target: Block, own: str) -> Joint:
    start, end = End(block=source.index, terminal=terminal), End(block=target.index, terminal=own)
    return Joint(kind="mains", start=start, end=end)


def _with_main(design: Design, blocks: list[Block], joints: list[Joint]) -> Graph:
    """Choose the main bus bar: the bar nearest to the auxiliary battery; without any bar its terminal is drawn as one."""
    battery = next(b.index for b in blocks if b.part is not None and b.part.index == design.battery)
    seen, queue = {battery}, deque([battery])
    while queue:
        here = queue.popleft()
        if blocks[here].shape == "bar":
            return Graph(blocks=tuple(blocks), joints=tuple(joints), main=here)
        for joint in joints:
            for one, other in ((joint.start.block, joint.end.block), (joint.end.block, joint.start.block)):
                if one == here and other not in seen and joint.kind == "run":
                    seen.add(other)
                    queue.append(other)
    bar = Block(
        index=len(blocks), id=f"bar-{blocks[battery].name}", name=blocks[battery].name, symbol="box", shape="bar",
        is_inside_module=blocks[battery].is_inside_module,
    )  # fmt: skip
    terminal, old = End(block=bar.index, terminal=""), End(block=battery, terminal="")
    moved = [
        dataclasses.replace(
            joint,
            start=terminal if joint.start == old else joint.start,
            end=terminal if joint.end == old else joint.end,
        )
        for joint in joints
    ]
    own = Joint(kind="plugged", start=terminal, end=old)
    return Graph(blocks=(*blocks, bar), joints=(own, *moved), main=bar.index)

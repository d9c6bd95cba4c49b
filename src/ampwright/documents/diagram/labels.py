"""What stands beside a line and beside a symbol: texts of circuits, devices, parts and loads."""

from __future__ import annotations

import re

from ampwright.documents.diagram.graph import Block, Joint, Shows
from ampwright.documents.diagram.symbols import SYMBOLS, SymbolName
from ampwright.documents.diagram.text_width import clean, text_width_mm, wrapped
from ampwright.documents.quantity_text import UNIT_SPACE, UnitSystem, gauge_text
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.hardware import Plug
from ampwright.parts.protection import Fuse, Isolator
from ampwright.records import record

__all__ = ["LINE_MM", "MARGIN_MM", "NAME_MM", "SMALL_MM", "Item", "Line", "Writer", "line_width_mm"]

ID_MM = 2.5
"""Type size of names; with capitals of 1.8 mm, a nominal size of ISO 3098-1."""
SMALL_MM = 2.3
"""Type size of everything else."""
LINE_MM = 2.75
"""From line to line."""
NAME_MM = 19.0
"""Width in which a name is broken."""
PASS_MM = 24.0
"""The same beside a symbol that a line passes through."""
MARGIN_MM = 21.0
"""The same beside the main bus bar."""
NAME_LINES = 3
LONGEST_MM = 45.0
"""Width from which even the name of a circuit is broken."""
DEVICE_WORDS: dict[str, str] = {
    "fuse": noted("fuse"),
    "breaker": noted("breaker"),
    "isolator": noted("isolator"),
}
METAL_WORDS: dict[str, str] = {
    "vehicle": noted("vehicle"),
    "body": noted("body"),
    "trailer": noted("trailer"),
}
NAME_FRAC = 0.94
"""Bold names are broken as if in plain type of the smaller size, and stay about as wide as what stands below."""
GENERIC = "Generic "
"""Left out of the names of shipped parts."""


@record
class Line:
    """One line of a label."""

    text: str
    """The text."""
    is_bold: bool = False
    """True for a name."""

    @property
    def size_mm(self) -> float:
        """Type size."""
        return ID_MM if self.is_bold else SMALL_MM


@record
class Item:
    """Something along a line: a device, a plug, or the label of the circuit."""

    id: str
    """Id of its group; empty for the circuit's own label."""
    symbol: SymbolName | None
    """Symbol; None for a label alone."""
    lines: tuple[Line, ...]
    """Text to the right of it."""
    label: str
    """The same in words."""

    @property
    def height_mm(self) -> float:
        """Length of line it takes."""
        text_mm = len(self.lines) * LINE_MM + 0.6
        return max(text_mm, 0.0 if self.symbol is None else SYMBOLS[self.symbol].height_mm + 0.6)


def line_width_mm(lines: tuple[Line, ...]) -> float:
    """Return the width of the widest line."""
    return max((text_width_mm(each.text, each.size_mm, is_bold=each.is_bold) for each in lines), default=0.0)


def _bound(text: str) -> str:
    """Return a text in which a figure is not parted from its unit."""
    return re.sub(r"(\d) (?=(A|Ah|V|W|mm|mm²|kW|l)\b)", rf"\1{UNIT_SPACE}", text)


@record
class Writer:
    """Writes labels in the reader's language and units."""

    words: Words
    """The language."""
    units: UnitSystem
    """Metric, or US customary beside it."""
    design: Design
    """The design."""
    block_names: tuple[str, ...] = ()
    """Names of the blocks, by index."""

    def reference(self, sheet: int, name: str, *, is_from: bool, is_here: bool) -> tuple[Line, ...]:
        """Return where a line goes on or comes from."""
        text = (
            self.words("from sheet {sheet}", sheet=sheet)
            if is_from
            else self.words("to sheet {sheet}", sheet=sheet)
        )
        if is_here:
            text = self.words("from this sheet") if is_from else self.words("on this sheet")
        at = wrapped(clean(self.words("at {name}", name=name)), NAME_MM, SMALL_MM, most=3)
        return (Line(text=text, is_bold=True), *(Line(text=line) for line in at))

    def items(self, joint: Joint, *, shows: Shows, is_forward: bool) -> tuple[Item, ...]:
        """Return what stands along a joint, from its parent outwards: devices at the end they sit at, the label between."""
        run = joint.run
        if run is None:
            return ()
        first = sorted((each for each in run.devices if each.end == "from"), key=lambda each: each.distance_m)
        last = sorted((each for each in run.devices if each.end == "to"), key=lambda each: -each.distance_m)
        lines = self.run(run, joint.port)
        if "middle" in {joint.start.terminal, joint.end.terminal}:
            lines += tuple(Line(text=text) for text in self._broken(self.words("between the two batteries")))
        label = Item(id="", symbol=None, lines=lines, label="")
        along = [
            *(self._device_item(each) for each in first if shows in {"all", "from"}),
            label,
            *(self._plug_item(each, run) for each in run.plugs if shows in {"all", "from"}),
            *(self._device_item(each) for each in last if shows in {"all", "to"}),
        ]
        return tuple(along if is_forward else reversed(along))

    def _device_item(self, device: DesignDevice) -> Item:
        symbol: SymbolName = "fuse" if isinstance(device.part, Fuse) else "breaker"
        if isinstance(device.part, Isolator):
            symbol = "isolator"
        said = self.words(
            "{kind} {name}, {rating}",
            kind=self.words(DEVICE_WORDS[symbol]),
            name=device.id,
            rating=self.amperes(device.part.rating_a),
        )
        return Item(id=f"device-{device.id}", symbol=symbol, lines=self.device(device), label=said)

    def _plug_item(self, plug: Plug, run: DesignRun) -> Item:
        text = Line(text=self.amperes(plug.rating_a))
        return Item(
            id=f"plug-{run.id}",
            symbol="plug",
            lines=(text,),
            label=self.words("plug in {run}, {rating}", run=run.id, rating=text.text),
        )

    def run(self, run: DesignRun, port: str = "") -> tuple[Line, ...]:
        """Return name and area of a circuit, its port, and how it goes back where that is not by a like cable."""
        texts = self.area(run.cable.area_mm2)
        if run.back_cable is None:
            texts += self._broken(self.words("return: chassis"))
        elif run.back_cable.id != run.cable.id:
            back, *gauge = self.area(run.back_cable.area_mm2)
            texts += (self.words("return {area}", area=back), *gauge)
        if port:
            texts += self._broken(self.words("port {port}", port=port.rpartition(".")[2]))
        return (*self._title(run.id), *(Line(text=text) for text in texts))

    def area(self, area_mm2: float) -> tuple[str, ...]:
        """Return an area in mm2, with US units the gauge in further lines."""
        metric = self.words.decimal(f"{round(area_mm2, 2):g}{UNIT_SPACE}mm²")
        if self.units != "us":
            return (metric,)
        return (metric, *wrapped(gauge_text(area_mm2), NAME_MM - 4.0, SMALL_MM, most=3))

    def device(self, device: DesignDevice) -> tuple[Line, ...]:
        """Return name and rating of a device."""
        return (*self._title(device.id), Line(text=self.amperes(device.part.rating_a)))

    def amperes(self, current_a: float) -> str:
        """Return a rating."""
        return self.words.decimal(f"{round(current_a, 1):g}{UNIT_SPACE}A")

    def block(self, block: Block, width_mm: float = NAME_MM) -> tuple[Line, ...]:
        """Return name and short description of a part, a load or a tie."""
        if block.bond is not None:
            metal = self.words("negative to {metal}", metal=self.words(METAL_WORDS[block.bond.metal]))
            texts = (metal, *self.area(block.bond.cable.area_mm2))
            return tuple(
                Line(text=line) for text in texts for line in wrapped(text, width_mm, SMALL_MM, most=2)
            )
        if block.shape == "pass":
            width_mm = PASS_MM
        said = wrapped(_bound(clean(self.said(block))), width_mm, SMALL_MM, most=NAME_LINES)
        return (*self._name(block, width_mm), *(Line(text=text) for text in said), *self._figure(block))

    def said(self, block: Block) -> str:
        """Return the short description of a part or load."""
        if block.load is not None:
            return block.load.name
        if block.part is not None:
            name = block.part.part.name.removeprefix(GENERIC)
            return name[:1].upper() + name[1:]
        if block.symbol == "supply":
            return self.words("mains supply")
        vehicle = self.design.vehicle
        if block.name == STARTER_NODE and vehicle.has_alternator:
            return self.words("starter battery and alternator")
        if block.name == STARTER_NODE:
            return self.words("starter battery")
        return (
            self.words("second alternator")
            if block.name == SECOND_NODE
            else self.words("terminal, drawn as a bar")
        )

    def _name(self, block: Block, width_mm: float) -> tuple[Line, ...]:
        if not block.name:
            return ()
        parts = wrapped(clean(block.name), width_mm * NAME_FRAC, SMALL_MM, most=4)
        return tuple(Line(text=text, is_bold=True) for text in parts)

    def _figure(self, block: Block) -> tuple[Line, ...]:
        if block.load is not None:
            count = f"{block.load.count} × " if block.load.count > 1 else ""
            each_w = block.load.power_w / block.load.count
            return (Line(text=self.words.decimal(f"{count}{round(each_w, 1):g}{UNIT_SPACE}W")),)
        if block.part is not None and block.part.case_count > 1:
            placed = block.part
            text = self.words("{count} in parallel", count=placed.strings)
            if placed.strings == 1:
                text = self.words("{count} in series", count=placed.in_series)
            elif placed.in_series > 1:
                text = self.words(
                    "{count} in parallel, each {series} in series",
                    count=placed.strings,
                    series=placed.in_series,
                )
            return tuple(Line(text=line) for line in self._broken(text))
        return ()

    def _title(self, name: str) -> tuple[Line, ...]:
        """Return a name in one line, unless it is so long that no column holds it."""
        lines = wrapped(clean(name), LONGEST_MM, ID_MM, most=4)
        return tuple(Line(text=line, is_bold=True) for line in lines)

    def _broken(self, text: str) -> tuple[str, ...]:
        return wrapped(clean(text), NAME_MM - 4.0, SMALL_MM, most=2)

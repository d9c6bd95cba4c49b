"""The list of part kinds: a new kind is one new record and one line here."""

from __future__ import annotations

from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.fridge import Fridge
from ampwright.parts.hardware import BusBar, Enclosure, Inlet, Outlet, Plug
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import ButtonPanel, OutputModule, Remote, Sensor

__all__ = ["KINDS", "Part"]

Part = (
    AlternatorCharger
    | Battery
    | Breaker
    | BusBar
    | ButtonPanel
    | Cable
    | Converter
    | Enclosure
    | Fridge
    | Fuse
    | Inlet
    | Inverter
    | Isolator
    | MainsCharger
    | Outlet
    | OutputModule
    | Panel
    | PanelController
    | Plug
    | Relay
    | Remote
    | Sensor
)

KINDS: tuple[type[Part], ...] = Part.__args__

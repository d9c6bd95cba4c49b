"""The wiring of a design: cable runs with their devices, paths inside parts, output channels and the module's ports."""

from __future__ import annotations

from typing import Literal

from ampwright.job.design_zone import DesignZone
from ampwright.job.wiring import Attached, Owner
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import Plug
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record

__all__ = ["DesignBond", "DesignChannel", "DesignDevice", "DesignLink", "DesignPort", "DesignRun"]


@record
class DesignDevice:
    """A protective device in a run."""

    id: str
    """Label."""
    part: Fuse | Breaker | Isolator
    """Catalogue record."""
    end: Literal["from", "to"]
    """End of the run it sits at."""
    distance_m: float
    """Cable between that end and the device."""
    is_sheathed: bool
    """True when that length is sheathed throughout."""


@record
class DesignRun:
    """A cable run, amounts and parts resolved."""

    index: int
    """Position in Design.runs."""
    id: str
    """Label."""
    start: int
    """Index of the node it comes from."""
    end: int
    """Index of the node it goes to."""
    cable: Cable
    """Outgoing conductor."""
    back_cable: Cable | None
    """Return conductor; None = chassis."""
    length_m: float
    """Outgoing length."""
    back_length_m: float
    """Return length; 0 for the chassis."""
    chassis_ohm: float
    """Resistance of a chassis return; 0 for a cable."""
    joint_ohm: float
    """Terminals and joints of the loop."""
    devices: tuple[DesignDevice, ...]
    """Protective devices in it."""
    plugs: tuple[Plug, ...]
    """Plugs in it, two poles each carrying the current."""
    ambient_max_degc: float
    """Hottest zone it passes."""
    ambient_is_stated: bool
    """False when no zone was named, so the temperature is only the outside maximum."""
    is_engine_space: bool
    """True when it passes an engine space."""
    zones: tuple[DesignZone, ...]
    """Zones it passes."""
    tightest_bend_mm: float | None
    """Smallest radius of its route or its zones; None = not said."""
    loaded_together: int
    """Current-carrying conductors bundled and loaded together."""
    is_sheathed: bool
    """True for a multiconductor cable."""
    part_of: Attached
    """Where it is carried."""
    is_inside_module: bool
    """True when it belongs to the power module."""

    @property
    def conductor_20_ohm(self) -> float:
        """Resistance of outgoing and return conductor at 20 degC, chassis not included."""
        out = self.cable.resistance_ohm_per_km * self.length_m
        back = self.back_cable.resistance_ohm_per_km * self.back_length_m if self.back_cable else 0.0
        return (out + back) / 1000.0

    @property
    def fixed_ohm(self) -> float:
        """Resistance that does not follow conductor temperature: joints, devices, plugs, chassis."""
        devices = sum(device.part.resistance_ohm for device in self.devices)
        plugs = sum(2.0 * plug.resistance_ohm for plug in self.plugs)
        return self.joint_ohm + devices + plugs + self.chassis_ohm


@record
class DesignBond:
    """A tie between battery negative and metal, parts resolved."""

    node: int
    """Index of the node whose negative it starts from."""
    cable: Cable
    """Its conductor."""
    metal: Attached
    """What it ties the negative to."""


@record
class DesignLink:
    """A current path inside a part: a channel of an output module, a current sensor, or a relay's contacts."""

    part: int
    """Index of the part."""
    start: int
    """Index of the node on the battery side."""
    end: int
    """Index of the node on the load side."""
    resistance_ohm: float
    """Resistance of the path."""


@record
class DesignChannel:
    """An output channel in use."""

    part: int
    """Index of the output module."""
    number: int
    """Channel number."""
    name: str
    """Legend."""
    node: int
    """Index of its node."""
    max_a: float
    """What the channel can carry."""
    limit_a: float
    """Set limit."""
    is_dimmed: bool
    """True when it is used to dim."""
    is_dimmable: bool
    """True when the hardware can dim."""
    side: Literal["high", "low"]
    """Lead it switches."""
    is_always_on: bool = False
    """True when it is on whenever its module is fed."""
    light_outside: Literal["none", "white-rearward", "other"] | None = None
    """Light it shows outside; None = not said."""


@record
class DesignPort:
    """A port of the module and the runs connected to it."""

    id: str
    """Name "module.port"."""
    node: int
    """Index of the node behind it."""
    direction: Literal["in", "out", "both"]
    """Which way current goes."""
    max_a: float
    """Current it gives or takes."""
    device_max_a: float
    """Largest device allowed in the run."""
    smallest_mm2: float
    """Smallest cable allowed."""
    supplied_by: Owner
    """Who supplies device and cable."""
    has_inside_device: bool
    """True when the module protects the run."""
    runs: tuple[int, ...]
    """Indices of the job's runs connected here."""
    capacitance_uf: float | None = None
    """Capacitance hidden behind it; None = none is stated."""
    has_precharge: bool | None = None
    """True when the module limits its charging current; None = not stated."""

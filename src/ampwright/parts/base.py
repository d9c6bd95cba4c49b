"""What every part has: size, mass, price, climate class, own consumption, and where its figures come from."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.face import Cutout, Face, Hole
from ampwright.records import NonNegative, Positive, Temperature, record

__all__ = ["Feature", "PartBase", "StopInput", "SuppliedPart", "Terminal", "TerminalForm"]

TerminalForm = Literal["", "stud", "clamp", "blade", "lead"]
"""What a cable's end is put on: a stud for lugs, a clamp, a flat blade, or a lead of the part's own; "" = not said."""

Terminal = Literal["", "in", "out"]
"""Name of a part's terminal in a node: "" for the only one, "in" and "out" for a part that bridges."""

Feature = Literal["", "never", "can-be-off", "always"]
"""Whether a charger has a habit that not every battery stands; empty = not stated."""
StopInput = Literal["", "none", "wire", "bus"]
"""How a device takes or gives the order to stop; empty = not stated."""


@record
class PartBase:
    """Fields common to all kinds of part."""

    id: str
    """Short name used in job files: lower case letters, digits and dashes."""
    name: str
    """Plain description for people, e.g. "Generic LFP battery 100 Ah"."""
    source: str
    """Where the figures come from: data sheet with revision, or "invented, realistic range"."""
    mass_kg: NonNegative = 0.0
    """Mass of one."""
    length_mm: NonNegative = 0.0
    """Largest outside dimension; 0 = not stated."""
    width_mm: NonNegative = 0.0
    """Second outside dimension; 0 = not stated."""
    height_mm: NonNegative = 0.0
    """Third outside dimension; 0 = not stated."""
    price_eur: NonNegative = 0.0
    """Price of one without tax; for cable use price_eur_per_m."""
    standby_a: NonNegative = 0.0
    """Own consumption whenever connected, at nominal voltage."""
    ingress_code: str = ""
    """Degree of protection to IEC 60529, e.g. "IP65"; empty = not stated."""
    ambient_min_degc: Temperature = -20.0
    """Lowest ambient temperature for operation."""
    ambient_max_degc: Temperature = 60.0
    """Highest ambient temperature for operation."""
    heat_loss_w: NonNegative = 0.0
    """Heat given off at full load where the kind's other fields do not tell it; 0 = derived or none."""
    air_gap_mm: NonNegative | None = None
    """Free air it needs at every side but its largest, which is mounted on; absent = not stated."""
    vibration_class: Literal["", "stationary", "body", "engine", "wheel"] = ""
    """What it is built for: a house, a vehicle's body, an engine, a wheel; empty = not stated."""
    must_stay_upright: bool = False
    """True when its height must stand upright."""
    face: Face = ""
    """Dimensions of the face it is mounted on, the first to the right, the second upwards; empty = the two largest."""
    holes: tuple[Hole, ...] = ()
    """Holes drilled for it; empty = not stated."""
    cutout: Cutout | None = None
    """Opening it looks through where it is set into a front; absent = it is set onto the plate, or not stated."""
    terminal: TerminalForm = ""
    """What cables are put on: a stud for lugs, a clamp, a flat blade, a lead of its own; empty = not said."""
    stud_mm: NonNegative = 0.0
    """Thread of its studs: 8 = M8; 0 = it has none."""
    terminal_min_mm2: NonNegative = 0.0
    """Smallest conductor a clamp, blade or lead takes."""
    terminal_max_mm2: NonNegative = 0.0
    """Largest conductor a clamp, blade or lead takes; 0 = not said, or a stud."""
    terminal_degc: NonNegative = 0.0
    """Highest temperature its terminals may reach, usually 60, 75 or 90; 0 = not said."""
    terminal_nm: NonNegative = 0.0
    """Torque its terminals are tightened with; 0 = see its manual."""

    @property
    def own_a(self) -> float:
        """What it draws while it is on, at nominal voltage."""
        return self.standby_a


@record
class SuppliedPart(PartBase):
    """Fields common to all kinds with electronics on a DC supply; absent = not stated."""

    survives_minute_v: Positive | None = None
    """Highest voltage its vehicle-side or supply terminals survive for a minute (jump start)."""
    survives_surge_v: Positive | None = None
    """Peak of a load dump those terminals survive, 0.4 s."""
    survives_reverse_v: Positive | None = None
    """Reversed voltage those terminals survive for a minute."""
    works_from_v: Positive | None = None
    """Lowest supply voltage it works at without starting again."""

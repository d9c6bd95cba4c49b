"""A power module: a versioned, pre-built unit with ports; what is certified inside is locked."""

from __future__ import annotations

from typing import Literal

from ampwright.job.fit import Mount
from ampwright.job.wiring import Owner, PlacedPart, Run
from ampwright.records import Positive, record

__all__ = ["ModuleChange", "ModuleDefinition", "ModuleOption", "ModulePort", "ModuleUse"]


@record
class ModulePort:
    """A terminal of the module offered to the outside."""

    id: str
    """Name; the node "module.port" in a job."""
    node: str
    """Node inside the module."""
    direction: Literal["in", "out", "both"]
    """Which way the current goes."""
    max_a: Positive
    """Current it gives or takes."""
    device_max_a: Positive
    """Largest protective device allowed in the run connected here."""
    smallest_mm2: Positive
    """Smallest cable allowed here."""
    supplied_by: Owner
    """Who supplies device and cable."""
    has_inside_device: bool = False
    """True when the device is built in, so the run needs none at this end."""
    capacitance_uf: Positive | None = None
    """Capacitance of an inverter that the module hides behind this port; absent = none is stated."""
    has_precharge: bool | None = None
    """True when the module charges it through a resistor before its switch closes; absent = not stated."""


@record
class ModuleOption:
    """Parts and runs that an option adds."""

    id: str
    """Name of the option."""
    name: str
    """Plain description."""
    part: tuple[PlacedPart, ...] = ()
    """Parts it adds."""
    run: tuple[Run, ...] = ()
    """Runs it adds."""
    port: tuple[ModulePort, ...] = ()
    """Ports it adds."""


@record
class ModuleDefinition:
    """One revision of a power module."""

    id: str
    """Name of the module's type."""
    revision: str
    """Revision letter or number."""
    name: str
    """Plain description."""
    certificate: str = ""
    """What is certified and by which document; empty = nothing."""
    mass_kg: Positive
    """Mass with its parts."""
    part: tuple[PlacedPart, ...]
    """Parts inside."""
    run: tuple[Run, ...]
    """Runs inside."""
    port: tuple[ModulePort, ...]
    """Ports."""
    option: tuple[ModuleOption, ...] = ()
    """Options that can be ordered."""


@record
class ModuleChange:
    """An edit of something inside: the job then says "outside the certificate"."""

    part: str
    """Id of the placed part inside the module."""
    becomes: str
    """Catalogue id of its replacement."""
    reason: str
    """Why."""


@record
class ModuleUse:
    """The module this job includes."""

    id: str
    """Name in this job; its inside nodes are "id.part", its ports "id.port"."""
    definition: str
    """Id of the module's type, shipped or in `definition_file`."""
    definition_file: str = ""
    """TOML file of the definition, path relative to the job file."""
    revision: str
    """Revision built in."""
    serial: str = ""
    """Serial number."""
    options: tuple[str, ...] = ()
    """Options fitted."""
    zone: str
    """Zone it is mounted in."""
    mount: Mount | None = None
    """How it is held; absent = not said."""
    change: tuple[ModuleChange, ...] = ()
    """Edits of its inside."""

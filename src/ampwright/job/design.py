"""Design: a job with every part resolved, every amount a number and every node an index.

After this nothing is optional that physics needs. Positions in the tuples are the indices
used by the numeric rooms; ids are for people.
"""

from __future__ import annotations

from typing import Literal, TypeVar

from ampwright.climate.site import Site
from ampwright.job.design_buttons import DesignButton, DesignInterlock
from ampwright.job.design_leg import DesignLeg
from ampwright.job.design_use import DesignLoad, DesignPlan
from ampwright.job.design_vehicle import DesignVehicle
from ampwright.job.design_wiring import DesignBond, DesignChannel, DesignLink, DesignPort, DesignRun
from ampwright.job.design_zone import DesignZone
from ampwright.job.fit import Mount
from ampwright.job.module import ModuleDefinition
from ampwright.job.own_tables import OwnTables
from ampwright.job.records import Job
from ampwright.job.string_links import DesignStringLinks
from ampwright.job.sunlight import PanelPlace
from ampwright.job.wiring import Attached, Channel, LoadCutoff, Owner, Setting
from ampwright.parts.battery import Battery
from ampwright.parts.kinds import Part
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.standards.regions.rules import RegionRules

__all__ = [
    "Design",
    "DesignPart",
]


P = TypeVar("P", bound=Part)


@record
class DesignPart:
    """A placed part with its catalogue record."""

    index: int
    """Position in Design.parts."""
    id: str
    """Name in the job; "module.part" for a part inside the module."""
    part: Part
    """Catalogue record."""
    zone: DesignZone | None
    """Where it is mounted; None = not said."""
    inside: int
    """Index of the enclosure it is mounted in; -1 = in the open air of its zone."""
    strings: int
    """Strings in parallel."""
    in_series: int
    """Cases in series in each string."""
    string_device: Fuse | Breaker | None
    """Protective device of each string."""
    string_links: DesignStringLinks | None
    """How its strings are joined; None = not said."""
    output_a: float | None
    """Largest current a charger really gives; None = its label."""
    precharge_ohm: float | None
    """Resistor that charges its capacitors before it is connected; None = none."""
    tilt_deg: float
    """Tilt of a panel."""
    azimuth_deg: float
    """Direction of a panel."""
    shade_frac: float
    """Yield lost to racks and dirt."""
    panel: PanelPlace
    """How a panel sits in the sun."""
    is_on_when: Literal["always", "loads-use", "not-stored"]
    """When its own consumption runs."""
    owner: Owner
    """Who supplies it."""
    part_of: Attached
    """Where it is carried."""
    is_inside_module: bool
    """True when it belongs to the power module."""
    setting: Setting | None
    """What is set on it."""
    up: Literal["height", "width", "length"] | None
    """Which of its dimensions stands upright; None = any."""
    mount: Mount | None
    """How it is held; None = not said."""

    @property
    def case_count(self) -> int:
        """How many cases or panels of it there are."""
        return self.strings * self.in_series


@record
class Design:
    """A job ready to be calculated."""

    job: Job
    """The job as written, unknown amounts replaced by the numbers used here."""
    site: Site | None
    """The place with its monthly figures; None where a weather file is used."""
    system_v: float
    """Nominal voltage of the auxiliary system."""
    vehicle: DesignVehicle
    """The vehicle."""
    zones: tuple[DesignZone, ...]
    """Places."""
    parts: tuple[DesignPart, ...]
    """Placed parts, the module's included."""
    nodes: tuple[str, ...]
    """Names of the electrical nodes."""
    runs: tuple[DesignRun, ...]
    """Cable runs, the module's included."""
    links: tuple[DesignLink, ...]
    """Paths inside parts."""
    bonds: tuple[DesignBond, ...]
    """Ties between battery negative and metal; empty = not said."""
    loads: tuple[DesignLoad, ...]
    """Loads."""
    channels: tuple[DesignChannel, ...]
    """Output channels in use."""
    ports: tuple[DesignPort, ...]
    """Ports of the module."""
    plans: tuple[DesignPlan, ...]
    """Day plans."""
    days: tuple[int, ...]
    """Indices of the day plans in order of the use."""
    start_soc_frac: float
    """State of charge at the first midnight."""
    mains_limit_a: float
    """Current the hook-up post gives."""
    battery: int
    """Index of the auxiliary battery's part."""
    module: ModuleDefinition | None
    """Definition of the module included."""
    region: RegionRules
    """Rules of the job's region."""
    legs: tuple[DesignLeg, ...] = ()
    """Places of a use that moves on, all its days; empty = one place."""
    tables: OwnTables = OwnTables()
    """The job's own tables; empty = the shipped ones."""
    buttons: tuple[DesignButton, ...] = ()
    """Buttons and what they do; empty = not said."""
    interlocks: tuple[DesignInterlock, ...] = ()
    """Channels that stay off in some states of the vehicle."""
    wanted_settings: tuple[Setting, ...] = ()
    """Settings as wanted; `parts` and `job` hold them as left where they were read back."""
    wanted_channels: tuple[Channel, ...] = ()
    """Output channels as wanted, before what was read back replaced the limits."""
    wanted_cutoff: LoadCutoff | None = None
    """Load cut-off as wanted."""

    def node_of(self, name: str) -> int:
        """Return the index of a node; -1 when this design has no such node."""
        return self.nodes.index(name) if name in self.nodes else -1

    def nodes_of(self, placed: DesignPart) -> tuple[int, ...]:
        """Return the indices of the nodes that are terminals or channels of a placed part."""
        start = f"{placed.id}."
        return tuple(
            index
            for index, name in enumerate(self.nodes)
            if name == placed.id or (name.startswith(start) and "." not in name[len(start) :])
        )

    def placed(self, kind: type[P]) -> tuple[tuple[DesignPart, P], ...]:
        """Return the placed parts of one kind, each with its catalogue record."""
        return tuple((placed, placed.part) for placed in self.parts if isinstance(placed.part, kind))

    def battery_part(self) -> Battery:
        """Return the catalogue record of the auxiliary battery."""
        part = self.parts[self.battery].part
        if not isinstance(part, Battery):
            message = "the auxiliary battery is not a battery"
            raise TypeError(message)
        return part

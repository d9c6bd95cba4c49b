"""Design: a job with every part resolved, every amount a number and every node an index.

After this nothing is optional that physics needs. Positions in the tuples are the indices
used by the numeric rooms; ids are for people.
"""

from __future__ import annotations

from typing import Literal, TypeVar

from ampwright.climate.site import Site
from ampwright.job.consumer import When
from ampwright.job.design_leg import DesignLeg
from ampwright.job.fit import Mount
from ampwright.job.module import ModuleDefinition
from ampwright.job.own_tables import OwnTables
from ampwright.job.records import Job
from ampwright.job.string_links import DesignStringLinks
from ampwright.job.sunlight import DesignShade, PanelPlace
from ampwright.job.use import State
from ampwright.job.vehicle import Zone
from ampwright.job.wiring import Attached, Channel, LoadCutoff, Owner, Setting
from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.fridge import Fridge
from ampwright.parts.hardware import Plug
from ampwright.parts.kinds import Part
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.records import record
from ampwright.standards.regions.rules import RegionRules

__all__ = [
    "Design",
    "DesignAlternator",
    "DesignBond",
    "DesignChannel",
    "DesignDevice",
    "DesignLink",
    "DesignLoad",
    "DesignPart",
    "DesignPeriod",
    "DesignPlan",
    "DesignPort",
    "DesignRun",
    "DesignVehicle",
    "DesignWhen",
    "DesignZone",
]


P = TypeVar("P", bound=Part)


@record
class DesignZone:
    """A place in the vehicle, amounts resolved."""

    id: str
    """Name."""
    kind: Literal["cabin", "body", "locker", "engine", "roof", "outside", "underbody"]
    """Sort of place."""
    ambient_max_degc: float
    """Highest air temperature to be reckoned with."""
    rise_k: float
    """Hotter than inside air (cabin, body, locker) or outside air (others)."""
    written: Zone
    """As written in the job: space, distances and reach."""

    @property
    def is_inside(self) -> bool:
        """True when its air follows the inside of the body."""
        return self.kind in {"cabin", "body", "locker"}


@record
class DesignAlternator:
    """A second alternator apart from the starter battery, amounts resolved."""

    regulation: Literal["fixed", "regulated"]
    """Kind of regulation."""
    alternator_a: float
    """Rated current."""
    alternator_v: float
    """Voltage while charging."""
    alternator_low_v: float
    """Lowest regulated voltage."""
    alternator_high_v: float
    """Highest regulated voltage."""
    hot_road_frac: float
    """Part of the rating, hot, on the road."""
    hot_idle_frac: float
    """Part of the rating, hot, at idle."""
    limits_by_heat: bool | None = None
    """True when its regulator lowers its output by its own temperature; None = not said."""


@record
class DesignVehicle:
    """The vehicle, amounts resolved; zero currents where it has no alternator."""

    system_v: float
    """Nominal voltage."""
    has_alternator: bool
    """True when there is an alternator to charge from."""
    regulation: Literal["fixed", "regulated", "converter"]
    """Kind of regulation."""
    alternator_a: float
    """Rated current."""
    alternator_v: float
    """Voltage while charging."""
    alternator_low_v: float
    """Lowest regulated voltage."""
    alternator_high_v: float
    """Highest regulated voltage."""
    hot_road_frac: float
    """Part of the rating, hot, on the road."""
    hot_idle_frac: float
    """Part of the rating, hot, at idle."""
    engine_off_frac: float
    """Part of the time on the road in which nothing charges."""
    own_load_day_a: float
    """Vehicle's own current by day."""
    own_load_night_a: float
    """Vehicle's own current by night."""
    second: DesignAlternator | None
    """A second alternator that feeds chargers alone; one joined to the starter battery is counted in with the first."""
    has_starter_battery: bool
    """True when there is a starter battery."""
    starter_capacity_ah: float
    """Its capacity; 0 without one."""
    starter_short_circuit_a: float
    """Its prospective fault current; 0 without one."""
    starter_resistance_ohm: float
    """Its resistance; 0 without one."""
    starter_standby_a: float
    """What the parked vehicle takes from it."""
    chassis_resistance_ohm: float
    """Resistance of the chassis return."""
    clamps_load_dump: bool | None
    """True when the alternator limits its load dump; None = not said."""


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
class DesignWhen:
    """One entry of a schedule in minutes of the day."""

    start_min: int
    """First minute, 0 to 1439."""
    end_min: int
    """Minute it ends, 1 to 1440; not above start_min = past midnight."""
    duty_frac: float
    """Mean share of that time; from uses and minutes where those are given."""
    days: tuple[str, ...]
    """Day plans; empty = all but stored days."""
    states: tuple[State, ...]
    """States; empty = all but stored."""
    written: When
    """As written in the job."""


@record
class DesignLoad:
    """A load, amounts resolved."""

    index: int
    """Position in Design.loads."""
    id: str
    """Name."""
    name: str
    """Plain description."""
    node: int
    """Index of its node; -1 = not wired in this job, or an AC load."""
    inverter: int
    """Index of the inverter's part; -1 for a DC load."""
    fridge: Fridge | None
    """Catalogue record of a refrigerator."""
    power_w: float
    """Mean power while it runs, all of its count, at nominal voltage; a refrigerator's running power."""
    peak_w: float
    """Highest power, all of its count."""
    power_factor: float
    """Power factor."""
    count: int
    """How many alike."""
    behaves: Literal["power", "current", "resistance"]
    """How its current follows voltage."""
    is_essential: bool
    """True when it decides the verdict."""
    when: tuple[DesignWhen, ...]
    """Schedule; never empty."""
    zone: DesignZone | None
    """Where it stands."""
    min_v: float | None
    """Lowest voltage it works at; None = not said."""
    max_v: float | None
    """Highest voltage it survives; None = not said."""
    survives_surge_v: float | None
    """Peak of a load dump it survives; None = not said."""
    survives_reverse_v: float | None
    """Reversed voltage it survives; None = not said."""
    dimmed_frac: float
    """Usual brightness."""
    set_degc: float
    """Cabinet temperature; 0 where it is no refrigerator."""
    contents_low_degc: float | None
    """Lowest temperature of contents."""
    contents_high_degc: float | None
    """Highest temperature of contents."""
    draw_factor: float
    """Factor on a refrigerator's heat leak."""
    is_before_cutoff: bool
    """True when it stays on after the load cut-off."""
    mount: Mount | None
    """How it is held; None = not said."""
    part_of: Attached
    """Where it is carried."""
    nominal_v: float | None = None
    """Nominal voltage on its label; None = that of the side it is wired to."""


@record
class DesignPeriod:
    """A stretch of a day plan in minutes."""

    start_min: int
    """First minute."""
    end_min: int
    """Minute it ends; not above start_min = past midnight."""
    state: State
    """State of the vehicle."""


@record
class DesignPlan:
    """A day plan, amounts resolved."""

    id: str
    """Name."""
    otherwise: State
    """State outside the periods."""
    periods: tuple[DesignPeriod, ...]
    """Stretches in other states."""
    is_body_attached: bool
    """False when the body stays behind."""
    is_trailer_attached: bool
    """True with a trailer."""
    sun_factor: float
    """Irradiation left after shade of the whole day, season factor not included."""
    open_sun_factor: float
    """The same outside that shade."""
    shade_times: tuple[DesignShade, ...]
    """Stretches of the day in shade."""


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

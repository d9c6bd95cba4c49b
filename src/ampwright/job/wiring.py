"""Parts placed and wired: nodes, cable runs, protective devices, plugs, channels, settings."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from annotated_types import Ge, Le, MaxLen

from ampwright.job.fit import Mount
from ampwright.job.quantity import NonNegativeAmount, PositiveAmount
from ampwright.job.string_links import StringLinks
from ampwright.job.sunlight import PanelPlace
from ampwright.records import Count, NonNegative, Positive, record

__all__ = [
    "AsLeft",
    "Bond",
    "Channel",
    "ChannelAsLeft",
    "ComfortStage",
    "CutoffAsLeft",
    "Device",
    "LoadCutoff",
    "PlacedPart",
    "Run",
    "Setting",
]

Owner = Literal["workshop", "customer", "vehicle", "electrician"]
Attached = Literal["vehicle", "body", "trailer"]


@record
class PlacedPart:
    """A catalogue part that has a place in this job."""

    id: str
    """Name in this job; also its node, with ".in" and ".out" where it has two terminals."""
    part: str
    """Catalogue id."""
    zone: str = ""
    """Zone it is mounted in."""
    inside: str = ""
    """Id of the placed enclosure it is mounted in; empty = in the open air of its zone."""
    strings: Count = 1
    """Strings in parallel (batteries, panels)."""
    in_series: Count = 1
    """Cases or panels in series in each string."""
    string_device: str = ""
    """Catalogue id of the protective device in each parallel string."""
    string_links: StringLinks | None = None
    """How the strings of a battery are joined; absent = not said."""
    output_a: PositiveAmount | None = None
    """Largest current a charger really gives, e.g. read with a clamp meter; it goes before the label in the energy. Absent = the label."""
    precharge_ohm: Positive | None = None
    """Resistor through which its capacitors are charged before it is connected; absent = none."""
    tilt_deg: Annotated[float, Ge(0), Le(90)] = 0.0
    """Tilt of a panel from horizontal."""
    azimuth_deg: Annotated[float, Ge(0), Le(360)] = 180.0
    """Direction a tilted panel faces, from north by east."""
    shade_frac: Annotated[float, Ge(0), Le(1)] = 0.0
    """Part of a panel's yield lost to racks and dirt."""
    panel: PanelPlace | None = None
    """How a panel sits in the sun; absent = lies still, evenly lit."""
    is_on_when: Literal["always", "loads-use", "not-stored"] | None = None
    """When its own consumption runs: always, only while a load uses it, or unless stored; absent = while loads use it for an inverter, always for anything else."""
    owner: Owner = "workshop"
    """Who supplies it."""
    part_of: Attached = "vehicle"
    """Where it is carried; it is absent when that is detached."""
    up: Literal["height", "width", "length"] | None = None
    """Which of its dimensions stands upright; absent = any, unless it must stand upright."""
    mount: Mount | None = None
    """How it is held; absent = not said."""


@record
class Device:
    """A protective device, or isolator, in a cable run."""

    id: str
    """Name in this job, as on the label."""
    part: str
    """Catalogue id."""
    end: Literal["from", "to"] = "from"
    """End of the run it sits at."""
    distance_m: NonNegativeAmount
    """Length of cable between that end and the device."""
    is_sheathed: bool = False
    """True when that length is in a sheath or enclosure throughout."""


Passage = Literal["grommet", "gland", "conduit", "bare"]


@record
class Run:
    """A cable run, out and back: the electrical path is twice its length unless the return differs."""

    id: str
    """Name in this job, as on the label."""
    start: str
    """Node it comes from: the side of the battery."""
    end: str
    """Node it goes to."""
    cable: str
    """Catalogue id of the cable."""
    length_m: PositiveAmount
    """One-way length."""
    back: Literal["cable", "chassis"] = "cable"
    """Return path."""
    back_cable: str = ""
    """Catalogue id of the return cable when it differs."""
    back_length_m: NonNegativeAmount | None = None
    """Length of the return cable when it differs."""
    zones: Annotated[tuple[str, ...], MaxLen(20)] = ()
    """Zones it passes; the hottest counts."""
    loaded_together: Count = 2
    """Current-carrying conductors bundled and loaded at the same time, this run's own included."""
    joint_ohm: NonNegativeAmount = 0.001
    """Terminals and joints of the whole loop, plugs and devices not included."""
    device: tuple[Device, ...] = ()
    """Protective devices in it."""
    plugs: tuple[str, ...] = ()
    """Catalogue ids of the plugs in it."""
    is_sheathed: bool = False
    """True for a multiconductor cable in a common sheath."""
    clip_spacing_mm: PositiveAmount | None = None
    """Largest distance between two clips or ties that hold it."""
    passes: Annotated[tuple[Passage, ...], MaxLen(20)] = ()
    """How it goes through each wall, floor or beam: with a grommet, gland or conduit, or over the bare edge."""
    tightest_bend_mm: PositiveAmount | None = None
    """Smallest radius of its route, at the inner side of the cable; absent = that of its zones."""
    part_of: Attached = "vehicle"
    """Where it is carried; it is absent when that is detached."""


@record
class Bond:
    """A conductor that ties battery negative to the metal of vehicle, body or trailer."""

    at: str
    """Node whose negative it starts from, e.g. the bus bar's."""
    cable: str
    """Catalogue id of its cable."""
    metal: Attached = "vehicle"
    """What it ties the negative to."""


@record
class ChannelAsLeft:
    """What was read back from an output channel when it was left."""

    by: str
    """Who read it."""
    date: dt.date
    """Day of the reading."""
    how: str = ""
    """Instrument, display or program it was read with."""
    firmware: str = ""
    """Version of the module's own program."""
    limit_a: Positive | None = None
    """Current limit."""


@record
class Channel:
    """An output channel of a switching module, wired by a run that starts at "module.number"."""

    module: str
    """Id of the placed output module."""
    number: Count
    """Channel number."""
    name: str
    """What it feeds, in a word; the legend where no button is in the job."""
    limit_a: Positive | None = None
    """Current limit set in the module; the channel's own limit when absent."""
    is_dimmed: bool = False
    """True when the channel is used to dim."""
    is_always_on: bool = False
    """True when it is on whenever its module is fed, and so needs no button."""
    light_outside: Literal["none", "white-rearward", "other"] | None = None
    """Light it shows outside the vehicle; absent = not said."""
    as_left: ChannelAsLeft | None = None
    """What was read back from it; the checks use the reading."""


Chemistry = Literal["lfp", "agm", "gel", "flooded"]


@record
class AsLeft:
    """What was read back from a device when it was left; an absent figure was not read."""

    by: str
    """Who read it."""
    date: dt.date
    """Day of the reading."""
    how: str = ""
    """Instrument, display or program it was read with."""
    firmware: str = ""
    """Version of the device's own program."""
    programme: Chemistry | None = None
    """Battery type chosen in its menu."""
    charge_v: Positive | None = None
    """Absorption voltage."""
    float_v: Positive | None = None
    """Holding voltage."""
    absorption_minutes: Positive | None = None
    """Longest time at the absorption voltage."""
    equalise_v: NonNegative | None = None
    """Equalising voltage; 0 = switched off."""
    compensation_v_per_k: NonNegative | None = None
    """How much the voltage rises for each kelvin of cold; 0 = switched off."""
    output_limit_a: Positive | None = None
    """Output current limit."""
    input_limit_a: Positive | None = None
    """Input current limit."""
    start_v: Positive | None = None
    """Voltage above which it starts or reconnects."""
    stop_v: Positive | None = None
    """Voltage below which it stops."""
    idle_limit_a: Positive | None = None
    """Output current limit while the engine idles."""


@record
class Setting:
    """What is set on one device; an absent figure is as delivered."""

    part: str
    """Id of the placed part."""
    programme: Chemistry | None = None
    """Battery type to choose in its menu."""
    charge_v: Positive | None = None
    """Absorption voltage."""
    float_v: Positive | None = None
    """Holding voltage."""
    absorption_minutes: Positive | None = None
    """Longest time at the absorption voltage."""
    equalise_v: NonNegative | None = None
    """Equalising voltage; 0 = switch it off."""
    compensation_v_per_k: NonNegative | None = None
    """How much the voltage rises for each kelvin of cold; 0 = switch it off."""
    output_limit_a: Positive | None = None
    """Output current limit."""
    input_limit_a: Positive | None = None
    """Input current limit."""
    start_v: Positive | None = None
    """Voltage above which it starts or reconnects."""
    stop_v: Positive | None = None
    """Voltage below which it stops."""
    idle_limit_a: Positive | None = None
    """Output current limit while the engine idles, where the charger can do that."""
    is_stopped_by_battery: bool | None = None
    """True when the battery management's order to stop is wired to it; absent = not said."""
    as_left: AsLeft | None = None
    """What was read back at hand-over; checks use it in place of what is wanted."""
    as_left_note: str = ""
    """Anything else recorded at hand-over."""


@record
class CutoffAsLeft:
    """What was read back from the load cut-off when it was left."""

    by: str
    """Who read it."""
    date: dt.date
    """Day of the reading."""
    how: str = ""
    """Instrument, display or program it was read with."""
    firmware: str = ""
    """Version of the device's own program."""
    open_v: Positive | None = None
    """Battery voltage below which it opened."""
    close_v: Positive | None = None
    """Battery voltage above which it closed."""
    delay_s: NonNegative | None = None
    """Time before it opened."""


@record
class ComfortStage:
    """Where loads of priority "comfort" are switched off before the others."""

    open_v: Positive
    """Battery voltage below which they are switched off."""
    close_v: Positive
    """Battery voltage above which they are switched on again."""


@record
class LoadCutoff:
    """The low-voltage cut-off of the loads."""

    open_v: Positive
    """Battery voltage below which loads are switched off."""
    close_v: Positive
    """Battery voltage above which they are switched on again."""
    delay_s: NonNegative = 60.0
    """Time the voltage must stay low before it opens."""
    comfort: ComfortStage | None = None
    """Earlier stage for loads of priority "comfort"; absent = all loads at once."""
    is_stopped_by_battery: bool | None = None
    """True when the battery management's order to stop is wired to it; absent = not said."""
    as_left: CutoffAsLeft | None = None
    """What was read back at hand-over; checks use it in place of what is wanted."""

"""The mains side as far as it is known: supplies, lead, protection, earth, certificate.

Nothing here is designed by this program. What is not said is not known, and stays `not checked`.
"""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from annotated_types import Ge, Le

from ampwright.job.quantity import PositiveAmount
from ampwright.records import Count, Positive, record

__all__ = [
    "Certificate",
    "Mains",
    "MainsEarth",
    "MainsLead",
    "MainsLeg",
    "MainsSupply",
    "NeutralLink",
    "Overcurrent",
    "PlugName",
    "ResidualCurrent",
    "Transfer",
]

PlugName = Literal[
    "as-3112-10", "as-3112-15", "bs-1363", "cee-7", "iec-60309-16", "iec-60309-32", "nema-5-15", "nema-5-20",
    "nema-tt-30", "nema-14-50",
]  # fmt: skip
Side = Literal["inlet", "inverter", "both"]


@record
class MainsSupply:
    """A supply the vehicle is plugged into."""

    name: str = ""
    """Plain name, e.g. "post"; its kind when absent."""
    kind: Literal["site", "generator"]
    """Post of a camp or workshop, or a generator."""
    nominal_v: Positive | None = None
    """Nominal voltage; the region's when absent."""
    rating_a: PositiveAmount | None = None
    """Rated current of its breaker; for a site `use.mains_limit_a` when absent."""
    breaker: Literal["B", "C", "D"] | None = None
    """Characteristic of that breaker."""
    socket: PlugName | None = None
    """Kind of socket."""
    has_residual_current_device: bool | None = None
    """True where it has a residual-current device of its own."""
    loop_ohm: PositiveAmount | None = None
    """Loop impedance at its socket, as measured or declared."""
    nominal_hz: Literal[50, 60] | None = None
    """Nominal frequency; the region's when absent."""
    leg_count: Literal[1, 2] | None = None
    """Legs of a North American supply: 1 = 120 V, 2 = 120/240 V; two for a nema-14-50 socket when absent."""
    rating_va: PositiveAmount | None = None
    """Rated running power of a generator in VA, not its starting power."""
    starting_va: PositiveAmount | None = None
    """Power of a generator in VA for the second in which a motor starts; the running power when absent."""
    is_inverter_type: bool | None = None
    """True for a generator with electronic output."""
    is_neutral_linked: bool | None = None
    """True where the generator's neutral is joined to its frame and earth pin."""


@record
class MainsLead:
    """The lead between supply and inlet."""

    length_m: PositiveAmount | None = None
    """Length."""
    area_mm2: Positive | None = None
    """Area of one conductor."""
    rating_a: Positive | None = None
    """Rated current printed on it; that of its plug when absent."""
    plug: PlugName | None = None
    """Plug at the supply's end."""
    connector: PlugName | None = None
    """Connector at the vehicle's end."""
    has_earth: bool | None = None
    """True where its earth conductor goes through, as measured."""
    is_one_piece: bool | None = None
    """True where no two leads or adapters are joined."""


@record
class ResidualCurrent:
    """A residual-current device in the vehicle."""

    covers: Side
    """What it stands behind: the inlet, the inverter's output, or both."""
    residual_a: Positive | None = None
    """Rated residual operating current, e.g. 0.03."""
    type: Literal["AC", "A", "F", "B", "gfci"] | None = None
    """Type printed on it; "gfci" for a class A ground-fault interrupter of North America."""


@record
class Overcurrent:
    """A breaker or fuse of the mains side in the vehicle."""

    covers: Side
    """What it stands behind: the inlet, the inverter's output, or both."""
    rating_a: PositiveAmount | None = None
    """Rated current."""
    breaker: Literal["B", "C", "D", "fuse"] | None = None
    """Characteristic, or a fuse."""


@record
class Transfer:
    """What decides whether inlet or inverter feeds the outlets."""

    kind: Literal["in-inverter", "switch", "plug", "separate-outlets"] | None = None
    """Inside the inverter, a switch or relay, a plug moved by hand, or outlets of their own for each supply."""
    breaks_first: bool | None = None
    """True where it opens one supply before it closes the other, by its data sheet."""
    switches_neutral: bool | None = None
    """True where it switches the neutral too."""


@record
class NeutralLink:
    """The joint of neutral and earth while the inverter is the source."""

    is_made_on_inverter: bool | None = None
    """True where neutral and earth are joined while the inverter feeds."""
    is_open_on_site: bool | None = None
    """True where that joint is open while the inlet feeds."""
    opened_by: Literal["inverter", "transfer", "hand"] | None = None
    """What opens it."""


@record
class MainsEarth:
    """Protective earth and the vehicle's metal."""

    is_bonded: bool | None = None
    """True where the inlet's and the inverter's earth are joined to the chassis."""
    area_mm2: Positive | None = None
    """Area of that conductor, copper."""


@record
class Certificate:
    """What the last certificate of the mains side covers."""

    serial: str
    """Its number."""
    date: dt.date | None = None
    """Its date."""
    by: str = ""
    """Who signed it."""
    inverter: str = ""
    """Catalogue id of the inverter it covers; empty = not said."""
    inlet: str = ""
    """Catalogue id of the inlet it covers; empty = not said."""
    inlet_zone: str = ""
    """Zone of the inlet it covers; empty = not said."""
    outlet_count: Annotated[int, Ge(0), Le(100)] | None = None
    """Number of mains outlets it covers."""


@record
class MainsLeg:
    """One leg of a 120/240 V inlet."""

    number: Literal[1, 2]
    """Which leg."""
    feeds: tuple[str, ...]
    """Ids of the chargers and inverters on it; one for 240 V stands on both."""


@record
class Mains:
    """The mains side: facts for the licensed electrician, and what the checks read."""

    is_complete: bool = False
    """True when everything fitted is listed here: what is not listed is then not there."""
    inverter_wiring: Literal["fixed", "own-socket"] | None = None
    """The inverter feeds fixed wiring, or only the sockets built into it."""
    inlet_plug: PlugName | None = None
    """Kind of inlet."""
    main_switch_pole_count: Count | None = None
    """Poles the main switch behind the inlet opens; 2 = line and neutral."""
    supply: tuple[MainsSupply, ...] = ()
    """Supplies it is plugged into."""
    lead: MainsLead | None = None
    """The lead."""
    leg: tuple[MainsLeg, ...] = ()
    """What hangs on which leg of a 120/240 V inlet."""
    residual_current: tuple[ResidualCurrent, ...] = ()
    """Residual-current devices in the vehicle."""
    overcurrent: tuple[Overcurrent, ...] = ()
    """Breakers and fuses in the vehicle."""
    transfer: Transfer | None = None
    """Transfer between inlet and inverter."""
    neutral_link: NeutralLink | None = None
    """Neutral-earth link of the inverter."""
    earth: MainsEarth | None = None
    """Protective earth."""
    certificate: Certificate | None = None
    """The last certificate."""
    work_by: str = ""
    """Licensed person responsible for this side."""

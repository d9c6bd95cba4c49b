"""The story of vehicle, appliances, place and trip as a customer tells it.

Nothing here is known better than the customer knows it: None means "I don't know".
"""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Le, MaxLen, MinLen

from ampwright.records import record

__all__ = [
    "APPLIANCE_KINDS",
    "ApplianceKind",
    "Story",
    "StoryAppliance",
    "StoryStay",
    "StoryTrip",
    "StoryVehicle",
    "VehicleKind",
]

VehicleKind = Literal["small-van", "medium-van", "large-van", "motorhome", "off-road", "truck", "trailer"]
ApplianceKind = Literal[
    "fridge-box", "fridge", "freezer", "vaccine-fridge", "lights", "phone", "laptop", "tablet-tv", "router", "water-pump",
    "fan", "air-heater", "breathing-aid", "radio", "tool-charger", "work-light", "kettle", "coffee", "hob", "microwave",
    "hair-dryer", "bicycle-charger", "compressor", "power-tool", "other-dc", "other-ac",
]  # fmt: skip
APPLIANCE_KINDS: tuple[ApplianceKind, ...] = ApplianceKind.__args__  # type: ignore[attr-defined]
Words80 = Annotated[str, MaxLen(80)]


@record
class StoryVehicle:
    """What is driven."""

    kind: VehicleKind
    """What sort of vehicle."""
    description: Words80 = ""
    """In the customer's words."""
    system_v: Literal[12, 24] | None = None
    """Nominal voltage of the vehicle."""
    fuel: Literal["petrol", "diesel", "electric", "none"] | None = None
    """What it runs on."""
    alternator_a: Annotated[float, Ge(20), Le(400)] | None = None
    """Rated current on the alternator's label."""
    regulation: Literal["fixed", "regulated", "converter"] | None = None
    """Fixed voltage, regulated by the engine computer, or a converter (hybrid or electric)."""
    has_start_stop: bool | None = None
    """True when the engine stops by itself at lights."""
    people_sleep: bool | None = None
    """True when people sleep in it."""
    carries_gas: bool | None = None
    """True with a gas cylinder or tank aboard."""
    panel_count: Annotated[int, Ge(0), Le(6)] | None = None
    """Solar panels of about 1.5 x 0.7 m for which the roof has room; 0 = none wanted."""


@record
class StoryAppliance:
    """Something that is to run."""

    kind: ApplianceKind
    """What it is."""
    name: Words80 = ""
    """In the customer's words; the kind's own name when empty."""
    count: Annotated[int, Ge(1), Le(20)] = 1
    """How many alike."""
    power_w: Annotated[float, Ge(0.1), Le(5000)] | None = None
    """Power on its label."""
    day_h: Annotated[float, Ge(0.05), Le(24)] | None = None
    """Hours it runs in a day, where it runs by the hour."""
    uses: Annotated[int, Ge(1), Le(100)] | None = None
    """Times it is used in a day, where it is used now and then."""
    use_minutes: Annotated[float, Ge(0.1), Le(240)] | None = None
    """Minutes of each use."""
    is_essential: bool | None = None
    """True when nothing may stop it; None = as usual for its kind."""


@record
class StoryStay:
    """Where and when."""

    site: Words80
    """Id of the nearest place of the shipped table."""
    month: Annotated[int, Ge(1), Le(12)]
    """Month of the trip."""
    shade: Literal["open", "some", "mostly"] | None = None
    """Where it stands by day: in the sun, under some trees, mostly in shade."""


@record
class StoryTrip:
    """How the trip goes."""

    trip_days: Annotated[int, Ge(1), Le(60)] | None = None
    """Days away in all."""
    still_days: Annotated[int, Ge(0), Le(30)] | None = None
    """Most days in a row without driving."""
    drive_h: Annotated[float, Ge(0), Le(14)] | None = None
    """Hours of driving on a day with driving, the fewest where they vary; 0 = it never drives."""
    drive_most_h: Annotated[float, Ge(0), Le(14)] | None = None
    """The most hours of driving on such a day, where they vary."""
    hook_up: Literal["never", "after-driving", "every-night"] | None = None
    """Nights on mains."""


@record
class Story:
    """All answers of one customer."""

    form: Literal["ampwright-intake-1"] = "ampwright-intake-1"
    """What this is, and its version."""
    language: Literal["en", "de"] = "en"
    """Language of the customer (ISO 639-1)."""
    customer: Words80 = ""
    """Who tells it."""
    title: Words80 = ""
    """What the customer calls the project."""
    notes: Annotated[str, MaxLen(1000)] = ""
    """Anything else."""
    vehicle: StoryVehicle
    """What is driven."""
    appliance: Annotated[tuple[StoryAppliance, ...], MinLen(1), MaxLen(30)]
    """What is to run."""
    stay: StoryStay
    """Where and when."""
    trip: StoryTrip
    """How the trip goes."""

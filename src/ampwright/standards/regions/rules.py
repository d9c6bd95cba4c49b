"""The set of rules of one region, as a record: figures and words, each with its source.

Answers which limit a region has where limits differ or are somebody's choice. What is done with a limit is
left to the rules; the codes of a region are named here and never quoted.
"""

from __future__ import annotations

from typing import Literal

from ampwright.records import Fraction, Positive, record
from ampwright.sources import Source

__all__ = ["RegionEntry", "RegionName", "RegionRules"]

RegionName = Literal["au-nz", "uk-eu", "us-ca"]
"""Name of a region in a job file."""


@record
class RegionEntry:
    """Where one field of a region comes from."""

    field: str
    """Name of the field of RegionRules."""
    source: Source
    """Document, or own choice."""
    note: str = ""
    """Condition on it, or why nothing is held; empty = none."""


@record
class RegionRules:
    """Everything that differs by region; None where no figure is held."""

    name: RegionName
    """Name in a job file."""
    title: str
    """Name in words."""
    codes: tuple[str, ...]
    """The region's own codes, by document; to be read by whoever builds."""
    overload_rule: Literal["iec-60364-4-43", "cfr-33-183"]
    """How large a device may be against its cable."""
    capacity_table: Literal["cfr-33-183-table-5"]
    """Table of cable capacity used where the job brings none."""
    battery_device_bare_m: Positive
    """Farthest device from a battery, conductor without sheath."""
    battery_device_sheathed_m: Positive
    """Farthest device from a battery, conductor in a sheath or enclosure all the way."""
    source_device_bare_m: Positive
    """Farthest device from any other source, conductor without sheath."""
    source_device_sheathed_m: Positive
    """Farthest device from any other source, conductor in a sheath or enclosure all the way."""
    smallest_separate_mm2: Positive
    """Smallest conductor laid by itself, DC."""
    smallest_separate_said: str
    """The same as it is sold."""
    smallest_sheathed_mm2: Positive
    """Smallest conductor in a multi-conductor sheath, DC."""
    smallest_sheathed_said: str
    """The same as it is sold."""
    fallback_drop_frac: Fraction
    """Voltage drop allowed where a load's own limit is not known."""
    caution_dc_v: Positive
    """Above this DC voltage bare parts may not be touched."""
    limit_dc_v: Positive
    """Above this DC voltage extra-low voltage ends."""
    mains_v: Positive
    """Nominal mains voltage, one phase."""
    mains_hz: Positive
    """Mains frequency."""
    outlet_ratings_a: tuple[Positive, ...]
    """Usual ratings of mains outlets in a vehicle."""
    inlet_ratings_a: tuple[Positive, ...]
    """Usual ratings of the vehicle's mains inlet."""
    plug_fuse_a: Positive | None
    """Largest fuse in a plug; None where plugs have none."""
    residual_current_a: Positive
    """Largest rated residual operating current of the device that protects people."""
    battery_vent_mm2: Positive | None
    """Smallest vent of a lead-acid battery's compartment, at the top and again at the bottom."""
    gas_cable_height_m: Positive | None
    """Least height above the base of the gas cylinders at which a cable may cross their compartment."""
    licensed_person: str
    """Who is asked for work on the mains side."""
    licensed_words: str
    """The same as a sentence that defers to the local code."""
    positive_colour: str
    """Colour of the DC positive conductor."""
    negative_colour: str
    """Colour of the DC negative conductor."""
    chassis_colour: str
    """Colour of a bond to the chassis."""
    earth_word: str
    """What the protective conductor is called."""
    mains_word: str
    """What the supply from the post is called on labels."""
    isolator_word: str
    """What the hand switch at the battery is called on labels."""
    paper: Literal["a4", "us-letter"]
    """Sheet of the documents."""
    entries: tuple[RegionEntry, ...]
    """Where each field comes from."""

    def source(self, field: str) -> Source:
        """Return where a field comes from."""
        return self._entry(field).source

    def note(self, field: str) -> str:
        """Return the condition on a field; empty when there is none."""
        return self._entry(field).note

    def _entry(self, field: str) -> RegionEntry:
        return next(entry for entry in self.entries if entry.field == field)

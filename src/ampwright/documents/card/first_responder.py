"""Card for fire brigade and roadside help: what is aboard, what to switch off and in which order, what stays live.

What to do with a burning or flooded battery is left to the brigade's own procedure; the card says what the battery is.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.card.isolation import LiveSource, live_sources, place_of
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.parts.battery import Battery
from ampwright.records import record

__all__ = ["ResponderCard", "first_responder", "responder_card"]

TITLE = noted("Card for first responders")
CHEMISTRY = {
    "lfp": noted(
        "lithium iron phosphate. In heat it can give off burnable, poisonous gas and burn again later; it drives thousands of "
        "amperes into a short circuit."
    ),
    "agm": noted("lead-acid, closed. Charging gives off hydrogen; the acid burns skin and eyes."),
    "gel": noted("lead-acid, closed. Charging gives off hydrogen; the acid burns skin and eyes."),
    "flooded": noted("lead-acid, open cells. Charging gives off hydrogen; the acid burns skin and eyes."),
}
STAYS_LIVE = noted("No hand switch: it stays live.")
COVER = noted("It stops only in the dark: cover it, or cut no cable of it in the light.")
PULL = noted("Pull the lead out at the post first, then at the vehicle.")
OFF_AT_ITSELF = noted(
    "Switch it off at its own switch; it has also stopped once the auxiliary battery is off."
)
IGNITION = noted("Engine off, key out.")


@record
class Step:
    """One source and what to do with it."""

    id: str
    """Name in the job."""
    what: str
    """What it is."""
    place: str
    """Where it is."""
    action: str
    """What takes it off."""


@record
class StoredEnergy:
    """One battery and what it holds."""

    what: str
    """Name and place."""
    chemistry: str
    """What it is made of and does."""
    energy: str
    """Nominal energy and voltage."""


@record
class ResponderCard:
    """Everything the card prints."""

    vehicle: str
    """The vehicle in words."""
    labels: tuple[str, ...]
    """Headings: steps, place, what to do, batteries, also."""
    steps: tuple[Step, ...]
    """In the order to act."""
    batteries: tuple[StoredEnergy, ...]
    """What is stored."""
    also: tuple[str, ...]
    """Gas, mains, and what the card does not know."""


def responder_card(material: Material) -> ResponderCard:
    """Return what the card prints."""
    words, design = material.words, material.design
    order = ("mains", "starter", "second", "battery", "inverter", "panel")
    sources = sorted(live_sources(design, words), key=lambda each: order.index(each.sort))
    return ResponderCard(
        vehicle=design.job.vehicle.description,
        labels=(
            words("Switch off in this order"),
            words("where"),
            words("what takes it off"),
            words("What is stored"),
            words("Also"),
        ),
        steps=tuple(_step(source, words) for source in sources),
        batteries=tuple(_batteries(design, words)),
        also=tuple(_also(design, words)),
    )


def _step(source: LiveSource, words: Words) -> Step:
    switches = words(" or ").join(source.switches)
    opened = words("Open {switches}.", switches=switches) if switches else words(STAYS_LIVE)
    action = {
        "mains": words(PULL),
        "panel": f"{opened} {words(COVER)}" if switches else words(COVER),
        "inverter": words(OFF_AT_ITSELF),
        "starter": f"{words(IGNITION)} {opened}",
    }.get(source.sort, opened)
    return Step(id=source.id, what=source.name, place=source.place or words("not said"), action=action)


def _batteries(design: Design, words: Words) -> Iterator[StoredEnergy]:
    for placed in design.parts:
        part = placed.part
        if isinstance(part, Battery):
            case_wh = part.nominal_v * part.capacity_ah
            yield StoredEnergy(
                what=f"{placed.id}: {place_of(placed, words) or words('place not said')}",
                chemistry=words(CHEMISTRY[part.chemistry]),
                energy=words(
                    "{energy} at {voltage}",
                    energy=words.quantity(case_wh * placed.case_count, "Wh"),
                    voltage=words.decimal(f"{part.nominal_v * placed.in_series:g}{UNIT_SPACE}V"),
                ),
            )
    if design.vehicle.has_starter_battery:
        yield StoredEnergy(
            what=words("The vehicle's own battery: where the vehicle's rescue card shows it"),
            chemistry=words("lead-acid, as a rule."),
            energy=words(
                "{charge} at {voltage}",
                charge=f"{design.vehicle.starter_capacity_ah:.0f}{UNIT_SPACE}Ah",
                voltage=f"{design.vehicle.system_v:g}{UNIT_SPACE}V",
            ),
        )


def _also(design: Design, words: Words) -> Iterator[str]:
    vehicle = design.job.vehicle
    gas = {
        True: words("Gas cylinders or a gas tank are aboard."),
        False: words("No gas for cooking or heating is aboard, as the job says."),
        None: words("Whether gas is aboard is not known."),
    }
    yield gas[vehicle.carries_gas]
    if vehicle.fuel is not None:
        yield words("Fuel: {fuel}.", fuel=words(FUEL[vehicle.fuel]))
    if vehicle.people_sleep:
        yield words("People may be asleep in it.")
    yield words("The vehicle's own rescue card goes first; this card is about what was added to it.")


FUEL = {
    "petrol": noted("petrol"),
    "diesel": noted("diesel"),
    "electric": noted("electric drive with its own high-voltage battery"),
    "none": noted("none"),
}


def first_responder(material: Material) -> Iterator[PackFile]:
    """Make the card."""
    pdf = sheet_pdf("card/responder.typ", sheet_of(material, TITLE), responder_card(material))
    yield PackFile(name="first-responder.pdf", content=pdf)

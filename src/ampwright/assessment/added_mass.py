"""What the system adds to the vehicle: mass, centre of gravity, axle loads.

Moments about the axles, left and right not told apart: a mass m at a distance x behind the front axle adds
m·x/w to the rear axle and the rest to the front one (lever law, w = wheelbase). What is on a trailer is left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.items import Item, module_mass_kg, placed_items
from ampwright.assessment.wording import mass_text, named, size_text
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.job.design_zone import DesignZone
from ampwright.job.fit import VehicleMass
from ampwright.job.quantity import known_value, likely_value
from ampwright.parts.panel import Panel
from ampwright.records import record
from ampwright.said import Said, said, said_together

__all__ = ["AddedMass", "Lump", "added_mass", "item_mass_kg", "lumps", "mass_line", "mass_sentence"]

PANEL_MOUNT_KG = 2.0
"""Brackets and fasteners of one panel where the job does not say (own choice, docs/choices.md#panel-mount)."""


@record
class Lump:
    """A mass at a place."""

    id: str
    """Of what."""
    mass_kg: float
    """How much."""
    from_front_axle_mm: float | None
    """How far behind the front axle; None = not said."""
    above_ground_mm: float | None
    """Height of its middle; None = not said."""
    zone_ids: tuple[str, ...]
    """Places it is in."""


@record
class AddedMass:
    """Mass, centre of gravity and axle loads; None where something needed is not said."""

    added_kg: float
    """Mass this system adds, as far as stated."""
    without_mass: tuple[str, ...]
    """Parts whose mass is not stated."""
    without_place: tuple[str, ...]
    """Places whose distance from the front axle is not said, and things without a place."""
    centre_from_front_axle_mm: float | None
    """Centre of gravity of what is added, behind the front axle."""
    centre_above_ground_mm: float | None
    """Its height."""
    front_kg: float | None
    """Load of the front axle with system, people and goods."""
    rear_kg: float | None
    """Load of the rear axle likewise."""
    gross_kg: float | None
    """Both axles together."""
    added_front_kg: float | None
    """What system, people and goods add to the front axle."""
    added_rear_kg: float | None
    """What they add to the rear axle."""


def item_mass_kg(item: Item) -> float:
    """Return the mass of all cases of an item with their mounts."""
    extra_kg = item.mount.extra_kg if item.mount is not None else None
    if extra_kg is None:
        extra_kg = PANEL_MOUNT_KG if isinstance(item.part, Panel) else 0.0
    return item.count * (item.part.mass_kg + extra_kg)


def lumps(design: Design) -> tuple[Lump, ...]:
    """Return everything this system adds to the vehicle, cables included."""
    return tuple(_lumps(design))


def _lumps(design: Design) -> Iterator[Lump]:
    module_kg = module_mass_kg(design)
    use = design.job.module
    if use is not None and module_kg is not None:
        zone = next((zone for zone in design.zones if zone.id == use.zone), None)
        extra_kg = (use.mount.extra_kg or 0.0) if use.mount is not None else 0.0
        yield _lump(use.id, module_kg + extra_kg, (zone,) if zone else (), half_mm=0.0)
    for item in placed_items(design):
        if item.is_new and not item.is_inside_module and not item.is_on_trailer:
            half_mm = 0.5 * getattr(item.part, f"{item.up or 'height'}_mm")
            yield _lump(item.id, item_mass_kg(item), (item.zone,) if item.zone else (), half_mm=half_mm)
    for run in design.runs:
        if not run.is_inside_module and run.part_of != "trailer":
            yield _lump(run.id, _run_mass_kg(run), run.zones, half_mm=0.0)


def _run_mass_kg(run: DesignRun) -> float:
    """Return the mass of out and back with the devices; a cable of several cores holds both."""
    out_kg = run.cable.mass_kg_per_m * run.length_m
    devices_kg = sum(device.part.mass_kg for device in run.devices)
    if run.back_cable is None or run.cable.core_count > 1:
        return out_kg + devices_kg
    return out_kg + run.back_cable.mass_kg_per_m * run.back_length_m + devices_kg


def _lump(name: str, mass_kg: float, zones: tuple[DesignZone, ...], *, half_mm: float) -> Lump:
    places = [known_value(zone.written.from_front_axle_mm) for zone in zones]
    floors = [known_value(zone.written.floor_above_ground_mm) for zone in zones]
    height = _mean(floors)
    return Lump(
        id=name,
        mass_kg=mass_kg,
        from_front_axle_mm=_mean(places),
        above_ground_mm=None if height is None else height + half_mm,
        zone_ids=tuple(zone.id for zone in zones),
    )


def _mean(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known) / len(known) if known and len(known) == len(values) else None


def added_mass(design: Design) -> AddedMass:
    """Return what the system adds and what the axles then carry."""
    each = lumps(design)
    added_kg = sum(lump.mass_kg for lump in each)
    written = design.job.vehicle.mass or VehicleMass()
    adds = _axle_adds(each, written)
    bare = known_value(written.front_kg), known_value(written.rear_kg)
    carried_kg = sum(likely_value(one.mass_kg) for one in written.carried)
    is_weighed = bare[0] is not None and bare[1] is not None
    return AddedMass(
        added_kg=added_kg,
        without_mass=tuple(
            item.id for item in placed_items(design) if item.part.mass_kg == 0.0 and item.is_new
        ),
        without_place=_without_place(each),
        centre_from_front_axle_mm=_centre(each, [lump.from_front_axle_mm for lump in each]),
        centre_above_ground_mm=_centre(each, [lump.above_ground_mm for lump in each]),
        front_kg=None if adds is None or bare[0] is None else bare[0] + adds[0],
        rear_kg=None if adds is None or bare[1] is None else bare[1] + adds[1],
        gross_kg=(bare[0] or 0.0) + (bare[1] or 0.0) + added_kg + carried_kg if is_weighed else None,
        added_front_kg=None if adds is None else adds[0],
        added_rear_kg=None if adds is None else adds[1],
    )


def _axle_adds(each: tuple[Lump, ...], written: VehicleMass) -> tuple[float, float] | None:
    wheelbase_mm = known_value(written.wheelbase_mm)
    weights = [(lump.mass_kg, lump.from_front_axle_mm) for lump in each]
    weights += [(likely_value(one.mass_kg), likely_value(one.from_front_axle_mm)) for one in written.carried]
    placed = [(mass_kg, at_mm) for mass_kg, at_mm in weights if at_mm is not None]
    if wheelbase_mm is None or len(placed) < len(weights):
        return None
    rear_kg = sum(mass_kg * at_mm for mass_kg, at_mm in placed) / wheelbase_mm
    return sum(mass_kg for mass_kg, _ in placed) - rear_kg, rear_kg


def _centre(each: tuple[Lump, ...], at_mm: list[float | None]) -> float | None:
    known = [(lump.mass_kg, at) for lump, at in zip(each, at_mm, strict=True) if at is not None]
    total_kg = sum(mass_kg for mass_kg, _ in known)
    if len(known) < len(each) or total_kg == 0.0:
        return None
    return sum(mass_kg * at for mass_kg, at in known) / total_kg


def _without_place(each: tuple[Lump, ...]) -> tuple[str, ...]:
    names: dict[str, None] = {}
    for lump in each:
        if lump.from_front_axle_mm is None:
            names.update(dict.fromkeys(lump.zone_ids or (lump.id,)))
    return tuple(names)


def mass_sentence(design: Design, found: AddedMass) -> Said:
    """Return the added mass, its centre and the axle loads in one line, as far as they are known."""
    parts = [_added_text(design, found)]
    if found.centre_from_front_axle_mm is not None:
        back = size_text(design, found.centre_from_front_axle_mm)
        parts.append(said("centre {distance} behind the front axle", distance=back))
    if found.centre_above_ground_mm is not None:
        height = size_text(design, found.centre_above_ground_mm)
        parts.append(said("{height} above the ground", height=height))
    return said_together([*parts, *(text for _, text in _axle_texts(design, found))], between="; ")


def mass_line(design: Design, found: AddedMass) -> Said:
    """Return the added mass and the axle that is nearest to its limit, for narrow places."""
    fullest = max(_axle_texts(design, found), default=None)
    return said_together(
        [_added_text(design, found), *([] if fullest is None else [fullest[1]])], between="; "
    )


def _added_text(design: Design, found: AddedMass) -> Said:
    added = mass_text(design, found.added_kg)
    if found.without_mass:
        return said("adds {mass} ({names} not weighed)", mass=added, names=named(found.without_mass))
    return said("adds {mass}", mass=added)


def _axle_texts(design: Design, found: AddedMass) -> Iterator[tuple[float, Said]]:
    """Yield the use of each axle's limit (0 without one) and its load in words."""
    written = design.job.vehicle.mass or VehicleMass()
    axles = (
        (said("front axle"), found.front_kg, known_value(written.front_limit_kg)),
        (said("rear axle"), found.rear_kg, known_value(written.rear_limit_kg)),
    )
    for name, load_kg, limit_kg in axles:
        if load_kg is None:
            continue
        load = mass_text(design, load_kg)
        if limit_kg is None:
            yield 0.0, said("{axle} {load}", axle=name, load=load)
        else:
            limit = mass_text(design, limit_kg)
            text = said("{axle} {load} of {limit}", axle=name, load=load, limit=limit)
            yield load_kg / limit_kg if limit_kg else 0.0, text

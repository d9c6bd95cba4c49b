"""Rule: are battery and heavy parts held against a crash, and at what deceleration."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.items import Item, module_mass_kg, placed_items, size_mm
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import force_text, mass_text, named
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.fit import Mount, VehicleMass
from ampwright.job.quantity import known_value
from ampwright.parts.battery import Battery
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source, own_choice
from ampwright.standards.en_1993_1_8.bolts import bolt_shear_n

__all__ = ["LOOSE", "RESTRAINT", "STANDARD_GRAVITY_M_S2", "Held", "heavy_things", "restraint_wanted_g"]

WIRING = Group.WIRING
HEAVY_KG = 3.0
"""Parts from this mass on are asked for (own choice, docs/choices.md#restraint-mass)."""
STANDARD_GRAVITY_M_S2 = 9.80665  # ISO 80000-3, exact by convention
BY_GROSS_MASS = ((3500.0, 20.0), (12000.0, 10.0), (float("inf"), 6.6))
"""Permitted gross mass in kg and forward deceleration in g (own choice, docs/choices.md#restraint)."""
LOOSE = said("A loose battery or heavy part kills in a crash.")
SHEET = said("The sheet, floor or wall it is bolted to is not judged: use spreader plates.")


@record
class Held:
    """One case that must be held."""

    id: str
    """What."""
    mass_kg: float
    """Mass of one case with what is in it."""
    mount: Mount | None
    """How it is held."""
    is_battery: bool
    """True when it is, or holds, a battery."""
    largest_mm: float
    """Largest dimension of one case; 0 = not known."""


def restraint_wanted_g(design: Design) -> tuple[float, Source]:
    """Return the forward deceleration to be held, and whose figure it is."""
    written = design.job.vehicle.mass or VehicleMass()
    own_g = known_value(written.restraint_g)
    if own_g is not None:
        return own_g, Source(document="job file", place="restraint wanted")
    gross_kg = known_value(written.gross_limit_kg) or 0.0
    return next(g for limit_kg, g in BY_GROSS_MASS if gross_kg <= limit_kg), own_choice("restraint")


def _restraint(design: Design, _: Studies) -> Iterator[Finding]:
    wanted_g, source = restraint_wanted_g(design)
    make = partial(Finding, rule="restraint", group=WIRING, source=source)
    open_ones: list[Held] = []
    for held in heavy_things(design):
        carried_g = _carried_g(held)
        if carried_g is None:
            open_ones.append(held)
            continue
        is_weak = carried_g < wanted_g
        heavy = Severity.FAIL if held.is_battery else Severity.CONDITION
        how = held.mount.how if held.mount is not None else ""
        is_bolted = held.mount is not None and held.mount.rated_g is None
        yield make(
            severity=heavy if is_weak else Severity.PASS,
            subject=held.id,
            value=carried_g,
            limit=wanted_g,
            unit="g",
            at_most=False,
            message=said(
                "{held}, {mass}, {how}: holds {carried_g:.1f} g forward, that is {force}; {wanted_g:g} g "
                "are wanted.",
                held=held.id,
                mass=mass_text(design, held.mass_kg),
                how=how,
                carried_g=carried_g,
                force=force_text(carried_g * STANDARD_GRAVITY_M_S2 * held.mass_kg),
                wanted_g=wanted_g,
            )
            + (said(" {sheet}", sheet=SHEET) if is_bolted else ""),
            way_out=said("Use more or larger bolts, or a mount rated for it.") if is_weak else "",
            caution=LOOSE if is_weak else "",
        )
    if open_ones:
        heaviest = max(open_ones, key=lambda held: held.mass_kg)
        force = force_text(wanted_g * STANDARD_GRAVITY_M_S2 * heaviest.mass_kg)
        yield make(
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "How {named} {what} held is not said with figures; at {wanted_g:g} g, {heaviest} pulls "
                "with {force}.",
                named=named(held.id for held in open_ones),
                what=said("is") if len(open_ones) == 1 else said("are"),
                wanted_g=wanted_g,
                heaviest=heaviest.id,
                force=force,
            ),
            way_out=said("Say the mount's rating, or size and number of its bolts."),
            caution=LOOSE,
        )


def heavy_things(design: Design) -> Iterator[Held]:
    """Yield what must be held by the vehicle; what is in an enclosure or module is held with it."""
    module_kg, use = module_mass_kg(design), design.job.module
    if use is not None and module_kg is not None:
        has_battery = any(
            isinstance(item.part, Battery) and item.is_inside_module for item in placed_items(design)
        )
        yield Held(id=use.id, mass_kg=module_kg, mount=use.mount, is_battery=has_battery, largest_mm=0.0)
    items = placed_items(design)
    for item in items:
        if item.is_inside_module or item.inside >= 0:
            continue
        inner = [other for other in items if item.index >= 0 and other.inside == item.index]
        mass_kg = _case_kg(item) + sum(other.count * _case_kg(other) for other in inner)
        is_battery = any(isinstance(one.part, Battery) for one in (item, *inner))
        if is_battery or mass_kg >= HEAVY_KG:
            yield Held(
                id=item.id,
                mass_kg=mass_kg,
                mount=item.mount,
                is_battery=is_battery,
                largest_mm=max(size_mm(item.part) or (0.0,)),
            )


def _case_kg(item: Item) -> float:
    extra_kg = item.mount.extra_kg if item.mount is not None else None
    return item.part.mass_kg + (extra_kg or 0.0)


def _carried_g(held: Held) -> float | None:
    """Return the deceleration a mount holds: its rating, else the shear strength of its bolts."""
    mount = held.mount
    if mount is None or held.mass_kg == 0.0:
        return None
    if mount.rated_g is not None:
        return mount.rated_g
    if mount.bolt_mm is None or mount.bolt_count is None:
        return None
    strength_n = mount.bolt_count * bolt_shear_n(mount.bolt_mm, bolt_class=mount.bolt_class)
    return strength_n / (held.mass_kg * STANDARD_GRAVITY_M_S2)


RESTRAINT = Rule(
    name="restraint",
    group=WIRING,
    asks="Are battery and heavy parts held against a crash?",
    check=_restraint,
)

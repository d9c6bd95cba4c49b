"""Rule: do mounts hold battery and heavy parts sideways, and against tipping over their bolts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.restraint import (
    LOOSE,
    STANDARD_GRAVITY_M_S2,
    Held,
    heavy_things,
    restraint_wanted_g,
)
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.fit import VehicleMass
from ampwright.job.quantity import known_value
from ampwright.said import said
from ampwright.sources import Source, own_choice
from ampwright.standards.en_1993_1_8.bolts import (
    SOURCE_TOGETHER,
    TENSION_WITH_SHEAR,
    bolt_shear_n,
    bolt_tension_n,
)

__all__ = ["RESTRAINT_TIPPING", "tipping_g"]

SIDE_BY_GROSS_MASS = ((3500.0, 8.0), (float("inf"), 5.0))
"""Permitted gross mass in kg and deceleration to the side in g (own choice, docs/choices.md#restraint-side)."""
LEAST_BOLTS = 2
"""A single bolt has no second row: nothing but the sheet holds it against tipping."""


def side_wanted_g(design: Design) -> tuple[float, Source]:
    """Return the deceleration to the side to be held; a job's own figure holds in every direction."""
    written = design.job.vehicle.mass or VehicleMass()
    if known_value(written.restraint_g) is not None:
        return restraint_wanted_g(design)
    gross_kg = known_value(written.gross_limit_kg) or 0.0
    return next(g for limit_kg, g in SIDE_BY_GROSS_MASS if gross_kg <= limit_kg), own_choice("restraint-side")


def tipping_g(held: Held) -> float | None:
    """Return the deceleration at which the bolts of the lifted row give way; None where something is not said.

    EN 1993-1-8, table 3.4. At a deceleration a each of n bolts takes m a / n across and each of the lifted half
    2 m a h / (n s) along its thread, h the height of the centre of mass, s the least distance of two rows.

    Notes
    -----
    The weight, which helps on a floor and harms on a wall, is left out; so are straps and walls of a tray.
    """
    mount = held.mount
    if mount is None or mount.bolt_mm is None or mount.bolt_count is None or mount.bolt_rows_mm is None:
        return None
    height_mm = mount.centre_height_mm or held.largest_mm / 2.0
    if height_mm <= 0.0 or held.mass_kg <= 0.0 or mount.bolt_count < LEAST_BOLTS:
        return None
    shear_n = bolt_shear_n(mount.bolt_mm, bolt_class=mount.bolt_class)
    tension_n = bolt_tension_n(mount.bolt_mm, bolt_class=mount.bolt_class)
    across = 1.0 / mount.bolt_count
    along = 2.0 * height_mm / (mount.bolt_count * mount.bolt_rows_mm)
    together_n = 1.0 / (across / shear_n + along / (TENSION_WITH_SHEAR * tension_n))
    return min(together_n, tension_n / along) / (held.mass_kg * STANDARD_GRAVITY_M_S2)


def _restraint_tipping(design: Design, _: Studies) -> Iterator[Finding]:
    forward_g, _source = restraint_wanted_g(design)
    side_g, side_source = side_wanted_g(design)
    make = partial(Finding, rule="restraint-tipping", group=Group.WIRING)
    unsaid: list[str] = []
    for held in heavy_things(design):
        mount = held.mount
        if mount is None or (mount.rated_g is None and (mount.bolt_mm is None or mount.bolt_count is None)):
            continue  # restraint asks how it is held at all
        if mount.rated_g is not None:
            carried_g, wanted_g, source = mount.rated_side_g, side_g, side_source
            what = said("to the side")
        else:
            carried_g, wanted_g, source = tipping_g(held), max(forward_g, side_g), SOURCE_TOGETHER
            what = said("before the lifted bolts give way, in the direction it tips most easily")
        if carried_g is None:
            unsaid.append(held.id)
            continue
        is_weak = carried_g < wanted_g
        weight = Severity.FAIL if held.is_battery else Severity.CONDITION
        yield make(
            severity=weight if is_weak else Severity.PASS,
            subject=held.id,
            message=said(
                "{held}, {how}: holds {carried_g:.1f} g {what}; {wanted_g:g} g are wanted.",
                held=held.id,
                how=mount.how,
                carried_g=carried_g,
                what=what,
                wanted_g=wanted_g,
            ),
            value=carried_g,
            limit=wanted_g,
            unit="g",
            at_most=False,
            source=source,
            way_out=said("Set the bolts further apart, use larger ones, or stay its upper end.")
            if is_weak
            else "",
            caution=LOOSE if is_weak else "",
        )
    if unsaid:
        yield make(
            severity=Severity.ADVICE,
            subject=design.job.job.id,
            message=said("Whether {named} would tip, or hold to the side, is not said.", named=named(unsaid)),
            source=side_source,
            way_out=said(
                "Say bolt_rows_mm and centre_height_mm of bolted mounts, rated_side_g of rated ones."
            ),
        )


RESTRAINT_TIPPING = Rule(
    name="restraint-tipping",
    group=Group.WIRING,
    asks="Do mounts hold battery and heavy parts sideways, and against tipping?",
    check=_restraint_tipping,
)

"""Rules on outlets and inlets, and on breakers that close by themselves."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.mains_side import mains_chargers
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, run_text
from ampwright.energy.mains import has_transfer
from ampwright.findings import Finding, Group, Severity
from ampwright.job.converters import sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.network.loads import load_sets
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.protection import Breaker
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, Source

__all__ = ["AUTO_RESET", "INLET_RATING", "OUTLET_RATING"]

WIRING = Group.WIRING


def _outlet_rating(design: Design, studies: Studies) -> Iterator[Finding]:
    for placed, outlet in design.placed(Outlet):
        if outlet.supply == "dc":
            yield from _dc_outlet(design, studies, placed, outlet)
    sockets = [(placed, outlet) for placed, outlet in design.placed(Outlet) if outlet.supply == "ac"]
    if sockets:
        for placed, inverter in design.placed(Inverter):
            yield _ac_outlets(design, placed, inverter, sockets)


def _dc_outlet(design: Design, studies: Studies, placed: DesignPart, outlet: Outlet) -> Iterator[Finding]:
    """Hold the outlet against what runs at it together, and against all of it at nominal voltage."""
    node = design.node_of(placed.id)
    plugged = [load for load in design.loads if load.node == node and node >= 0]
    if not plugged:
        return
    together_a = _into_a(design, studies, node)
    nominal_v = sides_of(design).nominal_v[node]
    single_a = max(load.peak_w for load in plugged) / nominal_v
    all_a = sum(load.peak_w for load in plugged) / nominal_v
    unknown = math.isnan(together_a)
    largest_a = single_a if unknown else max(together_a, single_a)
    is_over = largest_a > outlet.rating_a
    is_over_all = not is_over and all_a > outlet.rating_a
    light = Severity.NOT_CHECKED if unknown else Severity.ADVICE if is_over_all else Severity.PASS
    names = said_together((load.id for load in plugged), between=", ")
    yield Finding(
        rule="outlet-rating",
        group=WIRING,
        severity=Severity.FAIL if is_over else light,
        subject=placed.id,
        message=said(
            "{part}, {rating_a:g} A: what is plugged in ({names}) ",
            part=placed.id,
            rating_a=outlet.rating_a,
            names=names,
        )
        + (
            said("takes up to {largest_a:.1f} A.", largest_a=largest_a)
            if is_over or not unknown
            else said("takes together what could not be calculated.")
        )
        + (said(" All of it at once would be {all_a:.1f} A.", all_a=all_a) if is_over_all else ""),
        value=largest_a if is_over or not unknown else None,
        limit=outlet.rating_a,
        unit="A",
        source=part_source(outlet),
        way_out=said("Wire the load to a circuit of its own, or use an outlet of a higher rating.")
        if is_over
        else said("Do not plug in everything at once.")
        if is_over_all
        else "",
        caution=said("An overloaded outlet chars its plug and can start a fire.") if is_over else "",
    )


def _into_a(design: Design, studies: Studies, node: int) -> float:
    """Return the largest current that stays at a node over the corners; NaN where it is not known."""
    ways = [
        (run.index, 1.0 if run.end == node else -1.0) for run in design.runs if node in {run.start, run.end}
    ]
    if not ways or any(math.isnan(studies.network.peak_a[index]) for index, _ in ways):
        return math.nan
    sums = [
        sum(sign * float(point.run_a[index]) for index, sign in ways)
        for point in studies.network.points
        if not math.isnan(point.node_v[node])
    ]
    return math.nan if any(math.isnan(total) for total in sums) else max(sums, default=math.nan)


def _ac_outlets(
    design: Design, placed: DesignPart, inverter: Inverter, sockets: list[tuple[DesignPart, Outlet]]
) -> Finding:
    """Hold what an inverter's loads take together against the largest socket: nobody said what goes where."""
    together_a = max(
        (
            sum(_va(design, index) for index in one.loads if design.loads[index].inverter == placed.index)
            for one in load_sets(design)
        ),
        default=0.0,
    )
    together_a /= inverter.output_ac_v
    best, socket = max(sockets, key=_rating)
    is_over = together_a > socket.rating_a
    listed = said_together(
        (said("{one} {rating_a:g} A", one=one.id, rating_a=outlet.rating_a) for one, outlet in sockets),
        between=", ",
    )
    return Finding(
        rule="outlet-rating",
        group=WIRING,
        severity=Severity.CONDITION if is_over else Severity.PASS,
        subject=placed.id,
        message=said(
            "The loads of {part} take up to {together_a:.1f} A together at {output_ac_v:g} V; its "
            "outlets: {listed}.",
            part=placed.id,
            together_a=together_a,
            output_ac_v=inverter.output_ac_v,
            listed=listed,
        )
        + (said(" No outlet carries all of it, not even {best}.", best=best.id) if is_over else ""),
        value=together_a,
        limit=socket.rating_a,
        unit="A",
        source=part_source(socket),
        way_out=said("Share the loads between outlets so that none carries more than its rating.")
        if is_over
        else "",
        caution=said("An overloaded outlet chars its plug and can start a fire.") if is_over else "",
    )


def _rating(socket: tuple[DesignPart, Outlet]) -> float:
    return socket[1].rating_a


def _va(design: Design, index: int) -> float:
    return design.loads[index].peak_w / design.loads[index].power_factor


def _inlet_rating(design: Design, _: Studies) -> Iterator[Finding]:
    """Hold chargers and loads on the mains against the post and the inlet."""
    sets = load_sets(design, states=("hooked-up",))
    chargers = mains_chargers(design)
    inlets = design.placed(Inlet)
    if not sets or not (chargers or inlets):
        return
    loads_a = max(sum(_mains_load_a(design, index) for index in one.loads) for one in sets)
    total_a = sum(charger.current_a for charger in chargers) + loads_a
    parts = [
        said("{part} {current_a:.1f} A", part=charger.placed.id, current_a=charger.current_a)
        for charger in chargers
    ]
    parts += [said("loads on the mains {loads_a:.1f} A", loads_a=loads_a)] if loads_a > 0.0 else []
    taken = said(
        "Hooked up, {total_a:.1f} A may be taken from the mains ({parts})",
        total_a=total_a,
        parts=said_together(parts, between=", ") or said("nothing wired"),
    )
    post = Source(document="job file", place="use.mains_limit_a")
    for placed, inlet in inlets:
        is_inlet = inlet.rating_a <= design.mains_limit_a
        yield _inlet_finding(
            placed.id,
            said(
                "{taken}; {part} is rated {rating_a:g} A, the post gives {mains_limit_a:g} A.",
                taken=taken,
                part=placed.id,
                rating_a=inlet.rating_a,
                mains_limit_a=design.mains_limit_a,
            ),
            value_a=total_a,
            limit_a=min(inlet.rating_a, design.mains_limit_a),
            source=part_source(inlet) if is_inlet else post,
        )
    if not inlets:
        yield _inlet_finding(
            design.job.job.id,
            said(
                "{taken}; the post gives {mains_limit_a:g} A. No inlet is placed, so its rating was not "
                "asked.",
                taken=taken,
                mains_limit_a=design.mains_limit_a,
            ),
            value_a=total_a,
            limit_a=design.mains_limit_a,
            source=post,
        )


def _inlet_finding(subject: str, message: str, *, value_a: float, limit_a: float, source: Source) -> Finding:
    is_over = value_a > limit_a
    return Finding(
        rule="inlet-rating",
        group=WIRING,
        severity=Severity.CONDITION if is_over else Severity.PASS,
        subject=subject,
        message=message,
        value=value_a,
        limit=limit_a,
        unit="A",
        source=source,
        way_out=said("Set input limits on the chargers, or do not run the largest loads while they charge.")
        if is_over
        else "",
        caution=said("An overloaded inlet or lead overheats before the post's breaker opens.")
        if is_over
        else "",
    )


def _mains_load_a(design: Design, index: int) -> float:
    """Return what a load takes from the mains: nothing unless its inverter hands it over."""
    load = design.loads[index]
    if load.inverter < 0 or not has_transfer(design, load.inverter):
        return 0.0
    inverter = design.parts[load.inverter].part
    return _va(design, index) / inverter.output_ac_v if isinstance(inverter, Inverter) else 0.0


def _auto_reset(design: Design, _: Studies) -> Iterator[Finding]:
    for run in design.runs:
        for device in run.devices:
            if isinstance(device.part, Breaker):
                closes = device.part.is_auto_reset
                yield Finding(
                    rule="auto-reset",
                    group=WIRING,
                    severity=Severity.CONDITION if closes else Severity.PASS,
                    subject=device.id,
                    message=said("{run}: {device} ", run=run_text(run), device=device.id)
                    + (
                        said("closes again by itself, onto a fault again and again until somebody finds it.")
                        if closes
                        else said("stays open until it is closed by hand.")
                    ),
                    source=COMMON_PRACTICE,
                    way_out=said("Use a fuse, or a breaker that is closed by hand.") if closes else "",
                    caution=said("A circuit that went dead may become live again while it is worked on.")
                    if closes
                    else "",
                )


OUTLET_RATING = Rule(
    name="outlet-rating",
    group=WIRING,
    asks="Does each outlet carry what is plugged into it?",
    check=_outlet_rating,
)
INLET_RATING = Rule(
    name="inlet-rating",
    group=WIRING,
    asks="Do the post and the inlet carry what chargers and loads take from the mains?",
    check=_inlet_rating,
)
AUTO_RESET = Rule(
    name="auto-reset",
    group=WIRING,
    asks="Does each breaker stay open after a fault until somebody closes it?",
    check=_auto_reset,
)

"""Runs of a design -> pieces of conductor: cut at each device, with slack, colour and label."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterator

from ampwright.assessment.ends import parts_at_nodes
from ampwright.documents.cabling.places import device_terminal, node_terminal, return_terminal
from ampwright.documents.cabling.records import CablingFigures, Piece, Pole, Terminal, pole_sign
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignRun
from ampwright.job.wiring import Owner

__all__ = ["cabling_figures", "cut_length_m", "pieces", "supplier"]

SLACK_END_M = 0.05
SLACK_FRAC = 0.05
"""Slack for dressing an end and for the way (own choice, docs/choices.md#cable-slack)."""
ROLL_M = 25.0
"""A usual roll (own choice, docs/choices.md#cable-roll)."""
CUT_STEP_M = 0.05
"""Cut lengths are rounded up to this (own choice, docs/choices.md#cable-slack)."""
DIRECT_M = 0.005
"""Nearer than this a device sits on the terminal itself; no cable lies between (docs/choices.md#cable-slack)."""


def cabling_figures(design: Design) -> CablingFigures:
    """Return colours, slack and rolls: the job's, else the region's and own choices."""
    said, region = design.job.cabling, design.region
    return CablingFigures(
        positive_colour=said.positive_colour or region.positive_colour,
        negative_colour=said.negative_colour or region.negative_colour,
        chassis_colour=said.chassis_colour or region.chassis_colour,
        slack_end_m=SLACK_END_M if said.slack_end_m is None else said.slack_end_m,
        slack_frac=SLACK_FRAC if said.slack_frac is None else said.slack_frac,
        roll_m=said.roll_m or ROLL_M,
    )


def pieces(design: Design) -> tuple[Piece, ...]:
    """Return every length of conductor, the module's included, in the order of the runs; bonds last."""
    figures, at_nodes = cabling_figures(design), parts_at_nodes(design)
    found: list[Piece] = []
    for run in design.runs:
        found += _run_pieces(design, run, at_nodes, figures)
    return (*found, *_bonds(design, at_nodes, figures))


def supplier(design: Design, run: DesignRun) -> Owner:
    """Return who supplies a run: as its module's port says, else the workshop."""
    port = next((port for port in design.ports if run.index in port.runs), None)
    return "workshop" if port is None else port.supplied_by


def _run_pieces(
    design: Design, run: DesignRun, at_nodes: dict[int, DesignPart], figures: CablingFigures
) -> Iterator[Piece]:
    is_one_cable = run.cable.core_count > 1 and run.back_cable is not None
    yield from _way(design, run, at_nodes, figures, pole="both" if is_one_cable else "plus")
    if run.back_cable is not None and not is_one_cable:
        yield from _way(design, run, at_nodes, figures, pole="minus")


def _way(
    design: Design,
    run: DesignRun,
    at_nodes: dict[int, DesignPart],
    figures: CablingFigures,
    *,
    pole: Pole,
) -> Iterator[Piece]:
    """Yield the pieces of one conductor of a run."""
    stops, length_m = _stops(design, run, at_nodes, pole=pole)
    legs = [leg for leg in itertools.pairwise(stops) if leg[1][0] - leg[0][0] > DIRECT_M]
    longest = max(legs, key=lambda leg: leg[1][0] - leg[0][0], default=None)
    cable = run.back_cable if pole == "minus" and run.back_cable is not None else run.cable
    for number, leg in enumerate(legs, start=1):
        (start_m, start), (end_m, end) = leg
        part = f".{number}" if len(legs) > 1 else ""
        yield Piece(
            id=f"{run.id}{part}{pole_sign(pole)}",
            run=run.id,
            pole=pole,
            start=start[1],
            end=end[0],
            cable=cable,
            colour={"plus": figures.positive_colour, "minus": figures.negative_colour}.get(pole, ""),
            length_m=min(end_m - start_m, length_m),
            cut_m=cut_length_m(min(end_m - start_m, length_m), figures),
            plugs=tuple(plug.id for plug in run.plugs) if leg is longest else (),
            is_inside_module=run.is_inside_module,
            supplied_by=supplier(design, run),
        )


Stop = tuple[float, tuple[Terminal, Terminal]]
"""Place along a conductor, and its terminals for what arrives and what leaves."""


def _stops(
    design: Design, run: DesignRun, at_nodes: dict[int, DesignPart], *, pole: Pole
) -> tuple[list[Stop], float]:
    """Return where a conductor is connected, from start to end, and its length."""
    find = return_terminal if pole == "minus" else node_terminal
    first, last = (
        _at_port(design, run, node, find(design, node, at_nodes, pole=pole)) for node in (run.start, run.end)
    )
    length_m = run.back_length_m if pole == "minus" else run.length_m
    stops: list[Stop] = [(0.0, (first, first))]
    if pole != "minus":
        places = sorted(
            ((d.distance_m if d.end == "from" else length_m - d.distance_m), index, d)
            for index, d in enumerate(run.devices)
        )
        names = [first.place, *(device.id for _, _, device in places), last.place]
        for number, (at_m, _, device) in enumerate(places):
            sides = device_terminal(device, before=names[number], after=names[number + 2])
            stops.append((min(max(at_m, 0.0), length_m), sides))
    return [*stops, (length_m, (last, last))], length_m


def _at_port(design: Design, run: DesignRun, node: int, terminal: Terminal) -> Terminal:
    """Return a terminal by the name of the module's port; a bar keeps its name, for its studs are shared with the inside."""
    for port in design.ports:
        if (
            terminal.stud_count == 1
            and run.index in port.runs
            and port.node == node
            and not run.is_inside_module
        ):
            return dataclasses.replace(terminal, place=port.id)
    return terminal


def cut_length_m(length_m: float, figures: CablingFigures) -> float:
    """Return a length with slack, rounded up to whole steps of five centimetres."""
    wanted_m = length_m * (1.0 + figures.slack_frac) + 2.0 * figures.slack_end_m
    return round(math.ceil(round(wanted_m / CUT_STEP_M, 6)) * CUT_STEP_M, 2)


def _bonds(design: Design, at_nodes: dict[int, DesignPart], figures: CablingFigures) -> Iterator[Piece]:
    for number, bond in enumerate(design.bonds, start=1):
        start = return_terminal(design, bond.node, at_nodes, pole="minus")
        yield Piece(
            id=f"B{number}",
            run="",
            pole="metal",
            start=start,
            end=Terminal(
                place=bond.metal, pole="metal", form="stud", stud_mm=0.0, torque_nm=0.0, stud_count=1
            ),
            cable=bond.cable,
            colour=figures.chassis_colour,
            length_m=None,
            cut_m=None,
            plugs=(),
            is_inside_module=False,
            supplied_by="workshop",
        )

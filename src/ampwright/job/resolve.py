"""Job -> Design: find every part, give every node an index, every amount a number.

All problems are reported at once. What physics allows but a rule forbids is left to the rules.
"""

from __future__ import annotations

import dataclasses
from typing import Literal

from ampwright.job.as_left import job_as_left
from ampwright.job.assemble import Assembly, PartEntry, assembly
from ampwright.job.complaints import Complaints, Path, bad_id_message, is_good_id, meant
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_zone import DesignZone
from ampwright.job.loaded import LoadedJob
from ampwright.job.lookup import Lookup
from ampwright.job.module import ModuleDefinition
from ampwright.job.nodes import STARTER_NODE, NodeTable, node_table
from ampwright.job.order import check_order
from ampwright.job.override import check_overrides
from ampwright.job.own_tables import OwnTables
from ampwright.job.quantity import likely_value
from ampwright.job.quote import check_quote
from ampwright.job.records import Job
from ampwright.job.resolve_buttons import resolved_buttons, resolved_interlocks
from ampwright.job.resolve_loads import resolved_loads
from ampwright.job.resolve_mains import check_mains
from ampwright.job.resolve_place import resolved_daylight, resolved_legs, resolved_site
from ampwright.job.resolve_plates import check_plates
from ampwright.job.resolve_use import resolved_days, resolved_plans, resolved_vehicle
from ampwright.job.resolve_wiring import (
    resolved_bonds,
    resolved_channels,
    resolved_links,
    resolved_ports,
    resolved_runs,
)
from ampwright.job.string_links import DesignStringLinks
from ampwright.job.sunlight import PanelPlace
from ampwright.job.unknowns import unknown_inputs
from ampwright.parts.battery import Battery
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.fridge import Fridge
from ampwright.parts.hardware import Enclosure, Plug
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.standards.device_bands.classes import DEVICE_CLASSES
from ampwright.standards.regions.read import region_rules

__all__ = ["resolve"]

MOST_STRINGS = 20
"""Most battery strings in parallel; more is no auxiliary system (our own choice)."""
NOT_PLACED = {
    Cable: "is cable; name it in a run",
    Fridge: "is a refrigerator; name it as the part of a load",
    Fuse: "is a fuse; name it as a device of a run",
    Breaker: "is a circuit breaker; name it as a device of a run",
    Isolator: "is an isolator; name it as a device of a run",
    Plug: "is a plug; name it in the plugs of a run",
}


def resolve(
    job: Job,
    catalogue: Catalogue,
    *,
    definition: ModuleDefinition | None = None,
    loaded: LoadedJob | None = None,
) -> Design:
    """Return the design of a job; raises JobError with every dangling or impossible thing in it.

    Parameters
    ----------
    definition : the module's definition, where the job includes one
    loaded : the file the job was read from, for messages with lines
    """
    complaints = Complaints()
    as_left = job_as_left(job)
    zones = _zones(job, complaints)
    whole = assembly(job, definition, complaints)
    site = resolved_site(job, complaints)
    lookup = Lookup(
        job=as_left,
        catalogue=catalogue,
        zones=zones,
        nodes={},
        complaints=complaints,
        lost=set(),
        daylight=resolved_daylight(job, site),
    )
    parts = _parts(lookup, whole)
    table = node_table(job, tuple((part.id, part.part) for part in parts), whole.ports)
    lookup.nodes.update(table.index)
    _check_names(job, whole, table, complaints)
    _check_ports(whole, table, complaints)
    runs = resolved_runs(lookup, whole.runs)
    bonds = resolved_bonds(lookup)
    channels = resolved_channels(lookup, parts)
    buttons = resolved_buttons(lookup, parts, channels)
    interlocks = resolved_interlocks(lookup, parts, channels)
    loads = resolved_loads(lookup, parts)
    plans = resolved_plans(job, complaints)
    days = resolved_days(job, complaints)
    battery = 0 if lookup.lost else _battery(job, parts, complaints)
    legs = resolved_legs(job, site, len(days), complaints)
    check_overrides(job.override, complaints)
    check_quote(job.quote, catalogue, job.module.id if job.module is not None else "", complaints)
    check_mains(lookup)
    check_plates(job, parts, complaints)
    if loaded is None or job is loaded.job:  # a variant's ranges were checked with the job it comes from
        _check_ranges(job, complaints)
        check_order(job, complaints)
    tables = loaded.tables if loaded is not None else OwnTables()
    _check_tables(tables, catalogue, complaints)
    if loaded is None:
        complaints.raise_if_any("job", None, None)
    else:
        complaints.raise_if_any(str(loaded.file), loaded.text, loaded.raw)
    bank = parts[battery].part
    nominal_v = bank.nominal_v if isinstance(bank, Battery) else 0.0
    return Design(
        job=as_left,
        site=site,
        legs=legs,
        system_v=nominal_v * parts[battery].in_series,
        vehicle=resolved_vehicle(job),
        zones=tuple(zones.values()),
        parts=parts,
        nodes=table.names,
        runs=runs,
        links=resolved_links(parts, table.index),
        bonds=bonds,
        loads=loads,
        channels=channels,
        buttons=buttons,
        interlocks=interlocks,
        ports=resolved_ports(whole.ports, runs, table.index),
        plans=plans,
        days=days,
        start_soc_frac=likely_value(job.use.start_soc_frac),
        mains_limit_a=likely_value(job.use.mains_limit_a),
        battery=battery,
        module=definition,
        region=region_rules(job.job.region),
        tables=tables,
        wanted_settings=job.setting,
        wanted_channels=job.channel,
        wanted_cutoff=job.load_cutoff,
    )


def _check_tables(tables: OwnTables, catalogue: Catalogue, complaints: Complaints) -> None:
    """Complain of each device in the job's own opening times that is neither a class nor a part."""
    devices = {name for name, part in catalogue.parts.items() if isinstance(part, Fuse | Breaker)}
    known = devices | set(DEVICE_CLASSES)
    for point in tables.opening:
        if point.device not in known:
            complaints.add(
                ("tables", "opening_times_file"),
                f"line {point.line} names '{point.device}', which is no fuse or breaker of the catalogue and "
                f"no class of device; {meant(point.device, known)}",
            )


def _check_ranges(job: Job, complaints: Complaints) -> None:
    for unknown in unknown_inputs(job):
        if unknown.low >= unknown.high:
            complaints.add(
                (*unknown.path, "unknown"),
                f"{unknown.low:g} is not below {unknown.high:g}; write [low, high]",
            )
        elif not unknown.low <= unknown.likely <= unknown.high:
            complaints.add((*unknown.path, "likely"), f"{unknown.likely:g} lies outside the range")


def _zones(job: Job, complaints: Complaints) -> dict[str, DesignZone]:
    zones: dict[str, DesignZone] = {}
    for index, zone in enumerate(job.zone):
        if zone.id in zones:
            complaints.add(("zone", index, "id"), f"'{zone.id}' is used twice; ids must differ")
        if not is_good_id(zone.id):
            complaints.add(("zone", index, "id"), bad_id_message(zone.id))
        zones[zone.id] = DesignZone(
            id=zone.id,
            kind=zone.kind,
            ambient_max_degc=likely_value(zone.ambient_max_degc),
            rise_k=likely_value(zone.rise_k),
            written=zone,
        )
    return zones


def _parts(lookup: Lookup, whole: Assembly) -> tuple[DesignPart, ...]:
    settings = {setting.part: setting for setting in lookup.job.setting}
    found: list[DesignPart] = []
    for entry in whole.parts:
        part = lookup.any_part(entry.placed.part, (*entry.path, "part"))
        zone = lookup.zone(
            entry.placed.zone, ("module", "zone") if entry.is_inside else (*entry.path, "zone")
        )
        if part is None or type(part) in NOT_PLACED:
            lookup.lost.add(entry.placed.id)
        if part is None:
            continue
        misplaced = NOT_PLACED.get(type(part))
        if misplaced:
            lookup.complaints.add((*entry.path, "part"), f"'{entry.placed.part}' {misplaced}")
        found.append(
            DesignPart(
                index=len(found),
                id=entry.placed.id,
                part=part,
                zone=zone,
                inside=-1,
                strings=entry.placed.strings,
                in_series=entry.placed.in_series,
                string_device=_string_device(lookup, entry),
                string_links=_string_links(lookup, entry, part),
                output_a=_output_a(lookup, entry, part),
                precharge_ohm=entry.placed.precharge_ohm,
                tilt_deg=entry.placed.tilt_deg,
                azimuth_deg=entry.placed.azimuth_deg,
                shade_frac=entry.placed.shade_frac,
                panel=_panel_place(lookup, entry, part),
                is_on_when=entry.placed.is_on_when or _usual_consumption(part),
                owner=entry.placed.owner,
                part_of=entry.placed.part_of,
                is_inside_module=entry.is_inside,
                setting=settings.get(entry.placed.id),
                up=entry.placed.up,
                mount=entry.placed.mount,
            )
        )
    _check_settings(lookup, {part.id for part in found})
    return _with_enclosures(lookup, whole, tuple(found))


def _panel_place(lookup: Lookup, entry: PartEntry, part: Part) -> PanelPlace:
    """Return how a panel sits in the sun, and complain where the part is none or is not portable."""
    place = entry.placed.panel
    if place is None:
        return PanelPlace()
    if not isinstance(part, Panel):
        lookup.complaints.add((*entry.path, "panel"), f"'{entry.placed.part}' is no panel; take this out")
    elif place.aimed_count and not part.is_portable:
        lookup.complaints.add(
            (*entry.path, "panel", "aimed_count"), "only a portable panel can be turned to the sun; use 0"
        )
    return place


def _usual_consumption(part: Part) -> Literal["always", "loads-use"]:
    """Return when a part draws its own current where the job does not say: what is wired stays on."""
    return "loads-use" if isinstance(part, Inverter) else "always"


def _with_enclosures(
    lookup: Lookup, whole: Assembly, parts: tuple[DesignPart, ...]
) -> tuple[DesignPart, ...]:
    """Put each part that names an enclosure into it."""
    by_id = {part.id: part for part in parts}
    boxes = {name: part.index for name, part in by_id.items() if isinstance(part.part, Enclosure)}
    inside: dict[str, int] = {}
    for entry in whole.parts:
        box = entry.placed.inside
        if not box:
            continue
        if box not in boxes or box == entry.placed.id:
            if box in lookup.lost:
                continue
            what = (
                f"no enclosure '{box}' is placed" if box not in by_id else f"'{box}' is no enclosure for it"
            )
            lookup.complaints.add((*entry.path, "inside"), f"{what}; {meant(box, boxes)}")
            continue
        inside[entry.placed.id] = boxes[box]
    return tuple(dataclasses.replace(part, inside=inside.get(part.id, -1)) for part in parts)


def _check_settings(lookup: Lookup, ids: set[str]) -> None:
    seen: set[str] = set()
    for index, setting in enumerate(lookup.job.setting):
        path: Path = ("setting", index, "part")
        if setting.part not in ids and setting.part in lookup.lost:
            continue
        if setting.part not in ids:
            lookup.complaints.add(path, f"no part '{setting.part}'; {meant(setting.part, ids)}")
        elif setting.part in seen:
            lookup.complaints.add(path, f"'{setting.part}' is set twice; write all its settings in one place")
        seen.add(setting.part)


def _string_device(lookup: Lookup, entry: PartEntry) -> Fuse | Breaker | None:
    if not entry.placed.string_device:
        return None
    path = (*entry.path, "string_device")
    part = lookup.part(entry.placed.string_device, path, (Fuse, Breaker), wanted="a fuse or breaker")
    return part if isinstance(part, Fuse | Breaker) else None


def _output_a(lookup: Lookup, entry: PartEntry, part: Part) -> float | None:
    written = entry.placed.output_a
    if written is None:
        return None
    if not isinstance(part, AlternatorCharger | PanelController | MainsCharger | Inverter):
        lookup.complaints.add(
            (*entry.path, "output_a"), f"'{entry.placed.part}' charges nothing; take this out"
        )
    return likely_value(written)


def _string_links(lookup: Lookup, entry: PartEntry, part: Part) -> DesignStringLinks | None:
    links, path = entry.placed.string_links, (*entry.path, "string_links")
    if links is None:
        return None
    if not isinstance(part, Battery):
        lookup.complaints.add(path, f"'{entry.placed.part}' is no battery; take this out")
    elif entry.placed.strings == 1:
        lookup.complaints.add(path, "one string has no links to others; take this out, or give strings")
    cable = lookup.part(links.cable, (*path, "cable"), (Cable,), wanted="a cable")
    if not isinstance(cable, Cable):
        return None
    return DesignStringLinks(
        tapped=links.tapped,
        cable=cable,
        length_m=likely_value(links.length_m),
        joint_ohm=likely_value(links.joint_ohm),
    )


def _check_names(job: Job, whole: Assembly, table: NodeTable, complaints: Complaints) -> None:
    if not is_good_id(job.job.id):
        complaints.add(("job", "id"), bad_id_message(job.job.id))
    seen = {STARTER_NODE: "starter battery"}
    entries: list[tuple[str, Path, str]] = [
        (entry.placed.id, (*entry.path, "id"), "part") for entry in whole.parts
    ]
    entries += [(load.id, ("load", i, "id"), "load") for i, load in enumerate(job.load)]
    entries += [(entry.run.id, (*entry.path, "id"), "run") for entry in whole.runs]
    entries += [
        (device.id, (*entry.path, "device", i, "id"), "device")
        for entry in whole.runs
        for i, device in enumerate(entry.run.device)
    ]
    if job.module is not None:
        entries.append((job.module.id, ("module", "id"), "module"))
    for name, path, what in entries:
        if name in seen:
            complaints.add(path, f"'{name}' is already the id of a {seen[name]}; ids must differ")
        seen.setdefault(name, what)
        is_own = path[0] != "module" or what == "module"
        if is_own and not is_good_id(name):
            complaints.add(path, bad_id_message(name))
    if len(table.names) > 2000:
        complaints.add((), f"{len(table.names)} electrical nodes; at most 2000 can be calculated")


def _check_ports(whole: Assembly, table: NodeTable, complaints: Complaints) -> None:
    """Complain of each port of the module that hangs on nothing, or is written twice."""
    seen: set[str] = set()
    for port in whole.ports:
        if port.node not in table.index:
            hint = meant(port.node, table.names)
            complaints.add(("module",), f"port '{port.id}' is at no node of the module; {hint}")
        if port.id in seen:
            complaints.add(("module",), f"port '{port.id}' is defined twice; ids must differ")
        seen.add(port.id)


def _battery(job: Job, parts: tuple[DesignPart, ...], complaints: Complaints) -> int:
    """Return the index of the one auxiliary battery, noting a problem where it is not one."""
    banks = [part for part in parts if isinstance(part.part, Battery)]
    if not banks:
        complaints.add(("part",), "no battery is placed; add one, e.g. part = 'lfp-100'")
        return 0
    for bank in banks[1:]:
        complaints.add(
            (*_place_of(bank, job), "part"),
            f"'{bank.id}' is a second auxiliary battery beside '{banks[0].id}'; one bank is calculated: "
            "use strings and in_series for several cases of a kind",
        )
    bank = banks[0]
    if bank.strings > MOST_STRINGS:
        complaints.add(
            (*_place_of(bank, job), "strings"),
            f"{bank.strings} strings of batteries; at most {MOST_STRINGS} can be calculated",
        )
    return bank.index


def _place_of(placed: DesignPart, job: Job) -> Path:
    """Return where in the file a part is placed."""
    where = next((i for i, part in enumerate(job.part) if part.id == placed.id), None)
    return ("part", where) if where is not None else ("module", f"part '{placed.id}'")

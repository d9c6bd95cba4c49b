"""Cable runs, paths inside parts, output channels and module ports, resolved."""

from __future__ import annotations

from ampwright.job.assemble import RunEntry
from ampwright.job.complaints import Path, meant
from ampwright.job.design import DesignPart
from ampwright.job.design_wiring import (
    DesignBond,
    DesignChannel,
    DesignDevice,
    DesignLink,
    DesignPort,
    DesignRun,
)
from ampwright.job.design_zone import DesignZone
from ampwright.job.lookup import Lookup
from ampwright.job.module import ModulePort
from ampwright.job.quantity import known_value, likely_value, span
from ampwright.job.wiring import Run
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import Plug
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import OutputModule, Sensor

__all__ = ["resolved_bonds", "resolved_channels", "resolved_links", "resolved_ports", "resolved_runs"]


def resolved_runs(lookup: Lookup, entries: tuple[RunEntry, ...]) -> tuple[DesignRun, ...]:
    """Return every run whose parts and nodes exist; note a problem for each that does not."""
    runs: list[DesignRun] = []
    for entry in entries:
        run, path = entry.run, entry.path
        start = lookup.node(run.start, (*path, "start"))
        end = lookup.node(run.end, (*path, "end"))
        if start == end and start >= 0:
            lookup.complaints.add((*path, "end"), f"run '{run.id}' starts and ends at the same node")
        cable = lookup.part(run.cable, (*path, "cable"), (Cable,), wanted="a cable")
        back = cable
        if run.back_cable:
            back = lookup.part(run.back_cable, (*path, "back_cable"), (Cable,), wanted="a cable")
        if cable is not None and back is not None:
            runs.append(_run(lookup, entry, (len(runs), start, end), (cable, back)))
        else:  # no run can be made of it, but its other names are looked up all the same
            _zones_passed(lookup, entry)
            _devices(lookup, entry)
            _plugs(lookup, entry)
    return tuple(runs)


def _zones_passed(lookup: Lookup, entry: RunEntry) -> tuple[DesignZone, ...]:
    found = (
        lookup.zone(name, ("module", "zone") if entry.is_inside else (*entry.path, "zones", position))
        for position, name in enumerate(entry.run.zones)
    )
    return tuple(zone for zone in found if zone is not None)


def _tightest_bend_mm(run: Run, zones: tuple[DesignZone, ...]) -> float | None:
    """Return the radius of the run's own route, else the smallest its zones name; None where neither is said."""
    if run.tightest_bend_mm is not None:
        return likely_value(run.tightest_bend_mm)
    said = [known_value(zone.written.tightest_bend_mm) for zone in zones]
    known = [radius for radius in said if radius is not None]
    return min(known) if known and len(known) == len(said) else None


def _run(
    lookup: Lookup, entry: RunEntry, ends: tuple[int, int, int], cables: tuple[Cable, Cable]
) -> DesignRun:
    run = entry.run
    warm = _zones_passed(lookup, entry)
    length = likely_value(run.length_m)
    is_cable_back = run.back == "cable"
    back_length = likely_value(run.back_length_m) if run.back_length_m is not None else length
    chassis = likely_value(lookup.job.vehicle.chassis_resistance_ohm)
    return DesignRun(
        index=ends[0],
        id=run.id,
        start=ends[1],
        end=ends[2],
        cable=cables[0],
        back_cable=cables[1] if is_cable_back else None,
        length_m=length,
        back_length_m=back_length if is_cable_back else 0.0,
        chassis_ohm=0.0 if is_cable_back else chassis,
        joint_ohm=likely_value(run.joint_ohm),
        devices=_devices(lookup, entry),
        plugs=_plugs(lookup, entry),
        ambient_max_degc=max(
            (zone.ambient_max_degc for zone in warm), default=lookup.job.season.hottest_degc
        ),
        ambient_is_stated=bool(warm),
        is_engine_space=any(zone.kind == "engine" for zone in warm),
        zones=warm,
        tightest_bend_mm=_tightest_bend_mm(run, warm),
        loaded_together=run.loaded_together,
        is_sheathed=run.is_sheathed,
        part_of=run.part_of,
        is_inside_module=entry.is_inside,
    )


def _devices(lookup: Lookup, entry: RunEntry) -> tuple[DesignDevice, ...]:
    devices: list[DesignDevice] = []
    least_length, _ = span(entry.run.length_m)
    for position, device in enumerate(entry.run.device):
        path: Path = (*entry.path, "device", position)
        part = lookup.part(
            device.part, (*path, "part"), (Fuse, Breaker, Isolator), wanted="a fuse, breaker or isolator"
        )
        _, most_distance = span(device.distance_m)
        if most_distance > least_length:
            lookup.complaints.add(
                (*path, "distance_m"),
                f"{most_distance:g} m is beyond the run's length of {least_length:g} m "
                "(of two ranges, the farthest place and the shortest run)",
            )
        if isinstance(part, Fuse | Breaker | Isolator):
            devices.append(
                DesignDevice(
                    id=device.id,
                    part=part,
                    end=device.end,
                    distance_m=likely_value(device.distance_m),
                    is_sheathed=device.is_sheathed,
                )
            )
    return tuple(devices)


def _plugs(lookup: Lookup, entry: RunEntry) -> tuple[Plug, ...]:
    found = (
        lookup.part(name, (*entry.path, "plugs", position), (Plug,), wanted="a plug")
        for position, name in enumerate(entry.run.plugs)
    )
    return tuple(plug for plug in found if plug is not None)


def resolved_links(parts: tuple[DesignPart, ...], nodes: dict[str, int]) -> tuple[DesignLink, ...]:
    """Return the current paths inside output modules, current sensors and relays."""
    links: list[DesignLink] = []
    for placed in parts:
        part = placed.part
        if isinstance(part, OutputModule):
            start = nodes[f"{placed.id}.in"]
            links += [
                DesignLink(
                    part=placed.index,
                    start=start,
                    end=nodes[f"{placed.id}.{number}"],
                    resistance_ohm=group.resistance_ohm,
                )
                for group in part.outputs
                for number in range(group.first, group.last + 1)
            ]
        if isinstance(part, Relay) or (isinstance(part, Sensor) and part.senses == "current"):
            links.append(
                DesignLink(
                    part=placed.index,
                    start=nodes[f"{placed.id}.in"],
                    end=nodes[f"{placed.id}.out"],
                    resistance_ohm=part.resistance_ohm,
                )
            )
    return tuple(links)


def resolved_bonds(lookup: Lookup) -> tuple[DesignBond, ...]:
    """Return the ties between negative and metal whose node and cable exist."""
    found: list[DesignBond] = []
    for index, bond in enumerate(lookup.job.bond):
        node = lookup.node(bond.at, ("bond", index, "at"))
        cable = lookup.part(bond.cable, ("bond", index, "cable"), (Cable,), wanted="a cable")
        if node >= 0 and cable is not None:
            found.append(DesignBond(node=node, cable=cable, metal=bond.metal))
    return tuple(found)


def resolved_channels(lookup: Lookup, parts: tuple[DesignPart, ...]) -> tuple[DesignChannel, ...]:
    """Return the channels in use; an unknown module or number is a problem."""
    modules = {part.id: part for part in parts if isinstance(part.part, OutputModule)}
    channels: list[DesignChannel] = []
    seen: set[tuple[str, int]] = set()
    for index, channel in enumerate(lookup.job.channel):
        placed = modules.get(channel.module)
        if placed is None or not isinstance(placed.part, OutputModule):
            lookup.complaints.add(
                ("channel", index, "module"),
                f"no output module '{channel.module}'; {meant(channel.module, modules)}",
            )
            continue
        group = next((g for g in placed.part.outputs if g.first <= channel.number <= g.last), None)
        if group is None:
            highest = max(g.last for g in placed.part.outputs)
            lookup.complaints.add(
                ("channel", index, "number"), f"'{channel.module}' has channels 1 to {highest}"
            )
            continue
        if (channel.module, channel.number) in seen:
            lookup.complaints.add(
                ("channel", index, "number"), f"channel {channel.number} of '{channel.module}' is named twice"
            )
        seen.add((channel.module, channel.number))
        channels.append(
            DesignChannel(
                part=placed.index,
                number=channel.number,
                name=channel.name,
                node=lookup.nodes[f"{channel.module}.{channel.number}"],
                max_a=group.max_a,
                limit_a=channel.limit_a if channel.limit_a is not None else group.max_a,
                is_dimmed=channel.is_dimmed,
                is_dimmable=group.is_dimmable,
                side=group.side,
                is_always_on=channel.is_always_on,
                light_outside=channel.light_outside,
            )
        )
    return tuple(channels)


def resolved_ports(
    ports: tuple[ModulePort, ...], runs: tuple[DesignRun, ...], nodes: dict[str, int]
) -> tuple[DesignPort, ...]:
    """Return the module's ports with the runs outside it that are connected to each."""
    return tuple(
        DesignPort(
            id=port.id,
            node=nodes[port.node],
            direction=port.direction,
            max_a=port.max_a,
            device_max_a=port.device_max_a,
            smallest_mm2=port.smallest_mm2,
            supplied_by=port.supplied_by,
            has_inside_device=port.has_inside_device,
            capacitance_uf=port.capacitance_uf,
            has_precharge=port.has_precharge,
            runs=tuple(
                run.index
                for run in runs
                if not run.is_inside_module and nodes[port.node] in (run.start, run.end)
            ),
        )
        for port in ports
        if port.node in nodes
    )

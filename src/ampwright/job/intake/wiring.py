"""Parts and cable runs of a first job: battery, bus bar, chargers, panel, inverter, one circuit for each load."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ampwright.job.intake.lines import block
from ampwright.job.intake.loads import FirstLoad
from ampwright.job.intake.starting_parts import StartingParts
from ampwright.job.intake.usual import UsualVehicle
from ampwright.records import record

__all__ = ["CABLES", "Cables", "wiring_text"]

BREAKER = "breaker-hm-20"
DEVICE_M = 0.05
"""Cable between bar and breaker on one board (docs/choices.md#intake-start)."""


@record
class Cables:
    """The cables with which the search begins, in one series."""

    main: str
    """Battery, inverter, chassis."""
    charger: str
    """Starter battery to charger."""
    board: str
    """Chargers to the bar."""
    panel: str
    """Panel and its controller."""
    load: str
    """Loads."""


CABLES = {
    "metric": Cables(
        main="cable-35", charger="cable-16", board="cable-10", panel="cable-6", load="cable-2-5"
    ),
    "awg": Cables(
        main="cable-2-awg",
        charger="cable-6-awg",
        board="cable-8-awg",
        panel="cable-10-awg",
        load="cable-14-awg",
    ),
}


def wiring_text(
    parts: StartingParts, vehicle: UsualVehicle, loads: Sequence[FirstLoad], cables: Cables, inlet: str
) -> str:
    """Return the tables of parts, runs and the chassis bond."""
    placed = "\n".join(block("[[part]]", each) for each in _parts(parts, inlet))
    runs = list(_runs(parts, vehicle, loads, cables))
    wired = "\n".join(block("[[run]]", {"id": f"W{n}", **each}) for n, each in enumerate(runs, start=1))
    bond = block(
        "[[bond]]", {"at": "bar", "cable": cables.main}, note="Negative to the vehicle's metal, once."
    )
    return "\n".join(
        (
            "# Parts: generic ones of the catalogue, each the smallest that the search found to do.\n"
            + placed,
            "# Cable runs: lengths are assumed by the kind of vehicle; measure them.\n" + wired,
            bond,
        )
    )


def _parts(parts: StartingParts, inlet: str) -> Iterator[dict[str, Any]]:
    yield {"id": "battery", "part": parts.battery, "zone": "bench", "is_on_when": "always"}
    yield {"id": "bar", "part": parts.bar, "zone": "bench"}
    chosen = (
        ("charger", parts.charger),
        ("mains-charger", parts.mains_charger),
        ("controller", parts.controller),
        ("inverter", parts.inverter),
    )
    yield from ({"id": name, "part": part, "zone": "bench"} for name, part in chosen if part)
    if parts.mains_charger:
        yield {"id": "inlet", "part": inlet, "zone": "wall", "owner": "electrician"}
    if parts.panel:
        yield {"id": "panel", "part": parts.panel, "zone": "roof", "shade_frac": 0.05}


def _runs(
    parts: StartingParts, vehicle: UsualVehicle, loads: Sequence[FirstLoad], cables: Cables
) -> Iterator[dict[str, Any]]:
    yield {
        **_run("battery", "bar", cables.main, 0.6),
        "device": [_device("F1", parts.main_fuse, 0.15), _device("S1", parts.isolator, 0.35)],
    }
    if parts.charger:
        yield {
            **_run("starter-battery", "charger.in", cables.charger, vehicle.front_m, ("engine-bay", "bench")),
            "is_sheathed": True,
            "device": [_device("F2", "fuse-t-100", 0.15)],
        }
    for name, part, device in (
        ("charger.out", parts.charger, "breaker-hm-50"),
        ("mains-charger.out", parts.mains_charger, "breaker-hm-50"),
        ("controller.out", parts.controller, "breaker-hm-30"),
    ):
        if part:
            yield {
                **_run("bar", name, cables.board, 0.8),
                "device": [_device(f"Q-{name[:-4]}", device, DEVICE_M)],
            }
    if parts.panel:
        yield {**_run("panel", "controller.in", cables.panel, 5, ("roof", "bench")), "is_sheathed": True}
    if parts.inverter:
        inverter_fuse = _device("F-inverter", parts.inverter_fuse, DEVICE_M)
        yield {**_run("bar", "inverter", cables.main, 0.8), "joint_ohm": 0.0008, "device": [inverter_fuse]}
    for load in loads:
        if not load.usual.is_ac:
            breaker = _device(f"Q-{load.id}", BREAKER, DEVICE_M)
            yield {**_run("bar", load.id, cables.load, vehicle.load_m), "device": [breaker]}


def _run(
    start: str, end: str, cable: str, length_m: float, zones: tuple[str, ...] = ("bench",)
) -> dict[str, Any]:
    return {"start": start, "end": end, "cable": cable, "length_m": length_m, "zones": list(zones)}


def _device(name: str, part: str, distance_m: float) -> dict[str, Any]:
    return {"id": name, "part": part, "distance_m": distance_m}

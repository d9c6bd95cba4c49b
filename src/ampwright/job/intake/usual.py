"""What vehicles and appliances usually are: the tables that stand in for what a customer does not know."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import Literal, cast

from ampwright.job.intake.story import ApplianceKind, VehicleKind
from ampwright.records import record

__all__ = ["UsualAppliance", "UsualVehicle", "usual_appliances", "usual_vehicles"]

Range = tuple[float, float, float]
"""Lowest, likely and highest."""


@record
class UsualVehicle:
    """One kind of vehicle."""

    kind: VehicleKind
    """Its kind."""
    name: str
    """In plain words."""
    system_v: Literal[12, 24]
    """Nominal voltage."""
    body_preset: str
    """How its body warms in the sun."""
    alternator_a: Range | None
    """Rated current; None = it has none."""
    own_day_a: float
    """What the vehicle itself takes by day."""
    own_night_a: float
    """The same by night."""
    starter_ah: float
    """Capacity of the starter battery."""
    short_circuit_a: float
    """Its fault current."""
    starter_ohm: float
    """Its internal resistance."""
    front_m: float
    """Cable from the starter battery to the second battery."""
    load_m: float
    """Cable from there to an appliance."""


@record
class UsualAppliance:
    """One kind of appliance."""

    kind: ApplianceKind
    """Its kind."""
    name: str
    """In plain words."""
    is_ac: bool
    """True when it needs mains voltage."""
    part: str
    """Catalogue id of a refrigerator; empty for anything else."""
    power_w: Range | None
    """Power; None for a refrigerator."""
    peak_w: float | None
    """Highest power for seconds; None = its power."""
    behaves: str
    """Constant power, current or resistance."""
    day_hours: Range | None
    """Hours a day; None where it is used now and then."""
    uses: int | None
    """Times a day."""
    use_minutes: Range | None
    """Minutes of each use."""
    start: str
    """Clock time from which it is used."""
    end: str
    """Clock time until which it is used."""
    is_essential: bool
    """True when it usually must not stop."""
    has_motor: bool
    """True for a motor on mains."""
    start_va: float | None
    """Apparent power while its motor starts."""


def _rows(file: str) -> list[dict[str, str]]:
    text = files("ampwright.job.intake").joinpath(file).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def _range(row: dict[str, str], unit: str) -> Range | None:
    if not row[f"likely_{unit}"]:
        return None
    return float(row[f"low_{unit}"]), float(row[f"likely_{unit}"]), float(row[f"high_{unit}"])


def _number(text: str) -> float:
    return float(text) if text else 0.0


@cache
def usual_vehicles() -> dict[str, UsualVehicle]:
    """Return the kinds of vehicles by kind, in the order in which they are offered."""
    return {row["kind"]: _vehicle(row) for row in _rows("vehicles.csv")}


def _vehicle(row: dict[str, str]) -> UsualVehicle:
    return UsualVehicle(
        kind=cast("VehicleKind", row["kind"]),
        name=row["name"],
        system_v=24 if row["system_v"] == "24" else 12,
        body_preset=row["body_preset"],
        alternator_a=_range(row, "a"),
        own_day_a=_number(row["own_day_a"]),
        own_night_a=_number(row["own_night_a"]),
        starter_ah=_number(row["starter_ah"]),
        short_circuit_a=_number(row["short_circuit_a"]),
        starter_ohm=_number(row["starter_ohm"]),
        front_m=_number(row["front_m"]),
        load_m=_number(row["load_m"]),
    )


@cache
def usual_appliances() -> dict[str, UsualAppliance]:
    """Return the kinds of appliances by kind, in the order in which they are offered."""
    return {row["kind"]: _appliance(row) for row in _rows("appliances.csv")}


def _appliance(row: dict[str, str]) -> UsualAppliance:
    return UsualAppliance(
        kind=cast("ApplianceKind", row["kind"]),
        name=row["name"],
        is_ac=row["supply"] == "ac",
        part=row["part"],
        power_w=_range(row, "w"),
        peak_w=float(row["peak_w"]) if row["peak_w"] else None,
        behaves=row["behaves"],
        day_hours=_range(row, "hours"),
        uses=int(row["uses"]) if row["uses"] else None,
        use_minutes=_range(row, "minutes"),
        start=row["start"],
        end=row["end"],
        is_essential=row["is_essential"] == "yes",
        has_motor=row["has_motor"] == "yes",
        start_va=float(row["start_va"]) if row["start_va"] else None,
    )

"""A story becomes the text of a job with the smallest parts; what was assumed is said in comments."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

from ampwright.climate.site import Site
from ampwright.climate.sources import shipped_site
from ampwright.job.intake.lines import amount, block, commented, figure
from ampwright.job.intake.loads import first_loads, load_text
from ampwright.job.intake.starting_parts import StartingParts, lowest_v, region_of, starting_parts, vehicle_v
from ampwright.job.intake.story import Story, StoryVehicle
from ampwright.job.intake.trip import trip_text
from ampwright.job.intake.usual import UsualVehicle, usual_vehicles
from ampwright.job.intake.wiring import CABLES, wiring_text
from ampwright.parts.catalogue import Catalogue
from ampwright.standards.regions import region_rules

__all__ = ["starting_text"]

COLDER_K = 10.0
HOTTER_K = 12.0
"""Air to be reckoned with beyond the month's mean minimum and the year's hottest mean maximum
(docs/choices.md#intake-ranges)."""
OWN_DRAW = (0.7, 1.0, 1.3)
"""Range of what the vehicle itself takes (docs/choices.md#intake-ranges)."""
HEAD = """# A first job, made from what the customer told. Whatever was not known is a range, with the question that settles it,
# or stands under a comment that begins with "Assumed". Read it from top to bottom, then measure and ask.
format = 1
"""


def starting_text(story: Story, *, on: dt.date, catalogue: Catalogue, say: Callable[[str], str] = str) -> str:
    """Return the text of a job with the smallest parts.

    Parameters
    ----------
    on : date of the revision
    say : puts the plain names of vehicles and appliances into the customer's language

    Raises
    ------
    ClimateError
        Where the place is not in the shipped table.
    """
    site, usual = shipped_site(story.stay.site), usual_vehicles()[story.vehicle.kind]
    region = region_of(site.country)
    rules = region_rules(region)
    loads = first_loads(story.appliance, say)
    parts = starting_parts(story, loads, rules, catalogue)
    inlet = "inlet-230v-16" if rules.mains_v > 200.0 else "inlet-120v-15"
    is_us = region == "us-ca"
    wiring = wiring_text(parts, usual, loads, CABLES["awg" if is_us else "metric"], inlet)
    blocks = (
        HEAD,
        block("[job]", _about(story, on=on, region=region, is_us=is_us, say=say)),
        *_vehicle(story, usual, say),
        *_place(story, site),
        trip_text(story.trip, story.stay),
        *_zones(story.vehicle, parts),
        wiring,
        "# Loads: essential ones decide the verdict.",
        *(load_text(load, mains_hz=round(rules.mains_hz)) for load in loads),
        *_settings(parts),
    )
    return "\n".join(blocks)


def _about(
    story: Story, *, on: dt.date, region: str, is_us: bool, say: Callable[[str], str]
) -> dict[str, Any]:
    title = story.title or story.vehicle.description or say(usual_vehicles()[story.vehicle.kind].name)
    name = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:40].strip("-") or "first-job"
    about = {
        "id": name,
        "title": title,
        "customer": story.customer,
        "revision": 1,
        "date": on,
        "region": region,
        "units": "us" if is_us else "metric",
        "language": story.language,
        "notes": story.notes,
    }
    return {key: value for key, value in about.items() if value != ""}


def _vehicle(story: Story, usual: UsualVehicle, say: Callable[[str], str]) -> tuple[str, ...]:
    told = story.vehicle
    table: dict[str, Any] = {
        "description": told.description or say(usual.name),
        "system_v": vehicle_v(story),
        "body_preset": usual.body_preset,
    }
    if told.carries_gas is not None:
        table["carries_gas"] = told.carries_gas
    if told.kind == "trailer" or told.fuel is not None:
        table["fuel"] = told.fuel or "none"
    if told.people_sleep is not None:
        table["people_sleep"] = told.people_sleep
    lines = [
        f"Assumed: {table['system_v']} V; look at the starter battery." if told.system_v is None else "",
        "Not said: gas aboard." if told.carries_gas is None else "",
        "Not said: what it runs on." if "fuel" not in table else "",
        "Not said: whether people sleep in it." if told.people_sleep is None else "",
        "Assumed: how its body warms in the sun.",
    ]
    head = block("[vehicle]", table, note="\n".join(line for line in lines if line))
    if usual.alternator_a is None:
        return (head,)
    return head, _alternator(story, usual), _starter(usual)


def _alternator(story: Story, usual: UsualVehicle) -> str:
    told, cells = story.vehicle, vehicle_v(story) / 12.0
    regulation = told.regulation or "regulated"
    stops = {True: (0.05, 0.15, 0.3), None: (0.0, 0.1, 0.3)}
    ask = "voltmeter at the starter battery, engine warm, on the road"
    clamp = "clamp meter on the alternator lead, engine hot"
    table: dict[str, Any] = {
        "rating_a": amount(
            told.alternator_a, usual.alternator_a or (1.0, 1.0, 1.0), "read the alternator's label"
        ),
        "regulation": regulation,
        "voltage_v": figure(14.2 * cells),
        "lowest_v": amount(None, lowest_v(story), ask),
        "highest_v": figure(14.8 * cells),
        "hot_road_frac": 0.75,
        "hot_idle_frac": amount(None, (0.35, 0.45, 0.55), f"{clamp}, at idle"),
        "own_load_day_a": amount(None, OWN_DRAW, f"{clamp}, by day", factor=usual.own_day_a),
        "own_load_night_a": amount(None, OWN_DRAW, f"{clamp}, lights on", factor=usual.own_night_a),
        "engine_off_frac": 0
        if told.has_start_stop is False
        else amount(None, stops[told.has_start_stop], "how long does the engine stand still at lights?"),
    }
    note = "Assumed: voltages, and what a hot alternator gives on the road."
    if told.regulation is None:
        note = "Assumed: regulated by the engine computer, the harder case.\n" + note
    return block("[vehicle.alternator]", table, note=note)


def _starter(usual: UsualVehicle) -> str:
    table = {
        "capacity_ah": figure(usual.starter_ah),
        "short_circuit_a": figure(usual.short_circuit_a),
        "resistance_ohm": usual.starter_ohm,
        "standby_a": 0.03,
    }
    return block("[vehicle.starter_battery]", table, note="Assumed: all of it, as usual for such a vehicle.")


def _place(story: Story, site: Site) -> tuple[str, str]:
    month = story.stay.month
    season = {
        "month": month,
        "coldest_degc": round(site.min_degc[month - 1] - COLDER_K),
        "hottest_degc": round(max(site.max_degc) + HOTTER_K),
        "storage_days": 30,
    }
    note = "Assumed: coldest morning and hottest day, from the place's figures; days it stands between trips."
    place = f"The nearest shipped place: {site.name}, {site.country}."
    return block("[place]", {"site": site.id}, note=place), block("[season]", season, note=note)


def _zones(told: StoryVehicle, parts: StartingParts) -> tuple[str, ...]:
    zones: list[dict[str, Any]] = [{"id": "bench", "kind": "locker", "ambient_max_degc": 40}]
    if parts.charger:
        zones.append({"id": "engine-bay", "kind": "engine", "ambient_max_degc": 50})
    if parts.mains_charger:
        zones.append({"id": "wall", "kind": "body", "ambient_max_degc": 40})
    note = "Assumed: hottest air of each place. Sizes of the places were not asked."
    texts = [block("[[zone]]", each, note=note if not n else "") for n, each in enumerate(zones)]
    if parts.panel:
        texts.append(_roof(told))
    return tuple(texts)


def _roof(told: StoryVehicle) -> str:
    count = 1 if told.panel_count is None else told.panel_count
    free = [{"length_mm": 1600, "width_mm": 800}] * count
    note = (
        f"Assumed: room for {count} solar panel{'s' if count > 1 else ''}."
        if told.panel_count is None
        else ""
    )
    return block("[[zone]]", {"id": "roof", "kind": "roof", "ambient_max_degc": 60, "free": free}, note=note)


def _settings(parts: StartingParts) -> tuple[str, ...]:
    chargers = ("charger", "mains-charger", "controller")
    placed = [
        name
        for name, part in zip(chargers, (parts.charger, parts.mains_charger, parts.controller), strict=True)
        if part
    ]
    table = {"programme": "lfp", "charge_v": 14.2, "float_v": 13.5}
    cutoff = {"open_v": 11.8, "close_v": 12.8, "delay_s": 60}
    return (
        *(block("[[setting]]", {"part": name, **table}) for name in placed),
        block("[load_cutoff]", cutoff, note="Low-voltage cut-off of the loads."),
        commented("Not asked: the vehicle's masses, sizes of places, how things are held, the mains side."),
    )

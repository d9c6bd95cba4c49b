"""Small jobs for the energy studies, written as job files and resolved against the shipped parts."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from ampwright.climate.series import SunSeries
from ampwright.job.design import Design
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import Catalogue, shipped_catalogue
from ampwright.validation import validated

HEAD = """
format = 1
[job]
id = "case"
title = "Case"
date = 2026-01-15
region = "uk-eu"
[vehicle]
description = "van"
system_v = 12
body_preset = "van-body-insulated"
[place]
name = "plain"
latitude_deg = 0.0
longitude_deg = 0.0
utc_offset_h = 0.0
ghi_kwh_m2_day = [5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0]
max_degc = [32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0, 32.0]
min_degc = [22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0]
figures_from = "made up"
[season]
month = 3
coldest_degc = 0.0
hottest_degc = 40.0
"""
USE = """
[use]
days = ["{days}"]
start_soc_frac = {soc}
[[day]]
id = "rest"
"""


@cache
def catalogue() -> Catalogue:
    return shipped_catalogue()


@pytest.fixture(scope="session")
def design_of() -> Callable[..., Design]:
    """Return a function that resolves TOML text; head and use are added unless given."""

    def build(
        body: str, *, head: str = HEAD, days: str = "3 x rest", soc: float = 0.9, use: str = USE
    ) -> Design:
        text = head + use.format(days=days, soc=soc) + body
        return resolve(validated(Job, tomllib.loads(text)), catalogue())

    return build


@pytest.fixture(scope="session")
def head_with() -> Callable[[str], str]:
    """Return a function that puts another vehicle into the head."""

    def build(vehicle: str) -> str:
        before, rest = HEAD.split("[vehicle]")
        return before + vehicle + "[place]" + rest.split("[place]")[1]

    return build


@pytest.fixture(scope="session")
def sun_of() -> Callable[..., SunSeries]:
    """Return a function that makes a day with the sun straight overhead path, without any library."""

    def build(
        kwh_m2: float = 5.0, *, low_degc: float = 25.0, high_degc: float = 25.0, steps: int = 96
    ) -> SunSeries:
        hour = (np.arange(steps) + 0.5) * 24.0 / steps
        shape = np.maximum(np.sin((hour - 6.0) / 12.0 * np.pi), 0.0)
        ghi = shape * kwh_m2 * 1000.0 / (shape.sum() * 24.0 / steps)
        elevation = 90.0 * np.sin((hour - 6.0) / 12.0 * np.pi)
        swing = 0.5 * (1.0 - np.cos((hour - 4.0) / 24.0 * 2.0 * np.pi))
        return SunSeries(
            start_day=80,
            day_count=1,
            steps_per_day=steps,
            ghi_w_m2=ghi,
            dni_w_m2=np.zeros(steps),
            dhi_w_m2=ghi,
            extra_normal_w_m2=np.full(steps, 1361.0),
            sun_elevation_deg=elevation,
            sun_azimuth_deg=np.where(hour < 12.0, 90.0, 270.0),
            ambient_degc=low_degc + (high_degc - low_degc) * swing,
        )

    return build

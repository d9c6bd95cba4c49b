"""Paths and loaded example jobs that several rooms' tests share."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from ampwright import api

EXAMPLES = Path(__file__).parent.parent / "src" / "ampwright" / "examples"


@cache
def _loaded(name: str) -> api.Loaded:
    return api.load(EXAMPLES / f"{name}.toml")


@pytest.fixture(scope="session")
def examples() -> Path:
    return EXAMPLES


@pytest.fixture(scope="session")
def loaded_example() -> Callable[[str], api.Loaded]:
    return _loaded

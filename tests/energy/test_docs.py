"""The page on energy names every term of the books; every choice the code refers to is explained."""

import re
from dataclasses import fields
from pathlib import Path

import pytest

from ampwright.energy.result import EnergyLedger

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", [field.name for field in fields(EnergyLedger)])
def test_page_names_every_term(name):
    assert f"`{name}`" in (ROOT / "docs/energy.md").read_text(encoding="utf-8")


def test_choices_are_explained_and_used():
    code = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "src/ampwright/energy").rglob("*.py"))
    used = set(re.findall(r"choices\.md#(energy-[a-z-]+)", code))
    explained = set(re.findall(r'<a id="(energy-[a-z-]+)">', (ROOT / "docs/choices.md").read_text("utf-8")))
    assert used == explained

"""docs/parts.md names every kind and every field, and its examples are read as they stand."""

import ast
import inspect
import re
import textwrap
from pathlib import Path

import pytest

from ampwright.field_types import field_hints
from ampwright.parts.base import PartBase, SuppliedPart
from ampwright.parts.catalogue import catalogue_with, shipped_catalogue
from ampwright.parts.face import Cutout, Hole
from ampwright.parts.inverter import OverloadPoint
from ampwright.parts.kinds import KINDS
from ampwright.parts.switchgear import OutputGroup
from ampwright.parts.tables import kinds
from ampwright.units import symbol

DOC = (Path(__file__).parents[2] / "docs" / "parts.md").read_text(encoding="utf-8")


def rows(kind):
    """Return the documentation rows of a record's own fields."""
    (body,) = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    found = []
    for field, text in zip(body.body, body.body[1:], strict=False):
        if isinstance(field, ast.AnnAssign) and isinstance(text, ast.Expr):
            name = field.target.id
            default = "needed" if field.value is None else f"`{ast.unparse(field.value)}`"
            unit = symbol(name) or "-"
            found.append(f"| `{name}` | {unit} | {default} | {ast.literal_eval(text.value)} |")
    return found


def section(title):
    found = re.search(rf"^### {re.escape(title)}\n(.*?)(?=^##|\Z)", DOC, re.MULTILINE | re.DOTALL)
    assert found, f"no section {title}"
    return found[1]


@pytest.mark.parametrize("name", sorted(kinds()))
def test_every_field_of_a_kind_stands_in_its_section(name):
    kind = kinds()[name]
    documented = section(name)
    own = [row for row in rows(kind) if not row.startswith("| `kind`")]
    shared = field_hints(SuppliedPart if issubclass(kind, SuppliedPart) else PartBase)
    assert len(own) == len(set(field_hints(kind)) - set(shared) - {"kind"})
    assert [row for row in own if row not in documented] == []


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("Common to all kinds", PartBase),
        ("Common to kinds with electronics", SuppliedPart),
        ("Output group", OutputGroup),
        ("Hole", Hole),
        ("Cutout", Cutout),
        ("Overload point", OverloadPoint),
    ],
)
def test_shared_fields_stand_in_their_section(title, kind):
    assert [row for row in rows(kind) if row not in section(title)] == []


def test_no_field_of_the_past_is_documented():
    known = {
        name for kind in (*KINDS, OutputGroup, OverloadPoint, Hole, Cutout) for name in field_hints(kind)
    }
    written = set(re.findall(r"^\| `([a-z0-9_]+)` \|", DOC, re.MULTILINE))
    assert written - known == set()


@pytest.mark.parametrize(("language", "name"), [("toml", "own.toml"), ("csv", "fuse.csv")])
def test_examples_are_read_as_they_stand(tmp_path, language, name):
    (text,) = re.findall(rf"```{language}\n(.*?)```", DOC, re.DOTALL)
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    base = shipped_catalogue()
    catalogue = catalogue_with(base, [path])
    assert any(catalogue.origin[part_id] == str(path) for part_id in catalogue.parts)


def test_shipped_count_is_told():
    assert f"{len(shipped_catalogue().parts)} parts" in DOC

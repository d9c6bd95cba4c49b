"""What a rule says is written as `said("...")`, so that it can be said in another language."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import ampwright.assessment

RULES = sorted(Path(ampwright.assessment.__file__).parent.glob("*.py"))
SPOKEN = {"message", "way_out", "caution"}
SAYS = {"said", "said_together", "all_of", "capital", "Source", "node_of", "placed"}
WORDS = re.compile(r"[^\W\d_]{2,} ?")


def unsaid(source: str) -> Iterator[str]:
    """Yield the texts of findings that are given as plain texts."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.keyword) and node.arg in SPOKEN:
            yield from _plain(node.value)
        if (
            isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and node.targets[0].id in SPOKEN
        ):
            yield from _plain(node.value)


def _plain(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in SAYS:
        return
    if isinstance(node, ast.JoinedStr):
        yield ast.unparse(node)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and WORDS.search(node.value):
        yield node.value
    elif isinstance(node, ast.IfExp | ast.BinOp | ast.BoolOp):
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.expr) and child is not getattr(node, "test", None):
                yield from _plain(child)


@pytest.mark.parametrize("path", RULES, ids=lambda path: path.stem)
def test_findings_are_said(path: Path) -> None:
    assert list(unsaid(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    "text",
    [
        'f(message="No isolator.")',
        'message = f"{part}: off"',
        'f(message=f"{part}: off")',
        'f(way_out="Mend it." if bad else "")',
    ],
)
def test_a_plain_text_is_found(text: str) -> None:
    assert len(list(unsaid(text))) == 1

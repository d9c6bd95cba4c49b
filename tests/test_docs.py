"""The documentation names what the program has, and says nothing it must not say."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md"), *(ROOT / "src").rglob("*.md")])


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#]+?)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        if "://" not in target:
            assert (page.parent / target).exists(), f"{page.name} -> {target}"


def test_decisions_are_short_and_numbered_without_gaps():
    decisions = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert [int(page.name[:3]) for page in decisions] == list(range(1, len(decisions) + 1))
    for page in decisions:
        assert len(page.read_text(encoding="utf-8").splitlines()) <= 30, page.name


def test_constraints_hold_names_and_versions_only():
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    wrong = [
        line for line in lines if line and not re.fullmatch(r"#.*|[A-Za-z0-9._-]+==[A-Za-z0-9.+]+", line)
    ]
    assert not wrong


def test_glossary_terms_exist_in_the_code():
    text = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "src").rglob("*.py"))
    rows = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8").splitlines()
    for row in rows:
        cells = [cell.strip() for cell in row.split("|")]
        if len(cells) < 5 or cells[1] in {"term", "---"}:
            continue
        for name in re.findall(r"`([^`]+)`", cells[2]):
            assert re.search(rf"\b{re.escape(name.split('.')[-1])}\b", text), name

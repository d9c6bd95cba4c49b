"""Every choice of our own that code refers to is explained in docs/choices.md."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "docs" / "choices.md").read_text(encoding="utf-8")
ANCHORS = set(re.findall(r'<a id="([a-z0-9-]+)"></a>', TEXT))


def _source_texts() -> dict[str, str]:
    return {
        str(path.relative_to(ROOT)): path.read_text(encoding="utf-8")
        for path in (ROOT / "src").rglob("*")
        if path.suffix in {".py", ".csv", ".toml"}
    }


def test_every_own_choice_has_its_anchor() -> None:
    named = {
        anchor
        for text in _source_texts().values()
        for anchor in re.findall(r'own_choice\(\s*"([a-z0-9-]+)"', text)
    }
    assert len(named) >= 6
    assert named <= ANCHORS, named - ANCHORS


def test_every_mention_of_the_page_leads_to_an_anchor() -> None:
    named = {
        anchor
        for text in [*_source_texts().values(), TEXT]
        for anchor in re.findall(r"choices\.md#([a-z0-9-]+)", text)
    }
    assert named
    assert named <= ANCHORS, named - ANCHORS


def test_no_anchor_twice() -> None:
    listed = re.findall(r'<a id="([a-z0-9-]+)"></a>', TEXT)
    assert len(listed) == len(set(listed))

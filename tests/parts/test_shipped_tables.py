from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest

from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.shipped_tables import shipped_tables
from ampwright.parts.tables import kinds


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(tmp_path / "cache"))
    return tmp_path / "cache"


def from_toml():
    data = files("ampwright.parts") / "data"
    return {
        name: tomllib.loads((data / f"{name}.toml").read_text(encoding="utf-8"))["part"] for name in kinds()
    }


def test_the_copy_is_what_the_toml_says(folder):
    first = shipped_tables(kinds())
    assert len(list(folder.iterdir())) == 1
    second = shipped_tables(kinds())
    # whole numbers and decimals are told apart by their text
    assert repr(first) == repr(second) == repr(from_toml())


def test_the_catalogue_is_the_same_from_the_copy(folder):
    first = shipped_catalogue()
    assert folder.exists()
    second = shipped_catalogue()
    assert repr(first) == repr(second)


@pytest.mark.parametrize("content", ["", "{", "[]", "{}", "null", "\x00", '{"battery": []}'])
def test_a_damaged_copy_costs_time_only(folder, content):
    shipped_tables(kinds())
    (copy,) = folder.iterdir()
    copy.write_text(content, encoding="utf-8")
    assert shipped_tables(kinds()) == from_toml()
    assert shipped_tables(kinds()) == from_toml()
    assert list(folder.iterdir()) == [copy]


def test_other_kinds_are_another_copy(folder):
    shipped_tables(["battery"])
    shipped_tables(["fuse"])
    assert len(list(folder.iterdir())) == 2


def test_a_folder_that_cannot_be_made_costs_time_only(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv("AMPWRIGHT_CACHE_DIR", str(tmp_path / "file"))
    assert shipped_tables(["battery"])["battery"]
    assert [each.name for each in tmp_path.iterdir()] == ["file"]

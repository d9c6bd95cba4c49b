"""What the workshop keeps for all its jobs, in the data folder: read once, and again after every change of a file."""

from __future__ import annotations

import os
import threading
from pathlib import Path

from ampwright.errors import AmpwrightError
from ampwright.job.workshop import MODULES, PARTS, Workshop, load_workshop, workshop_stamp
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.records import record

__all__ = ["Shelf", "Stock", "write_whole"]


@record
class Stock:
    """What is kept at one moment."""

    workshop: Workshop
    """Parts and modules; only what is shipped where a file is wrong."""
    stamp: str
    """Tells one content from another; empty where nothing is kept."""
    error: AmpwrightError | None = None
    """What is wrong in a file, put there by hand."""


class Shelf:
    """The workshop's folder, and what was read of it last."""

    def __init__(self) -> None:
        """Begin with nothing read."""
        self._lock = threading.Lock()
        self._folder: Path | None = None
        self._stock: Stock | None = None

    def stock(self, folder: Path) -> Stock:
        """Return what is kept in a folder now."""
        for kind in (PARTS, MODULES):
            (folder / kind).mkdir(parents=True, exist_ok=True)
        stamp = workshop_stamp(folder)
        with self._lock:
            if self._stock is None or self._folder != folder or self._stock.stamp != stamp:
                self._folder, self._stock = folder, _read(folder, stamp)
            return self._stock


def _read(folder: Path, stamp: str) -> Stock:
    try:
        return Stock(workshop=load_workshop(folder), stamp=stamp)
    except AmpwrightError as error:
        return Stock(workshop=Workshop(catalogue=shipped_catalogue()), stamp=stamp, error=error)


def write_whole(path: Path, text: str) -> None:
    """Write a file beside its name and move it there, so that nobody reads half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = path.with_name(f".{path.name}.new")
    with fresh.open("w", encoding="utf-8", newline="\n") as stream:
        stream.write(text)
        stream.flush()
        os.fsync(stream.fileno())
    fresh.replace(path)

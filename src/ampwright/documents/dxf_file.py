"""Drawing exchange files: a new drawing in millimetres, and its bytes, the same each time."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ezdxf.document import Drawing

__all__ = ["dxf_bytes", "new_dxf"]

MILLIMETRES = 4
"""Code of the unit (DXF reference, header variable $INSUNITS)."""


def new_dxf(layers: dict[str, int]) -> Drawing:
    """Return an empty drawing in millimetres with layers by name and colour number."""
    from ezdxf.filemanagement import new  # noqa: PLC0415 - heavy, and only drawings need it

    with _fixed_marks():
        drawing = new("R2010", setup=False)
    drawing.header["$INSUNITS"] = MILLIMETRES
    drawing.header["$MEASUREMENT"] = 1
    for name, colour in layers.items():
        drawing.layers.add(name, color=colour)
    return drawing


def dxf_bytes(drawing: Drawing) -> bytes:
    """Return the file, the same each time for the same drawing."""
    stream = io.StringIO()
    # the library goes through a set here, whose order changes from process to process
    for name in sorted(drawing.entitydb.dxf_types_in_use()):
        drawing.classes.add_class(name)
    with _fixed_marks():
        drawing.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _fixed_marks() -> Iterator[None]:
    """Hold the library's time of day and random marks fixed."""
    from ezdxf._options import options  # noqa: PLC0415 - heavy; the library names it ezdxf.options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before

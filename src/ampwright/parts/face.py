"""The face a part is mounted on: how large it is, what is drilled for it, and what is cut out where it looks through."""

from __future__ import annotations

from typing import Literal, Protocol

from ampwright.records import NonNegative, Positive, record

__all__ = ["Cutout", "Face", "Hole", "face_depth_mm", "face_size_mm"]

Face = Literal["", "length-width", "length-height", "width-height"]
"""The two dimensions of the mounting face, the first to the right, the second upwards; "" = the two largest."""


@record
class Hole:
    """One hole drilled for a part."""

    x_mm: NonNegative
    """Middle from the left edge of its face."""
    y_mm: NonNegative
    """Middle from the lower edge of its face."""
    diameter_mm: Positive
    """Diameter of the drill."""


@record
class Cutout:
    """The opening a part looks through."""

    shape: Literal["round", "rectangle"]
    """Round, or a rectangle."""
    x_mm: NonNegative
    """Middle from the left edge of its face."""
    y_mm: NonNegative
    """Middle from the lower edge of its face."""
    width_mm: Positive
    """Width; the diameter where it is round."""
    height_mm: Positive
    """Height; the diameter where it is round."""
    corner_mm: NonNegative = 0.0
    """Radius of a rectangle's corners."""


class Sized(Protocol):
    """What has three outside dimensions and a mounting face."""

    @property
    def length_mm(self) -> float: ...
    @property
    def width_mm(self) -> float: ...
    @property
    def height_mm(self) -> float: ...
    @property
    def face(self) -> Face: ...


def face_size_mm(part: Sized) -> tuple[float, float] | None:
    """Return width and height of the mounting face; None where a dimension is not stated."""
    sizes = {"length": part.length_mm, "width": part.width_mm, "height": part.height_mm}
    if any(size <= 0.0 for size in sizes.values()):
        return None
    if part.face:
        first, second = part.face.split("-")
        return sizes[first], sizes[second]
    kept = sorted(sizes, key=lambda name: (-sizes[name], list(sizes).index(name)))[:2]
    first, second = (name for name in sizes if name in kept)
    return sizes[first], sizes[second]


def face_depth_mm(part: Sized) -> float | None:
    """Return how far a part stands out from its face; None where a dimension is not stated."""
    face = face_size_mm(part)
    if face is None:
        return None
    return part.length_mm * part.width_mm * part.height_mm / (face[0] * face[1])

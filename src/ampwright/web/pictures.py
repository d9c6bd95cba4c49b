"""A photo as it comes from a phone becomes a picture that holds nothing but its dots.

It is decoded and written anew: place, time and device of the camera go, and so does whatever else a file could carry.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext

from ampwright.errors import FileError
from ampwright.records import record

__all__ = ["PHOTO_BYTES", "Picture", "is_bare", "kept_picture", "picture_of"]

PHOTO_BYTES = 20_000_000
"""Largest photo taken; phones make 3 to 12 MB (our own choice)."""
PIXEL_COUNT = 60_000_000
"""Most dots taken: a camera of 50 megapixels stays below (our own choice)."""
LONG_SIDE_PX = 2560
SMALL_SIDE_PX = 480
"""Longest side kept, to read a label by, and in a list (our own choices)."""
QUALITY = 85
"""Quality of the JPEG written (our own choice): below what the eye tells apart at this size."""
KINDS = ("JPEG", "PNG", "WEBP")
SCAN = 0xDA
BARE_MARKERS = frozenset(bytes([marker]) for marker in (0xE0, 0xDB, 0xC0, 0xC4, SCAN))
"""JFIF, quantisation, frame, Huffman tables, scan: all that this program writes (T.81, table B.1)."""


@record
class Picture:
    """A picture made anew."""

    content: bytes
    """JPEG."""
    small: bytes
    """The same for lists."""
    width_px: int
    """Dots from left to right."""
    height_px: int
    """Dots from top to bottom."""


def kept_picture(content: bytes) -> Picture:
    """Return a picture that this program wrote before as it is; anything else is made anew."""
    made = picture_of(content)
    is_ours = is_bare(content) and max(made.width_px, made.height_px) <= LONG_SIDE_PX
    return replace(made, content=content) if is_ours else made


def is_bare(content: bytes) -> bool:
    """Say whether a JPEG holds nothing but its dots: no camera's data, no comment, nothing behind its end.

    Segments as in ITU-T T.81 (1992), annex B: each of those allowed has a marker and a length.
    """
    place = 2
    if content[:2] != b"\xff\xd8" or content[-2:] != b"\xff\xd9":
        return False
    while content[place : place + 1] == b"\xff" and content[place + 1 : place + 2] in BARE_MARKERS:
        is_scan = content[place + 1] == SCAN
        place += 2 + int.from_bytes(content[place + 2 : place + 4], "big")
        if is_scan:
            return content.find(b"\xff\xd9", place) == len(content) - 2
    return False


def picture_of(content: bytes) -> Picture:
    """Return a photo upright, in usual size, with nothing beside its dots.

    Raises
    ------
    FileError
        Where it is no picture of a kind taken here, too large, or damaged.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError  # noqa: PLC0415 - heavy

    if len(content) > PHOTO_BYTES:
        most = gettext("the photo has more than {count} MB; let the camera make a smaller one")
        raise FileError(most.format(count=f"{PHOTO_BYTES / 1e6:g}"))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # told below in our own words
            image: Image.Image = Image.open(io.BytesIO(content), formats=KINDS)
        if image.width * image.height > PIXEL_COUNT:
            raise FileError(_too_many())
        image.draft("RGB", (LONG_SIDE_PX, LONG_SIDE_PX))  # a JPEG is read in a size near the wanted one
        image = _flat(ImageOps.exif_transpose(image))
        image.thumbnail((LONG_SIDE_PX, LONG_SIDE_PX))
        small = image.copy()
        small.thumbnail((SMALL_SIDE_PX, SMALL_SIDE_PX))
    except UnidentifiedImageError:
        raise FileError(gettext("this is no photo that can be read; take a JPEG, PNG or WebP file")) from None
    except Image.DecompressionBombError:
        raise FileError(_too_many()) from None
    except (OSError, SyntaxError, ValueError, EOFError):  # what the decoders raise on damaged files
        raise FileError(gettext("the photo is damaged; send it once more")) from None
    return Picture(content=_jpeg(image), small=_jpeg(small), width_px=image.width, height_px=image.height)


def _too_many() -> str:
    most = gettext("the photo has more than {count} megapixels; let the camera make a smaller one")
    return most.format(count=f"{PIXEL_COUNT / 1e6:g}")


def _flat(image: Any) -> Any:
    """Return a picture of three colours; what was see-through is white."""
    from PIL import Image  # noqa: PLC0415 - heavy

    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        seen = image.convert("RGBA")
        white = Image.new("RGB", seen.size, "white")
        white.paste(seen, mask=seen.getchannel("A"))
        return white
    return image.convert("RGB")


def _jpeg(image: Any) -> bytes:
    """Return a picture as JPEG, from its dots alone."""
    from PIL import Image  # noqa: PLC0415 - heavy

    bare = Image.new("RGB", image.size)
    bare.paste(image)
    stream = io.BytesIO()
    bare.save(stream, "JPEG", quality=QUALITY, optimize=True)
    return stream.getvalue()

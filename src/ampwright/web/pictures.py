"""A photo as it comes from a phone becomes a picture that holds nothing but its dots.

It is decoded and written anew: place, time and device of the camera go, and so does whatever else a file could carry.
"""

from __future__ import annotations

import io
import warnings
from typing import Any

from django.utils.translation import gettext

from ampwright.errors import FileError
from ampwright.records import record

__all__ = ["PHOTO_BYTES", "Picture", "picture_of"]

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

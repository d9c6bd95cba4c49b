"""Photos as phones make them, drawn here."""

from __future__ import annotations

import io

from PIL import Image

PLACE = {1: "N", 2: (52.0, 24.0, 7.0), 3: "E", 4: (13.0, 3.0, 51.0)}
"""Latitude and longitude as a camera writes them (Exif 2.32, table 15)."""


def photo(kind="JPEG", size=(400, 300), orientation=1, **words):
    """Return a picture, red on its left half and blue on its right, with what a phone writes beside it."""
    image = Image.new("RGB", size, "blue")
    image.paste("red", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "Maker of the camera"
    exif.get_ifd(0x8825).update(PLACE)
    stream = io.BytesIO()
    image.save(stream, kind, exif=exif, **words)
    return stream.getvalue()


def sent(content, name="photo.jpg"):
    from django.core.files.uploadedfile import SimpleUploadedFile  # noqa: PLC0415 - once Django is set up

    return SimpleUploadedFile(name, content, content_type="image/jpeg")

"""A photo becomes a picture of the usual size, upright, with nothing beside its dots."""

import io
import struct
import zlib

import pytest
from photo_files import photo
from PIL import Image

from ampwright.errors import FileError
from ampwright.web.pictures import LONG_SIDE_PX, PHOTO_BYTES, SMALL_SIDE_PX, picture_of


def opened(content):
    return Image.open(io.BytesIO(content))


def is_red(pixel):
    return pixel[0] > 200 and pixel[2] < 60


def is_blue(pixel):
    return pixel[2] > 200 and pixel[0] < 60


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_place_camera_and_comments_go(kind):
    content = photo(kind)
    assert b"Maker of the camera" in content
    made = picture_of(content)
    for each in (made.content, made.small):
        image = opened(each)
        assert image.format == "JPEG"
        assert not image.getexif()
        assert b"Maker" not in each
        assert b"Exif" not in each
        assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_what_hangs_behind_a_picture_goes():
    made = picture_of(photo() + b"<script>alert(1)</script><?php ?>")
    assert b"script" not in made.content


@pytest.mark.parametrize(
    ("orientation", "size", "red_at"),
    [
        (1, (400, 300), (100, 150)),
        (3, (400, 300), (300, 150)),
        (6, (300, 400), (150, 100)),
        (8, (300, 400), (150, 300)),
    ],
)
def test_it_stands_upright(orientation, size, red_at):
    """Orientation as Exif 2.32 says it: 6 = the row 0 is the right side, 8 = the left side."""
    made = picture_of(photo(orientation=orientation))
    image = opened(made.content)
    assert image.size == size == (made.width_px, made.height_px)
    assert is_red(image.getpixel(red_at))
    assert is_blue(image.getpixel((size[0] - 1 - red_at[0], size[1] - 1 - red_at[1])))


def test_a_large_one_becomes_smaller_and_keeps_its_shape():
    made = picture_of(photo(size=(6000, 3000)))
    assert (made.width_px, made.height_px) == (LONG_SIDE_PX, LONG_SIDE_PX // 2)
    assert opened(made.small).size == (SMALL_SIDE_PX, SMALL_SIDE_PX // 2)
    assert len(made.content) < 300_000


def test_what_is_see_through_is_white():
    stream = io.BytesIO()
    Image.new("RGBA", (40, 40), (255, 0, 0, 0)).save(stream, "PNG")
    assert min(opened(picture_of(stream.getvalue()).content).getpixel((20, 20))) > 250


@pytest.mark.parametrize("mode", ["L", "P", "CMYK", "1", "I;16"])
def test_other_kinds_of_colours_are_taken(mode):
    stream = io.BytesIO()
    Image.new(mode, (40, 40)).save(stream, "JPEG" if mode == "CMYK" else "PNG")
    assert opened(picture_of(stream.getvalue()).content).mode == "RGB"


def bomb(side_px):
    """Return a PNG of a few kB that says it has many dots (PNG, third edition, chunks IHDR and IDAT)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side_px, side_px, 1, 0, 0, 0, 0)
    rows = zlib.compress(b"\0" * 1_000_000, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "no photo"),
        (b"GIF89a" + b"\0" * 50, "no photo"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", "no photo"),
        (b"%PDF-1.7", "no photo"),
        (bomb(8_000), "60 megapixels"),
        (bomb(10_000), "60 megapixels"),
        (bomb(60_000), "60 megapixels"),
        (photo()[:-900], "damaged"),
        (photo("PNG")[:-60], "damaged"),
        (b"\xff\xd8\xff" + b"\0" * 100, "photo"),
        (b"\0" * (PHOTO_BYTES + 1), "20 MB"),
    ],
    ids=lambda each: str(each[:12]),
)
def test_what_is_no_good_photo_is_refused_in_one_sentence(content, words):
    with pytest.raises(FileError, match=words):
        picture_of(content)

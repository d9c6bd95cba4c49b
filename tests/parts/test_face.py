import dataclasses

import pytest

from ampwright.parts.catalogue import shipped_catalogue
from ampwright.parts.consistency import contradictions
from ampwright.parts.face import Cutout, Hole, face_depth_mm, face_size_mm

PART = shipped_catalogue().find("outlet-dc-15")  # 60 x 40 x 40 mm


def test_face_is_the_two_largest_or_as_named():
    assert face_size_mm(PART) == (60.0, 40.0)
    assert face_size_mm(dataclasses.replace(PART, face="width-height")) == (40.0, 40.0)
    assert face_depth_mm(dataclasses.replace(PART, face="width-height")) == 60.0
    assert face_size_mm(dataclasses.replace(PART, height_mm=0.0)) is None


def test_largest_two_keep_their_order():
    tall = dataclasses.replace(PART, length_mm=30.0, width_mm=80.0, height_mm=90.0, holes=(), cutout=None)
    assert face_size_mm(tall) == (80.0, 90.0)
    assert face_depth_mm(tall) == 30.0


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"holes": (Hole(x_mm=1, y_mm=20, diameter_mm=4),)}, "leaves the face of 60 x 40 mm"),
        ({"cutout": Cutout(shape="round", x_mm=30, y_mm=20, width_mm=50, height_mm=50)}, "leaves the face"),
        ({"cutout": Cutout(shape="round", x_mm=30, y_mm=20, width_mm=20, height_mm=22)}, "as wide as high"),
        (
            {"cutout": Cutout(shape="rectangle", x_mm=30, y_mm=20, width_mm=20, height_mm=20, corner_mm=11)},
            "half of the shorter side",
        ),
        ({"height_mm": 0.0}, "give all three dimensions"),
    ],
)
def test_drilling_that_cannot_be_is_told(change, words):
    said = [message for _, message in contradictions(dataclasses.replace(PART, **change))]
    assert any(words in message for message in said)


def test_shipped_drilling_is_sound():
    drilled = [part for part in shipped_catalogue().parts.values() if part.holes or part.cutout]
    assert len(drilled) > 50
    assert [list(contradictions(part)) for part in drilled if list(contradictions(part))] == []

from typing import get_args, get_type_hints

import pytest

from ampwright.errors import TableError
from ampwright.job.design_zone import DesignZone
from ampwright.standards.mounting_places import mounting_place

KINDS = get_args(get_type_hints(DesignZone)["kind"])


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_zone_has_its_row_with_a_standing(kind):
    place = mounting_place(kind)
    assert place.source.standing == "common practice"
    assert place.vibration_class in {"stationary", "body", "engine", "wheel"}


def test_water_is_asked_for_where_it_is_thrown():
    wet = {kind for kind in KINDS if mounting_place(kind).water_digit == 5}
    assert wet == {"roof", "outside", "underbody", "engine"}


def test_only_the_engine_space_shakes_like_an_engine_unless_said():
    assert {kind for kind in KINDS if mounting_place(kind).vibration_class == "engine"} == {"engine"}


def test_an_unknown_place_is_refused():
    with pytest.raises(TableError, match="place 'cellar'"):
        mounting_place("cellar")

"""Every region has every field, each with a source; the figures are those of the documents."""

import dataclasses
import re
from pathlib import Path

import pytest

from ampwright.errors import TableError
from ampwright.standards.csv_table import STANDINGS
from ampwright.standards.regions import REGIONS, RegionRules, region_rules

CHOICES = (Path(__file__).parents[3] / "docs" / "choices.md").read_text(encoding="utf-8")
FIELDS = [field.name for field in dataclasses.fields(RegionRules) if field.name not in {"name", "entries"}]
MAY_BE_NONE = {"plug_fuse_a", "battery_vent_mm2", "gas_cable_height_m"}


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("field", FIELDS)
def test_every_field_has_a_value_and_a_source(region, field):
    rules = region_rules(region)
    value, source = getattr(rules, field), rules.source(field)
    assert source.document
    assert source.standing in STANDINGS
    if value is None:
        assert field in MAY_BE_NONE
        assert rules.note(field)
    else:
        assert value not in ((), "")


@pytest.mark.parametrize("region", REGIONS)
def test_numbers_are_positive_floats(region):
    for field in dataclasses.fields(RegionRules):
        value = getattr(region_rules(region), field.name)
        if not re.search(r"Positive|Fraction", str(field.type)) or value is None:
            continue
        for number in value if isinstance(value, tuple) else (value,):
            assert isinstance(number, float)
            assert number > 0.0


@pytest.mark.parametrize("region", REGIONS)
def test_own_choices_are_explained(region):
    for entry in region_rules(region).entries:
        if entry.source.document.startswith("Ampwright"):
            assert f'<a id="{entry.source.place}"></a>' in CHOICES, entry.field


@pytest.mark.parametrize("region", REGIONS)
def test_caution_begins_below_the_limit_and_a_sheath_never_shortens(region):
    rules = region_rules(region)
    assert rules.caution_dc_v < rules.limit_dc_v
    assert rules.battery_device_bare_m < rules.battery_device_sheathed_m
    assert rules.source_device_bare_m < rules.source_device_sheathed_m
    assert rules.smallest_sheathed_mm2 < rules.smallest_separate_mm2


@pytest.mark.parametrize("region", REGIONS)
def test_words_defer_to_the_local_code(region):
    words = region_rules(region).licensed_words
    assert re.search(r"local code decides|authority having jurisdiction decides", words)
    assert region_rules(region).licensed_person in words


@pytest.mark.parametrize(
    ("region", "field", "value"),
    [
        # 7, 40 and 72 inch of 25.4 mm
        ("us-ca", "battery_device_bare_m", 0.1778),
        ("us-ca", "source_device_sheathed_m", 1.016),
        ("us-ca", "battery_device_sheathed_m", 1.8288),
        # ASTM B258: pi/4 (0.127 mm 92^((36-n)/39))^2, n = 16 and 18
        ("us-ca", "smallest_separate_mm2", 1.3087),
        ("us-ca", "smallest_sheathed_mm2", 0.8230),
        # ISO 10133, 7.7
        ("uk-eu", "smallest_separate_mm2", 1.0),
        ("au-nz", "smallest_sheathed_mm2", 0.75),
        # AS/NZS 3001.2, 5.4
        ("au-nz", "battery_device_bare_m", 0.2),
        ("au-nz", "battery_device_sheathed_m", 1.0),
        ("au-nz", "mains_v", 230.0),
        ("uk-eu", "mains_hz", 50.0),
        ("us-ca", "mains_v", 120.0),
        ("us-ca", "caution_dc_v", 50.0),
    ],
)
def test_figures_are_those_of_the_documents(region, field, value):
    assert getattr(region_rules(region), field) == value


def test_an_unknown_region_is_refused():
    with pytest.raises(TableError, match="use one of au-nz, uk-eu, us-ca"):
        region_rules("nowhere")


def test_a_figure_from_memory_says_so_in_print():
    assert str(region_rules("us-ca").source("battery_device_sheathed_m")).endswith("(from memory)")

"""Shipped tables can be read and say where they come from."""

from importlib.resources import files

import pytest

from ampwright.errors import TableError
from ampwright.standards.csv_table import STANDINGS, table_rows, weakest_standing
from ampwright.units import unit_suffix

TABLES = [
    ("ampwright.standards.din_46235", "lugs.csv", 16),
    ("ampwright.standards.en_1993_1_8", "bolts.csv", 5),
    ("ampwright.standards.mounting_places", "places.csv", 7),
    ("ampwright.standards.cfr_33_183", "table_5.csv", 15),
    ("ampwright.standards.cfr_33_183", "note_1.csv", 7),
    ("ampwright.standards.cfr_33_183", "note_2.csv", 5),
    ("ampwright.standards.cfr_33_183", "device_distance.csv", 4),
    ("ampwright.standards.device_bands", "classes.csv", 10),
    ("ampwright.standards.device_bands", "opening.csv", 45),
    ("ampwright.standards.device_bands", "rerating.csv", 23),
    ("ampwright.standards.iec_60228", "resistance.csv", 16),
    ("ampwright.standards.mains_supply", "leads.csv", 10),
    ("ampwright.standards.mains_supply", "plugs.csv", 10),
    ("ampwright.standards.iso_8820", "opening.csv", 22),
    ("ampwright.standards.iso_8820", "families.csv", 5),
]
FILES = [table[:2] for table in TABLES]


@pytest.mark.parametrize(("package", "file", "row_count"), TABLES)
def test_table_rows_reads_every_row(package, file, row_count):
    rows = table_rows(package, file)
    assert len(rows) == row_count
    assert all(None not in row and None not in row.values() for row in rows)


@pytest.mark.parametrize(("package", "file"), FILES)
def test_every_table_names_document_edition_place_and_standing(package, file):
    comments = [
        line for line in files(package).joinpath(file).read_text("utf-8").splitlines() if line.startswith("#")
    ]
    for word in ("Document:", "Edition:", "Place:", "Standing:"):
        assert sum(word in line for line in comments) == 1


@pytest.mark.parametrize(("package", "file"), FILES)
def test_standing_of_every_row_is_a_known_word(package, file):
    for row in table_rows(package, file):
        assert all(text in STANDINGS for name, text in row.items() if name.endswith("standing"))


def test_every_table_of_the_room_is_listed():
    root = files("ampwright.standards")
    found = {
        (f"ampwright.standards.{package.name}", file.name)
        for package in root.iterdir()
        if package.is_dir()
        for file in package.iterdir()
        if file.name.endswith(".csv")
    }
    assert found == set(FILES)


@pytest.mark.parametrize(("package", "file"), FILES)
def test_number_columns_end_in_a_known_unit(package, file):
    words = {
        "awg",
        "device_class",
        "family",
        "document",
        "edition",
        "place",
        "is_battery_connected",
        "is_sheathed",
        "limit_in",
        "type",
        "sold_as",
        "reason",
        "regions",
        "vibration_class",
        "water_digit",
        "region",
    }
    for name in table_rows(package, file)[0]:
        assert name in words or name.endswith("standing") or unit_suffix(name) is not None


def test_weakest_standing_is_the_last_of_the_list():
    assert weakest_standing("read") == "read"
    assert weakest_standing("second hand", "read") == "second hand"
    assert weakest_standing(*STANDINGS) == "from memory"


@pytest.mark.parametrize("standings", [(), ("rumour",), ("read", "")])
def test_weakest_standing_refuses_unknown_words(standings):
    with pytest.raises(TableError, match="use one of"):
        weakest_standing(*standings)

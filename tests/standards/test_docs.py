"""The page on standards says what the code does."""

import re
from pathlib import Path

import pytest

from ampwright.standards.csv_table import STANDINGS
from ampwright.standards.iso_8820 import FAMILIES, load_limits, opening_limits

PAGE = (Path(__file__).parents[2] / "docs" / "standards.md").read_text(encoding="utf-8")


def test_example_file_of_the_page_can_be_loaded(tmp_path):
    (example,) = re.findall(r"```csv\n(.*?)```", PAGE, flags=re.DOTALL)
    path = tmp_path / "own.csv"
    path.write_text(example, encoding="utf-8")
    points = load_limits(path)
    assert opening_limits("ul-248-15-t", points=points).source.document == "user file own.csv"


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_is_on_the_page(family):
    assert f"`{family}`" in PAGE


@pytest.mark.parametrize("standing", STANDINGS)
def test_every_standing_is_explained(standing):
    assert f"| {standing} |" in PAGE


@pytest.mark.parametrize(
    "package",
    [
        "astm_b258",
        "cfr_33_183",
        "device_bands",
        "din_vde_0298_3",
        "en_1993_1_8",
        "iec_60228",
        "iec_60364_4_43",
        "iec_60949",
        "iso_8820",
        "regions",
    ],
)
def test_every_package_is_on_the_page(package):
    assert f"| `{package}` |" in PAGE

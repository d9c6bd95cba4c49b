"""The packages of this room export what they say, and every source they give is usable."""

from importlib import import_module

import pytest

PACKAGES = (
    "astm_b258",
    "cfr_33_183",
    "device_bands",
    "din_vde_0298_3",
    "en_1993_1_8",
    "iec_60228",
    "iec_60364_4_43",
    "iec_60949",
    "iso_8820",
    "mounting_places",
    "regions",
    "own_tables",
)


@pytest.mark.parametrize("name", PACKAGES)
def test_all_is_what_is_there(name):
    package = import_module(f"ampwright.standards.{name}")
    public = {
        key
        for key, value in vars(package).items()
        if not key.startswith("_") and not hasattr(value, "__path__") and type(value).__name__ != "module"
    }
    assert set(package.__all__) == public
    assert list(package.__all__) == sorted(
        package.__all__, key=lambda key: (not key.isupper(), not key[0].isupper(), key)
    )

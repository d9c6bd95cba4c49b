from ampwright.units import SYMBOL_BY_SUFFIX, degf_from_degc, inch_from_mm, symbol, unit_suffix


def test_longest_suffix_wins():
    assert unit_suffix("resistance_ohm_per_km") == "ohm_per_km"
    assert symbol("resistance_ohm_per_km") == "Ω/km"


def test_a_name_without_unit_has_none():
    assert unit_suffix("voltage") is None
    assert symbol("voltage") == ""
    assert unit_suffix("a") is None


def test_temperature_and_length_conversions_meet_their_definitions():
    assert degf_from_degc(0.0) == 32.0
    assert degf_from_degc(-40.0) == -40.0
    assert inch_from_mm(25.4) == 1.0


def test_symbols_are_printable():
    assert all(text.isprintable() for text in SYMBOL_BY_SUFFIX.values())

from ampwright.documents.sheet.figures import limits, plus_minus
from ampwright.documents.words.words import english, load_words


def plain(text):
    return text.replace("\u00a0", " ")


def test_prediction_and_tolerance_end_at_the_same_place():
    assert plain(plus_minus(english(), 0.04332, 0.0060, "Ω")) == "43.3 ± 6.0 mΩ"
    assert plain(plus_minus(english(), 40.0, 2.636, "A")) == "40.0 ± 2.6 A"
    assert plain(plus_minus(english(), 30.77, 11.2, "A")) == "31 ± 11 A"


def test_limits_take_the_unit_of_the_prediction():
    assert plain(limits(english(), None, 0.1013, unit="A", spread=0.026, like=0.075)) == "at most 101 mA"
    assert plain(limits(english(), 12.84, 13.28, unit="V", spread=0.22, like=13.06)) == "12.84 to 13.28 V"
    assert plain(limits(english(), 100.0, None, unit="Ω", spread=10.0, like=10.0)) == "at least 100 Ω"


def test_negative_limits_and_german_commas():
    assert plain(limits(load_words("de"), -0.1, 1.6, unit="V", spread=1.0)).count(",") == 2

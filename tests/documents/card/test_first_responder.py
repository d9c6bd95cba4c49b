import pytest
from materials import material

from ampwright.documents.card.first_responder import responder_card
from ampwright.documents.card.isolation import live_sources


def test_sources_of_the_truck_and_what_cuts_them():
    found = material("bicycle-repair-truck")
    sources = {source.id: source for source in live_sources(found.design, found.words)}
    assert set(sources) == {"battery", "starter-battery", "panel", "inverter"}
    assert sources["battery"].switches == ("S1 at battery (cable W1)",)
    assert sources["starter-battery"].switches == ()


def test_mains_comes_first_and_panels_last():
    card = responder_card(material("base-mains"))
    ids = [step.what for step in card.steps]
    assert ids[0] == "Mains inlet"
    steps = responder_card(material("night-survey-van")).steps
    assert steps[-1].what.startswith("Solar panels")


def test_panels_are_never_said_to_be_off():
    card = responder_card(material("night-survey-van"))
    panels = next(step for step in card.steps if step.id == "panels")
    assert "only in the dark" in panels.action


def test_battery_says_what_it_holds():
    (own, vehicle) = responder_card(material("night-survey-van")).batteries
    assert own.energy.replace("\u202f", "").replace("\u00a0", " ") == "1200 Wh at 12 V"
    assert vehicle.energy.replace("\u00a0", " ") == "80 Ah at 12 V"


@pytest.mark.parametrize("language", ["en", "de"])
def test_card_is_one_page_of_text(language):
    card = responder_card(material("base-24v", language=language))
    assert card.steps
    assert card.batteries
    assert all(step.action for step in card.steps)

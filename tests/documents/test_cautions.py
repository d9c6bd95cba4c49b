import dataclasses

import pytest
from answers import design

from ampwright.assessment.charging import IDLING
from ampwright.documents.cautions import (
    ENGINE,
    GENERATOR,
    HEAVY,
    LEAD_GAS,
    LIFT_KG,
    LITHIUM,
    MAINS,
    REPORT_LIMITS,
    STARTER,
    SUN,
    hazards,
    short_caution,
)
from ampwright.documents.words.words import english
from ampwright.job.design_zone import DesignZone
from ampwright.job.mains import Mains, MainsSupply
from ampwright.job.vehicle import Zone
from ampwright.parts.catalogue import shipped_catalogue


def with_parts(given, *ids):
    catalogue = shipped_catalogue()
    parts = tuple(dataclasses.replace(given.parts[0], part=catalogue.find(part_id)) for part_id in ids)
    return dataclasses.replace(given, parts=parts)


def test_hazards_follow_what_the_job_holds():
    first, *others = hazards(design(), english())
    assert first == f"{MAINS} {design().region.licensed_words}"
    assert others == [LITHIUM, IDLING, ENGINE, STARTER, HEAVY.format(limit=LIFT_KG)]


def test_lead_acid_brings_gas_instead_of_lithium():
    told = hazards(with_parts(design(), "agm-100"), english())
    assert LEAD_GAS in told
    assert LITHIUM not in told
    assert not any(text.startswith(MAINS) for text in told)


def test_panels_are_live_in_light():
    panel = next(part.id for part in shipped_catalogue().parts.values() if part.kind == "panel")
    assert SUN in hazards(with_parts(design(), panel), english())


def test_ac_outlet_is_mains_and_dc_outlet_is_not():
    outlets = {part.supply: part.id for part in shipped_catalogue().parts.values() if part.kind == "outlet"}
    assert any(
        text.startswith(MAINS) for text in hazards(with_parts(design(), "lfp-100", outlets["ac"]), english())
    )
    assert not any(
        text.startswith(MAINS) for text in hazards(with_parts(design(), "lfp-100", outlets["dc"]), english())
    )


def test_no_engine_no_exhaust():
    given = design()
    still = dataclasses.replace(
        given, plans=tuple(dataclasses.replace(plan, periods=()) for plan in given.plans)
    )
    assert IDLING not in hazards(still, english())


def test_generator_brings_its_exhaust_and_a_camp_post_does_not():
    given = design()

    def told(kind):
        mains = Mains(supply=(MainsSupply(kind=kind),))
        return hazards(dataclasses.replace(given, job=dataclasses.replace(given.job, mains=mains)), english())

    assert GENERATOR in told("generator")
    assert GENERATOR not in told("site")


def test_a_trailer_has_no_engine_unless_something_is_fitted_there():
    given = design()
    trailer = dataclasses.replace(given, vehicle=dataclasses.replace(given.vehicle, has_alternator=False))
    assert ENGINE not in hazards(trailer, english())
    bay = Zone(id="bay", kind="engine", ambient_max_degc=90.0)
    engine = DesignZone(id="bay", kind="engine", ambient_max_degc=90.0, rise_k=0.0, written=bay)
    fitted = (dataclasses.replace(trailer.parts[0], zone=engine), *trailer.parts[1:])
    assert ENGINE in hazards(dataclasses.replace(trailer, parts=fitted), english())


@pytest.mark.parametrize(("mass_kg", "is_told"), [(23.0, False), (23.5, True)])
def test_what_is_heavier_than_one_person_lifts_is_told_once(mass_kg, is_told):
    given = design()
    parts = tuple(
        dataclasses.replace(each, id=f"p{number}", part=dataclasses.replace(each.part, mass_kg=mass_kg))
        for number, each in enumerate(given.parts * 2)
    )
    lifting = [
        text for text in hazards(dataclasses.replace(given, parts=parts), english()) if "each case" in text
    ]
    assert len(lifting) == int(is_told)
    assert not is_told or "and 1 more" in lifting[0]


def test_idling_is_said_whole_once_and_hinted_at_elsewhere():
    for word in ("carbon monoxide", "forbid idling", "dry", "alternator"):
        assert word in IDLING
    assert short_caution(IDLING, english()) == "Idling: see the cautions."
    assert short_caution("Hot.", english()) == "Hot."


def test_limits_name_code_and_licensed_people():
    text = " ".join(REPORT_LIMITS)
    assert "local code" in text
    assert "licensed people" in text
    assert "no certificate" in text

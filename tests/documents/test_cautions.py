import dataclasses

from answers import design

from ampwright.documents.cautions import (
    HEAVY,
    IDLING,
    LEAD_GAS,
    LIFT_KG,
    LITHIUM,
    MAINS,
    REPORT_LIMITS,
    STARTER,
    SUN,
    hazards,
)
from ampwright.parts.catalogue import shipped_catalogue


def with_parts(given, *ids):
    catalogue = shipped_catalogue()
    parts = tuple(dataclasses.replace(given.parts[0], part=catalogue.find(part_id)) for part_id in ids)
    return dataclasses.replace(given, parts=parts)


def test_hazards_follow_what_the_job_holds():
    first, *others = hazards(design())
    assert first == f"{MAINS} {design().region.licensed_words}"
    assert others == [LITHIUM, IDLING, STARTER, HEAVY.format(limit=LIFT_KG)]


def test_lead_acid_brings_gas_instead_of_lithium():
    told = hazards(with_parts(design(), "agm-100"))
    assert LEAD_GAS in told
    assert LITHIUM not in told
    assert not any(text.startswith(MAINS) for text in told)


def test_panels_are_live_in_light():
    panel = next(part.id for part in shipped_catalogue().parts.values() if part.kind == "panel")
    assert SUN in hazards(with_parts(design(), panel))


def test_ac_outlet_is_mains_and_dc_outlet_is_not():
    outlets = {part.supply: part.id for part in shipped_catalogue().parts.values() if part.kind == "outlet"}
    assert any(text.startswith(MAINS) for text in hazards(with_parts(design(), "lfp-100", outlets["ac"])))
    assert not any(text.startswith(MAINS) for text in hazards(with_parts(design(), "lfp-100", outlets["dc"])))


def test_no_engine_no_exhaust():
    given = design()
    still = dataclasses.replace(
        given, plans=tuple(dataclasses.replace(plan, periods=()) for plan in given.plans)
    )
    assert IDLING not in hazards(still)


def test_limits_name_code_and_licensed_people():
    text = " ".join(REPORT_LIMITS)
    assert "local code" in text
    assert "licensed people" in text
    assert "no certificate" in text
